# SPDX-License-Identifier: Apache-2.0
"""Definitions from files: all of them or nothing, and every cell that cannot be taken by its place."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Any

import pytest
from msgspec import UNSET

from tallywright.config import packed_folder
from tallywright.db import reading, writing
from tallywright.definitions.imported import read_definitions
from tallywright.definitions.published import newest_publications, parts
from tallywright.log.read import every_line
from tallywright.projections.publish import publish_parts
from tallywright.projections.rebuild import rows
from tests.actors import Works
from tests.server.definitions.importing import findings, only, read, word

DEMO = packed_folder("demo_seed") / "definitions"
SMALL = {
    "operations.csv": "op_no,operation,order_kept\n40,Forge,LOST\n120,First look,yes\n",
    "zones.csv": "product,zone\nBR-1,inner bow\nBR-1,flank\n",
    "defects.csv": "defect,plain_words,born_at_op,seen_by_eye,start_class\nlap,A fold.,40,yes,critical\n",
    "class_by_zone.csv": "defect,inner bow,flank\nlap,critical,major\n",
    "limits.csv": "product,look,class,allowed_per_thousand\nBR-1,first look,major,40\n",
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder of small files that import without a finding."""
    for name, text in SMALL.items():
        (tmp_path / name).write_text(text)
    return tmp_path


def change(folder: Path, name: str, old: str, new: str) -> None:
    text = (folder / name).read_text()
    assert old in text
    (folder / name).write_text(text.replace(old, new, 1))


def test_the_demo_works_takes_its_files_and_its_tablets_are_judged_by_them(works: Works) -> None:
    found, report = read_definitions(DEMO, None, None, live=False)
    assert report.findings == []
    with writing(works.engine) as connection:
        (definition, is_new), = publish_parts(connection, works.own, found)  # fmt: skip
    assert is_new
    with reading(works.engine) as connection:
        assert parts(connection, [definition])[definition] == found[0]
    tablet = works.tablet()
    tablet.batch = {**tablet.batch, "definition": definition}
    tablet.open_tray()
    tablet.find("trim_nick", zone="inner_bow")
    tablet.find("trim_nick", zone="flank")
    tablet.push()
    assert [find["weight"] for find in works.rows("finds")] == ["critical", "major"]


def test_the_demo_files_hold_what_they_say() -> None:
    part = only(DEMO, revision=None)
    assert (part.part, part.revision, part.looks, part.load_bearing, part.demo) == (
        "SK-70", "C", ["first", "second"], True, True,
    )  # fmt: skip
    assert part.operations is not UNSET
    assert [entry.operation for entry in part.operations if entry.order == "lost"][:3] == [40, 50, 60]
    assert len(part.defects) == 78
    assert word(part, "slow_quench").key == {}
    lap = word(part, "lap")
    assert (lap.born_at, lap.first_seen_at, lap.also_seen_at) == (40, 120, [40, 50, 150])
    assert (lap.look_alike, lap.also_look_alikes) == ("handling_scratch", ["bar_seam"])
    assert part.zones is not UNSET
    assert {zone.zone: zone.covered_after for zone in part.zones if zone.covered_after is not UNSET} == {
        "pivot_ear": 130, "plunger_boss": 130, "mark_field": 126,
    }  # fmt: skip
    assert part.limits is not UNSET
    assert len(part.limits) == 6


def test_a_cell_that_says_no_is_no_instruction_for_rework() -> None:
    part = only(DEMO, revision=None)
    assert word(part, "staining").rework == "wipe, else strip"
    assert (word(part, "lap").rework, word(part, "overheating").rework) == (UNSET, UNSET)


def test_every_key_of_the_demo_files_is_there_in_both_languages() -> None:
    part = only(DEMO, revision=None)
    assert all(set(entry.key) == {"en", "de"} for entry in part.defects if entry.seen_by_eye != "no")


