# SPDX-License-Identifier: Apache-2.0
"""What an import has to say: where in which file something cannot be taken and why, and what it took as given."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from tallywright.definitions.names import plain

WHOLE_ROW, WHOLE_FILE = "whole row", "whole file"
Lists = Literal["operations", "zones", "defects"]


@dataclass(frozen=True, slots=True)
class Place:
    """A cell: file, row as an editor numbers its lines, and the column by the name at its head."""

    file: str
    row: int
    column: str

    def __str__(self) -> str:
        return f"{self.file}:{self.row}:{self.column}"


@dataclass(frozen=True, slots=True)
class Finding:
    """One reason, in a sentence, at one place."""

    place: Place
    reason: str

    def __str__(self) -> str:
        return plain(f"{self.place}: {self.reason}")


@dataclass
class Report:
    """Everything an import found.

    findings  why nothing may be written; each stands once
    notes     what the import took for granted, for the team to see
    unsure    lists of which a row could not be read: what names a row of theirs cannot be judged
    """

    findings: list[Finding] = field(default_factory=list)
    notes: list[Finding] = field(default_factory=list)
    unsure: set[Lists] = field(default_factory=set)

    def refuse(self, place: Place, reason: str, unsure: Lists | None = None) -> None:
        """Add a finding, once; `unsure` names the list that lacks a row now."""
        finding = Finding(place, reason)
        if finding not in self.findings:
            self.findings.append(finding)
        if unsure is not None:
            self.unsure.add(unsure)

    def note(self, place: Place, reason: str) -> None:
        """Add a note, once."""
        note = Finding(place, reason)
        if note not in self.notes:
            self.notes.append(note)
