# SPDX-License-Identifier: Apache-2.0
"""The append-only log: records are added and read, never changed. What cannot be added is set aside."""
