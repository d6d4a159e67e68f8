# SPDX-License-Identifier: Apache-2.0
"""Read one CSV file into rows that know where they stand: comma or semicolon, UTF-8 with or without its mark."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from tallywright.definitions.names import is_plain
from tallywright.definitions.report import WHOLE_FILE, WHOLE_ROW, Lists, Place, Report

LARGEST_FILE = 8 * 1024 * 1024
LARGEST_NUMBER = 999_999
LONGEST_LABEL = 200
LANGUAGE = re.compile(r"^(?P<column>[a-z_]+)_(?P<language>[a-z]{2,3})$")
UNMARKED_LANGUAGE = "en"


@dataclass(frozen=True)
class Form:
    """The columns of one file.

    needed      must be there
    optional    may be there, read or not
    translated  may come once a language: `key` and `key_de`; without a language it is English
    open        other columns are names of the team's own, as zones are
    """

    needed: tuple[str, ...]
    optional: tuple[str, ...] = ()
    translated: tuple[str, ...] = ()
    open: bool = False

    def knows(self, column: str) -> bool:
        """True for a column this form has, in any language."""
        if column in (*self.needed, *self.optional, *self.translated):
            return True
        found = LANGUAGE.match(column)
        return found is not None and found["column"] in self.translated


@dataclass(frozen=True)
class Row:
    """One row: its cells by the names of their columns. A cell of a column that is not there is ''."""

    file: str
    number: int
    cells: dict[str, str]

    def place(self, column: str) -> Place:
        """Where a cell of this row stands."""
        return Place(self.file, self.number, column)

    def text(self, column: str) -> str:
        """The text of a cell."""
        return self.cells.get(column, "")

    @property
    def is_demo(self) -> bool:
        """True where the row's note says that what it holds is invented."""
        return re.search(r"\bdemo\b", self.text("note"), re.IGNORECASE) is not None

    def label(self, column: str, report: Report, unsure: Lists | None = None) -> str:
        """A text no longer than a record takes; a longer one is refused and ''."""
        text = self.text(column)
        if len(text) <= LONGEST_LABEL:
            return text
        report.refuse(
            self.place(column), f"The text has {len(text)} letters; {LONGEST_LABEL} is the most.", unsure=unsure
        )
        return ""

    def needed(self, column: str, report: Report, unsure: Lists | None = None) -> str:
        """A text that must be there."""
        if not self.text(column):
            report.refuse(self.place(column), "The cell is empty and must not be.", unsure)
        return self.label(column, report, unsure)

    def number_in(self, column: str, report: Report, unsure: Lists | None = None) -> int | None:
        """A whole number from 1, or None for an empty cell or one that is none, which is refused."""
        text = self.text(column)
        return number_of(text, self.place(column), report, unsure) if text else None

    def numbers_in(self, column: str, report: Report) -> list[int]:
        """Whole numbers between commas; 'any' and '-' name none in particular."""
        if self.text(column) in ("any", "-", ""):
            return []
        texts = [text.strip() for text in re.split(r"[,;]", self.text(column))]
        found = [number_of(text, self.place(column), report) for text in texts]
        return [number for number in found if number is not None]

    def choice(self, column: str, of: Sequence[str], what: str, report: Report) -> str:
        """One of some words in lower case, or '' for an empty cell or another word, which is refused."""
        text = self.text(column).lower()
        if text and text not in of:
            words = f"{', '.join(of[:-1])} or {of[-1]}"
            report.refuse(self.place(column), f"'{shown(self.text(column))}' is no {what}. Write {words}.")
            return ""
        return text

    def translations(self, column: str, report: Report) -> tuple[dict[str, str], dict[str, str]]:
        """The texts of a column by language, and the columns they come from by language."""
        texts: dict[str, str] = {}
        columns: dict[str, str] = {}
        for name in self.cells:
            found = LANGUAGE.match(name)
            if name == column:
                language = UNMARKED_LANGUAGE
            elif found is not None and found["column"] == column:
                language = found["language"]
            else:
                continue
            text = self.label(name, report)
            if text and language in texts and texts[language] != text:
                report.refuse(
                    self.place(name), f"The column '{columns[language]}' gives another text in this language."
                )
            if text:
                texts[language], columns[language] = text, name
        return texts, columns


def number_of(text: str, place: Place, report: Report, unsure: Lists | None = None) -> int | None:
    """Read a whole number from 1; another text is refused."""
    if re.fullmatch(r"[0-9]{1,6}", text) and int(text) > 0:
        return int(text)
    reason = f"'{shown(text)}' is no whole number from 1 to {LARGEST_NUMBER}."
    report.refuse(place, reason, unsure)
    return None


