# SPDX-License-Identifier: Apache-2.0
"""Tallywright: checks, tallies, two full looks and a provable record for batches of metal parts."""