def test_a_batch_keeps_the_version_it_began_with(works: Works) -> None:
    tablet = works.tablet()
    tablet.open_tray()
    tablet.find("handling_dent", zone="flank")
    tablet.push()
    with writing(works.engine) as connection:
        before = rows(connection)
        old = only(DEMO, revision=None)
        worse = {"defect": "handling_dent", "defect_class": "critical", "by_zone": UNSET}
        new = [_replaced(one, **worse) if one.defect == "handling_dent" else one for one in old.defects]
        publish_parts(connection, works.own, [_replaced(old, defects=new)])
    tablet.find("handling_dent", zone="flank")
    tablet.push()
    with reading(works.engine) as connection:
        after = rows(connection)
    assert after["batches"] == before["batches"]
    assert [find["weight"] for find in works.rows("finds")] == ["minor", "minor"]


def _replaced(value: Any, **members: Any) -> Any:
    import msgspec

    return msgspec.structs.replace(value, **members)


def test_the_same_files_imported_again_write_nothing(works: Works) -> None:
    found = [only(DEMO, revision=None)]
    with writing(works.engine) as connection:
        first = publish_parts(connection, works.own, found)
        before = list(every_line(connection))
        again = publish_parts(connection, works.own, found)
        assert [(again[0][0], again[0][1])] == [(first[0][0], False)]
        assert list(every_line(connection)) == before
        assert newest_publications(connection)["SK-70", "C"][0] == first[0][0]


def test_one_record_a_part(sqlite_works: Works, folder: Path) -> None:
    (folder / "part.csv").write_text("product,revision\nBR-1,A\nBR-2,B\n")
    found, report = read(folder, revision=None)
    assert report.findings == []
    assert [(one.part, one.revision) for one in found] == [("BR-1", "A"), ("BR-2", "B")]
    assert found[1].zones is UNSET
    assert found[1].defects[0].by_zone is UNSET
    with writing(sqlite_works.engine) as connection:
        before = len(list(every_line(connection)))
        published = publish_parts(connection, sqlite_works.own, found)
        assert len(list(every_line(connection))) == before + 2
        assert len({definition for definition, _ in published}) == 2


def test_one_part_of_several_can_be_chosen(folder: Path) -> None:
    (folder / "part.csv").write_text("product,revision\nBR-1,A\nBR-2,B\n")
    assert only(folder, part="BR-2", revision=None).revision == "B"


def test_semicolons_and_the_mark_of_utf_8_are_taken(folder: Path) -> None:
    before = only(folder)
    for name, text in SMALL.items():
        (folder / name).write_bytes(b"\xef\xbb\xbf" + text.replace(",", ";").replace("\n", "\r\n").encode())
    assert only(folder) == before


def test_a_part_without_a_word_on_its_load_is_load_bearing(folder: Path) -> None:
    assert only(folder).load_bearing is True


@pytest.mark.parametrize("bears", ["yes", ""])
def test_a_load_bearing_part_refuses_fewer_than_two_looks(folder: Path, bears: str) -> None:
    (folder / "part.csv").write_text(f"product,looks,load_bearing\nBR-1,first,{bears}\n")
    (found,) = findings(folder)
    assert found.startswith("part.csv:2:looks: A load-bearing part is looked at 2 times in full, or more")


def test_a_part_that_bears_no_load_may_have_one_look(folder: Path) -> None:
    (folder / "part.csv").write_text("product,looks,load_bearing\nBR-1,first,no\n")
    assert only(folder).looks == ["first"]


def test_a_word_without_a_class_is_critical_and_that_is_said(folder: Path) -> None:
    change(folder, "defects.csv", "yes,critical", "yes,")
    (folder / "class_by_zone.csv").unlink()
    found, report = read(folder)
    assert found[0].defects[0].defect_class is UNSET
    assert "defects.csv:2:start_class: 'lap' has no class, so it is critical." in map(str, report.notes)


