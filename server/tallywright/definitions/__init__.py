# SPDX-License-Identifier: Apache-2.0
"""What people judge by, read from the log by version: parts with their defect lists, shifts, people, devices."""
