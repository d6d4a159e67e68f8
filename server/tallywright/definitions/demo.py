# SPDX-License-Identifier: Apache-2.0
"""What is invented says so, and a live works does not take it."""

from __future__ import annotations

DEMO_FILE = "DEMO"
DEMO_REFUSED = (
    "This is marked as demo. Invented classes, limits and rework notes are advice for nobody: "
    "a live works takes its own."
)