SPOILED = [
    ("operations.csv", "40,Forge", "forty,Forge", "operations.csv:2:op_no: 'forty' is no whole number"),
    ("operations.csv", "LOST", "perhaps", "operations.csv:2:order_kept: 'perhaps' does not say"),
    ("operations.csv", "120,First", "40,First", "operations.csv:2:op_no: The operation '40' is in the list more"),
    ("operations.csv", "order_kept", "order", "operations.csv:1:order: 'order' is no column of this file."),
    ("zones.csv", "flank", "inner  bow", "zones.csv:3:zone: The zone 'inner_bow' is in the list more than once."),
    ("zones.csv", "inner bow", "内側", "zones.csv:2:zone: '内側' gives no id"),
    ("defects.csv", ",40,", ",41,", "defects.csv:2:born_at_op: Operation 41 is not in the route of this part."),
    (
        "defects.csv",
        "critical",
        "grave",
        "defects.csv:2:start_class: 'grave' is no class. Write critical, major or",
    ),
    ("defects.csv", "yes", "perhaps", "defects.csv:2:seen_by_eye: 'perhaps' is no answer."),
    ("defects.csv", "A fold.", "A \x07fold.", "defects.csv:2:plain_words: The cell holds a letter that cannot be"),
    (
        "defects.csv",
        "A fold.",
        "long" * 51,
        "defects.csv:2:plain_words: The text has 204 letters; 200 is the most.",
    ),
    ("defects.csv", "A fold.", '"A fold.', "defects.csv:2:whole row: The row cannot be taken apart"),
    ("defects.csv", "A fold.", "A, fold.", "defects.csv:2:6: The row has 6 cells and the first row 5."),
    ("defects.csv", "defect,", ",", "defects.csv:1:1: The column has no name."),
    ("class_by_zone.csv", "flank", "flan", "class_by_zone.csv:1:flan: 'flan' is no zone of zones.csv."),
    ("class_by_zone.csv", "lap", "lop", "class_by_zone.csv:2:defect: 'lop' is no word of defects.csv."),
    ("class_by_zone.csv", "major", "1", "class_by_zone.csv:2:flank: '1' is no class."),
    ("limits.csv", "first look", "third look", "limits.csv:2:look: 'third' is no look of this part"),
    ("limits.csv", "40", "4,0", "limits.csv:2:5: The row has 5 cells and the first row 4."),
    ("limits.csv", "40", "4.5", "limits.csv:2:allowed_per_thousand: '4.5' is no whole number from 0 to 1000."),
    ("limits.csv", "BR-1", "BR-9", "limits.csv:2:product: 'BR-9' is a second part beside 'BR-1'."),
]


@pytest.mark.parametrize(("name", "old", "new", "sentence"), SPOILED)
def test_what_cannot_be_taken_is_named_by_file_row_column_and_reason(
    folder: Path, name: str, old: str, new: str, sentence: str
) -> None:
    change(folder, name, old, new)
    assert [found for found in findings(folder) if found.startswith(sentence)], findings(folder)


def test_a_row_that_cannot_be_read_is_not_missed_by_every_other_file(folder: Path) -> None:
    change(folder, "operations.csv", "40,Forge", "forty,Forge")
    assert len(findings(folder)) == 1


def test_every_bad_line_is_named_not_the_first_alone(folder: Path) -> None:
    change(folder, "limits.csv", "40", "many")
    change(folder, "defects.csv", "critical", "grave")
    change(folder, "zones.csv", "flank", "!")
    assert [found.split(":")[0] for found in findings(folder)] == ["defects.csv", "limits.csv", "zones.csv"]


def test_two_words_of_one_id_are_each_named_with_the_other(folder: Path) -> None:
    change(folder, "defects.csv", "lap,", "Lap!,A fold.,40,yes,minor\nlap,")
    named = findings(folder)
    assert [
        found for found in named if found.startswith("defects.csv:2:defect: ") and "'lap', which row 3" in found
    ]
    assert [
        found for found in named if found.startswith("defects.csv:3:defect: ") and "'lap', which row 2" in found
    ]


def test_the_import_never_names_a_line_end_of_its_own_making(folder: Path) -> None:
    change(folder, "defects.csv", "lap,A fold.", 'lap,"A\nfold."')
    change(folder, "defects.csv", "yes,critical", "yes,critical\nburn,Dark.,40,yes,grave")
    assert findings(folder) == ["defects.csv:4:start_class: 'grave' is no class. Write critical, major or minor."]


