# SPDX-License-Identifier: Apache-2.0
"""The table of hazards in docs/proof.md says where exactly the tests stand whose names carry each row."""

from __future__ import annotations

import ast
import re
from collections import Counter, defaultdict

from tests.node import REPOSITORY

TABLE = REPOSITORY / "docs" / "proof.md"
CANNOT = REPOSITORY / "docs" / "decisions" / "0021-hazards-that-cannot-occur.md"
GROUPS = {"A": 17, "B": 9, "C": 8, "D": 16, "E": 10}
ROWS = [f"{letter}{number}" for letter, last in GROUPS.items() for number in range(1, last + 1)]
CARRIED = re.compile(r"hazard((?:_[a-e]\d+)+)(?=[_ ])", re.IGNORECASE)


def rows_in(name: str) -> list[str]:
    """The rows that the name of a test begins with."""
    found = CARRIED.match(name)
    return [] if found is None else [row.upper() for row in found[1].split("_")[1:]]


def python_tests() -> dict[str, list[str]]:
    """By file, what is called test_hazard_..., without test_."""
    found: dict[str, list[str]] = defaultdict(list)
    for path in sorted((REPOSITORY / "tests").rglob("test_*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.FunctionDef) and node.name.startswith("test_hazard_"):
                found[str(path.relative_to(REPOSITORY / "tests"))].append(node.name.removeprefix("test_"))
    return found


def tablet_tests() -> dict[str, list[str]]:
    """By file, the titles that begin with hazard_: of tests, and of the cases that every store passes."""
    found: dict[str, list[str]] = defaultdict(list)
    for path in sorted((REPOSITORY / "tests" / "static").rglob("*.ts")):
        titles = re.findall(r"""(?:\bit|\btest|\)|>)\(\s*["'`](hazard_.+?)["'`],|^ +"(hazard_.+?)": async""",
                            path.read_text(encoding="utf-8"), re.MULTILINE)  # fmt: skip
        for title in titles:
            found[str(path.relative_to(REPOSITORY / "tests"))].append(title[0] or title[1])
    return found


def shown() -> dict[str, Counter[str]]:
    """By row, how many tests of each file carry it."""
    found: dict[str, Counter[str]] = defaultdict(Counter)
    for tests in (python_tests(), tablet_tests()):
        for file, names in tests.items():
            for name in names:
                for row in rows_in(name):
                    found[row][file] += 1
    return found


def table() -> dict[str, str]:
    """By row, how the table says that it is shown."""
    lines = re.findall(r"^\| ([A-E]\d+) \| [^|]+ \| ([^|]+) \|$", TABLE.read_text(encoding="utf-8"), re.MULTILINE)
    assert len(lines) == len(dict(lines))
    return dict(lines)


def cannot_occur() -> set[str]:
    """The rows that decision 21 gives a reason for."""
    return set(re.findall(r"^\| ([A-E]\d+) \| [^|]{40,} \|$", CANNOT.read_text(encoding="utf-8"), re.MULTILINE))


def test_the_table_has_every_row_in_order() -> None:
    assert list(table()) == ROWS


def test_every_name_that_says_hazard_carries_a_row_of_the_table() -> None:
    names = [name for tests in (python_tests(), tablet_tests()) for found in tests.values() for name in found]
    assert len(names) > len(ROWS)
    assert [name for name in names if not set(rows_in(name)) <= set(ROWS) or not rows_in(name)] == []


def test_each_row_names_the_files_and_the_number_of_exactly_the_tests_that_carry_it() -> None:
    by_tests = shown()
    said = {
        row: Counter({file: int(count or 1) for file, count in re.findall(r"`([a-z_/.0-9]+)`(?: (\d))?", how)})
        for row, how in table().items()
    }
    assert said == {row: by_tests.get(row, Counter()) for row in ROWS}


def test_a_row_without_a_test_cannot_occur_and_decision_21_says_why() -> None:
    assert {row for row, how in table().items() if "0021" in how} == cannot_occur()
    assert set(ROWS) - set(shown()) <= cannot_occur()
