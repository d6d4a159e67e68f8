# SPDX-License-Identifier: Apache-2.0
"""Answers for the lead, from projected rows: the same for screen, paper and file."""