def test_a_text_that_is_not_utf_8_is_named_by_its_row(folder: Path) -> None:
    (folder / "defects.csv").write_bytes(SMALL["defects.csv"].encode() + "Riß,A,40,yes,minor\n".encode("latin-1"))
    assert "defects.csv:3:whole row: The row is not UTF-8. Save the file as UTF-8." in findings(folder)


@pytest.mark.parametrize("name", ["operations.csv", "defects.csv"])
def test_a_missing_file_is_named(folder: Path, name: str) -> None:
    (folder / name).unlink()
    assert f"{name}:1:whole file: The file is missing from the folder." in findings(folder)


@pytest.mark.parametrize("name", ["defects.csv", "operations.csv"])
def test_an_empty_file_is_named(folder: Path, name: str) -> None:
    (folder / name).write_text("")
    assert [found for found in findings(folder) if found.startswith(f"{name}:1:whole file: The file is empty")]


def test_a_part_without_a_revision_is_refused(folder: Path) -> None:
    assert findings(folder, revision=None) == [
        "part.csv:1:revision: The part 'BR-1' has no revision. Name it with --revision, or in part.csv."
    ]


def test_a_part_nobody_names_is_refused_and_may_be_named(folder: Path) -> None:
    for name in ("zones.csv", "limits.csv", "class_by_zone.csv"):
        (folder / name).unlink()
    assert findings(folder)[0].startswith("part.csv:1:product: No file names a part.")
    assert only(folder, part="BR-7").part == "BR-7"


MARKS = [
    ("DEMO", ""),
    ("limits.csv", SMALL["limits.csv"].replace("\n", ",note\n", 1).replace("40\n", "40,demo: x\n")),
]


@pytest.mark.parametrize(("name", "text"), MARKS)
def test_a_live_works_refuses_what_is_marked_as_demo(folder: Path, name: str, text: str) -> None:
    (folder / name).write_text(text)
    (found,) = findings(folder, live=True)
    assert found.startswith(name)
    assert "a live works takes its own" in found


@pytest.mark.parametrize(("name", "text"), MARKS)
def test_a_demo_works_takes_it_and_keeps_the_mark(folder: Path, name: str, text: str) -> None:
    (folder / name).write_text(text)
    assert only(folder).demo is True


def test_what_is_not_marked_has_no_mark_and_a_live_works_takes_it(folder: Path) -> None:
    assert only(folder, live=True).demo is UNSET


def test_a_characteristic_that_cannot_be_taken_is_named_cell_by_cell(folder: Path) -> None:
    head = "op_no,seq,characteristic,kind,class,lower,upper,reaction\n"
    (folder / "characteristics.csv").write_text(head + '40,1,Height,V,major,3,"2,5",R1\n41,2,Fill,X,major,,,stop\n')
    assert [found.split(": ")[0] for found in findings(folder)] == [
        "characteristics.csv:2:upper",
        "characteristics.csv:3:kind",
        "characteristics.csv:3:reaction",
    ]


def test_a_check_keeps_to_the_route_and_its_limits(folder: Path) -> None:
    head = "op_no,seq,characteristic,kind,class,lower,upper\n"
    rows = "40,1,Height,V,major,13.60,12.90\n41,2,Fill,A,major,,\n40,3,Mass,V,minor,,\n"
    (folder / "characteristics.csv").write_text(head + rows)
    found = findings(folder)
    assert {"characteristics.csv:2:lower", "characteristics.csv:3:op_no", "characteristics.csv:4:kind"} <= {
        line.split(": ")[0] for line in found
    }


def test_what_a_file_holds_never_steers_the_terminal(folder: Path) -> None:
    change(folder, "defects.csv", "start_class", "\x1b[2Jstart_class")
    assert "\x1b" not in "".join(findings(folder))


def copy_of_demo(folder: Path) -> Path:
    shutil.copytree(DEMO, folder / "demo")
    return folder / "demo"


def test_a_word_no_eye_can_find_gets_no_key(tmp_path: Path) -> None:
    demo = copy_of_demo(tmp_path)
    change(demo, "defects.csv", "thin film,,", "thin film,Thin film,")
    assert [found for found in findings(demo) if "No eye can find 'thin_film'" in found]
