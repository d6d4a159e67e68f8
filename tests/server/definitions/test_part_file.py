# SPDX-License-Identifier: Apache-2.0
"""A part definition as one JSON file: taken as it is, or refused at the member that cannot be taken."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from tallywright.config import packed_folder
from tests.server.definitions.importing import findings, only


def part_json() -> dict[str, Any]:
    seed: dict[str, Any] = json.loads((packed_folder("demo_seed") / "works.json").read_text())["parts"][0]
    return seed


def test_a_json_file_in_the_shape_of_a_part_is_taken(tmp_path: Path) -> None:
    (tmp_path / "part.json").write_text(json.dumps(part_json()))
    part = only(tmp_path / "part.json", revision="D")
    assert (part.part, part.revision, len(part.defects)) == ("SK-70", "D", 12)


def spoil_json(path: Path, *at: str | int, value: Any) -> Path:
    content = part_json()
    inside: Any = content
    for step in at[:-1]:
        inside = inside[step]
    inside[at[-1]] = value
    (path / "part.json").write_text(json.dumps(content))
    return path / "part.json"


JSON_SPOILED: list[tuple[tuple[str | int, ...], Any, str]] = [
    (("tray_places",), "many", "part.json:1:tray_places: The value has not its form"),
    (("looks",), ["first"], "part.json:1:looks: A load-bearing part is looked at 2 times"),
    (("colour",), "red", "part.json:1:colour: A part definition has no such member."),
    (("demo",), None, "part.json:1:demo: The value has not its form"),
    (("subject",), "shifts", "part.json:1:subject: The subject of a part definition is 'part'."),
    (("defects", 2, "class"), "grave", "part.json:3:defects.class: The value has not its form"),
    (("defects", 1, "key", "en"), "Far too many words", "part.json:2:defects.key.en: The key word 'Far too many"),
    (("defects", 1, "key", "en"), "a\u0000b", "part.json:2:defects.key.en: The text holds a letter that cannot be"),
    (("defects", 0, "defect"), "blister", "part.json:1:defects.defect: The defect word 'blister' is in the list"),
    (("defects", 0, "look_alike"), "nothing", "part.json:1:defects.look_alike: 'nothing' is no word of this list."),
    (("zones",), [], "part.json:10:defects.by_zone.zone: 'inner_bow' is no zone of this part."),
]


@pytest.mark.parametrize(("at", "value", "sentence"), JSON_SPOILED)
def test_a_member_that_cannot_be_taken_is_named(
    tmp_path: Path, at: tuple[str | int, ...], value: Any, sentence: str
) -> None:
    named = findings(spoil_json(tmp_path, *at, value=value))
    assert [found for found in named if found.startswith(sentence)], named


@pytest.mark.parametrize("text", ["", "{", "[]", "7", '{"a":1}', "\xff", "[" * 5_000, '{"part":"\ud800"}'])
def test_what_is_no_part_definition_is_refused_in_a_sentence(tmp_path: Path, text: str) -> None:
    (tmp_path / "part.json").write_bytes(text.encode("latin-1" if text == "\xff" else "utf-8", "surrogatepass"))
    assert findings(tmp_path / "part.json")


def test_a_json_file_marked_as_demo_is_refused_by_a_live_works(tmp_path: Path) -> None:
    path = spoil_json(tmp_path, "demo", value=True)
    assert findings(path, live=True)[0].startswith("part.json:1:demo: This is marked as demo.")
    assert only(path).demo is True