def shown(text: str) -> str:
    """A cell's text as a sentence may quote it: on one line and not at length."""
    return text if len(text) <= 40 else text[:39] + "…"


def read_csv(path: Path, form: Form, report: Report) -> list[Row]:
    """Return the rows of a file that have the form of its head; what cannot be taken is in the report."""
    text = _text(path, report)
    if text is None:
        return []
    table = _table(path.name, text, _delimiter(text, form), report)
    if not table:
        report.refuse(Place(path.name, 1, WHOLE_FILE), "The file is empty; its first row names the columns.")
        return []
    head = [name if form.open and not form.knows(name.lower()) else name.lower() for name in table[0][1]]
    if not _check_head(path.name, head, form, report):
        return []
    rows = []
    for number, cells in table[1:]:
        row = _row(path.name, number, head, cells, report)
        if row is not None:
            rows.append(row)
    return rows


def _text(path: Path, report: Report) -> str | None:
    try:
        if path.stat().st_size > LARGEST_FILE:
            report.refuse(Place(path.name, 1, WHOLE_FILE), f"The file is larger than {LARGEST_FILE} bytes.")
            return None
        content = path.read_bytes()
    except OSError as problem:
        report.refuse(Place(path.name, 1, WHOLE_FILE), f"The file cannot be read: {problem.strerror}.")
        return None
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        row = content[: problem.start].count(b"\n") + 1
        report.refuse(Place(path.name, row, WHOLE_ROW), "The row is not UTF-8. Save the file as UTF-8.")
        return None


def _delimiter(text: str, form: Form) -> str:
    """The one under which more of the first row are columns of the form."""
    first = text.splitlines()[0] if text else ""

    def known(delimiter: str) -> int:
        names = [name.strip().strip('"').lower() for name in first.split(delimiter)]
        return sum(form.knows(name) for name in names)

    return ";" if known(";") > known(",") else ","


def _table(file: str, text: str, delimiter: str, report: Report) -> list[tuple[int, list[str]]]:
    """Numbered rows of cells, blank rows left out; a row is numbered by the line it begins on."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    table: list[tuple[int, list[str]]] = []
    while True:
        number = reader.line_num + 1
        try:
            cells = [" ".join(cell.split()) for cell in next(reader)]
        except StopIteration:
            return table
        except csv.Error as problem:
            report.refuse(Place(file, number, WHOLE_ROW), f"The row cannot be taken apart: {problem}.")
            report.unsure |= {"operations", "zones", "defects"}
            return table
        if any(cells):
            table.append((number, cells))


def _check_head(file: str, head: list[str], form: Form, report: Report) -> bool:
    """Refuse a head with a column that is missing, there twice, without a name or not known."""
    before = len(report.findings)
    for place, name in enumerate(head):
        where = Place(file, 1, name or str(place + 1))
        if not name:
            report.refuse(where, "The column has no name.")
        elif not is_plain(name):
            report.refuse(where, "The name of the column holds a letter that cannot be shown.")
        elif name in head[:place]:
            report.refuse(where, f"The column '{shown(name)}' is there twice.")
        elif not form.open and not form.knows(name):
            known = ", ".join(dict.fromkeys((*form.needed, *form.optional, *form.translated)))
            report.refuse(where, f"'{shown(name)}' is no column of this file. Its columns are: {known}.")
    for name in form.needed:
        if name not in head:
            report.refuse(Place(file, 1, name), f"The column '{name}' is missing.")
    if len(report.findings) > before:
        report.unsure |= {"operations", "zones", "defects"}
        return False
    return True


def _row(file: str, number: int, head: list[str], cells: list[str], report: Report) -> Row | None:
    surplus = [place for place, cell in enumerate(cells) if place >= len(head) and cell]
    if len(cells) < len(head) or surplus:
        column = head[len(cells)] if len(cells) < len(head) else str(surplus[0] + 1)
        reason = f"The row has {len(cells)} cells and the first row {len(head)}. Look for a missing quotation mark."
        report.refuse(Place(file, number, column), reason)
        report.unsure |= {"operations", "zones", "defects"}
        return None
    for name, cell in zip(head, cells, strict=False):
        if not is_plain(cell):
            report.refuse(Place(file, number, name), "The cell holds a letter that cannot be shown.")
            report.unsure |= {"operations", "zones", "defects"}
            return None
    return Row(file, number, dict(zip(head, cells, strict=False)))
