# SPDX-License-Identifier: Apache-2.0
"""The docs are held to the code: road, kinds, routes, codes, settings, commands, words, decisions."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields
from pathlib import Path

import click
import pytest

from tallywright import errors
from tallywright.cli.main import tallywright
from tallywright.config import PREFIX, Config
from tallywright.db import metadata, projected
from tallywright.records.envelope import Envelope
from tallywright.records.kinds import KINDS
from tests.actors import Works

REPOSITORY = Path(__file__).parents[1]
DOCS = REPOSITORY / "docs"


def page(name: str) -> str:
    return (DOCS / name).read_text(encoding="utf-8")


def road() -> list[tuple[str, str, str]]:
    rows = re.findall(r"^\| ((?:static|server)/\S+) \| (\S+) \| (\w+) \|", page("road_of_a_record.md"), re.M)
    return [(start, end, by) for start, end, by in rows]


def imports(path: Path) -> set[Path]:
    """The files of this repository that a source file imports."""
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".py":
        modules = re.findall(r"^\s*from (tallywright[\w.]*) import", text, re.M)
        return {REPOSITORY / "server" / (module.replace(".", "/") + ".py") for module in modules}
    found = set()
    for target in re.findall(r'from "(\.[^"]+)\.js"', text):
        base = (path.parent / target).resolve()
        found |= {base.with_name(base.name + suffix) for suffix in (".ts", ".tsx")}
    return found


def test_the_road_has_its_stops() -> None:
    assert len(road()) > 20


@pytest.mark.parametrize(("start", "end", "by"), road())
def test_a_step_of_the_road_is_a_step_in_the_code(start: str, end: str, by: str) -> None:
    assert (REPOSITORY / start).is_file()
    assert (REPOSITORY / end).is_file()
    assert by in ("import", "message", "request")
    if by == "import":
        assert (REPOSITORY / end).resolve() in imports(REPOSITORY / start)
    if by == "message":
        name = Path(end).stem
        assert re.search(rf"new URL\(\s*\"[^\"]*{name}\.\w+\"", (REPOSITORY / start).read_text())


@pytest.mark.parametrize(("kind", "version"), KINDS)
def test_every_kind_is_described(kind: str, version: int) -> None:
    assert f"| `{kind}` | {version} |" in page("records.md")


def test_every_member_of_the_envelope_is_described() -> None:
    from msgspec import structs

    for member in structs.fields(Envelope):
        assert f"`{member.name}`" in page("records.md") or member.name == "body"


def test_every_error_is_described() -> None:
    def leaves(error: type[errors.TallywrightError]) -> list[type[errors.TallywrightError]]:
        children = error.__subclasses__()
        return [leaf for child in children for leaf in leaves(child)] if children else [error]

    for error in leaves(errors.TallywrightError):
        assert f"`{error.code}`" in page("errors.md"), error


def test_every_setting_is_described() -> None:
    described = page("operations.md")
    for field in fields(Config):
        assert f"`{PREFIX}{field.name.upper()}`" in described


def words_of_commands(group: click.Group, before: str = "") -> Iterator[tuple[str, str]]:
    """Every command by the words that call it, with each of its options and arguments as the docs write them."""
    for name, command in group.commands.items():
        if isinstance(command, click.Group):
            yield from words_of_commands(command, f"{before}{name} ")
            continue
        yield before + name, name
        for word in command.params:
            yield before + name, word.opts[0] if isinstance(word, click.Option) else str(word.name).upper()


def test_every_command_and_option_is_described() -> None:
    described = page("operations.md")
    assert ("definitions import", "FOLDER") in {(name, word) for name, word in words_of_commands(tallywright)}
    for name, word in words_of_commands(tallywright):
        row = next(line for line in described.splitlines() if line.startswith(f"| `tallywright {name}"))
        assert word in row, (name, word)


def test_every_route_of_the_api_is_described(sqlite_works: Works) -> None:
    described = page("sync.md")
    routes = {rule.rule for rule in sqlite_works.app.url_map.iter_rules() if rule.rule.startswith("/api/")}
    assert len(routes) > 8
    assert [route for route in routes if route not in described] == []


def test_every_table_is_named_where_a_server_is_kept() -> None:
    described = page("operations.md")
    for table in (*metadata.tables, *projected.tables):
        assert f"`{table}`" in described


WORDS = re.findall(r"^\| ([^|]+?) \| ", (DOCS / "words.md").read_text(encoding="utf-8"), re.M)[2:]


def test_every_word_of_the_list_is_used_in_the_code() -> None:
    sources = [*REPOSITORY.glob("server/tallywright/**/*.py"), *REPOSITORY.glob("static/src/**/*.ts*")]
    code = "\n".join(path.read_text(encoding="utf-8") for path in sources).lower().replace("_", " ")
    for entry in WORDS:
        for word in re.sub(r"\(.*?\)", "", entry).split(", "):
            assert word.strip().lower() in code, word


def test_every_part_of_the_measurement_has_its_row() -> None:
    from tests.speed.parts import PARTS

    described = page("proof.md").partition("## Speed")[2]
    assert [name for name in PARTS if f"`{name}`" not in described] == []


def test_no_file_has_a_name_that_says_nothing() -> None:
    names = {"models", "views", "utils", "helpers", "index", "common", "misc"}
    sources = [*REPOSITORY.glob("server/**/*.py"), *REPOSITORY.glob("static/src/**/*.ts*")]
    assert [path for path in sources if path.stem in names] == []


@pytest.mark.parametrize("folder", ["decisions"])
def test_every_decision_says_context_choice_costs_and_what_would_change_it(folder: str) -> None:
    pages = sorted((DOCS / folder).glob("*.md"))
    assert pages
    for path in pages:
        text = path.read_text(encoding="utf-8")
        for part in ("**Context.**", "**Choice.**", "**Costs.**", "**Would change it.**"):
            assert part in text, path
