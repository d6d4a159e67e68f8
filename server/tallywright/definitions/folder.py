# SPDX-License-Identifier: Apache-2.0
"""Read a folder of CSV files into part definitions, or say of every cell that cannot be taken why not."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import msgspec
from msgspec import UNSET

from tallywright.definitions.characteristics import CHARACTERISTICS, characteristics
from tallywright.definitions.csv_file import Form, Row, read_csv, shown
from tallywright.definitions.demo import is_demo, refuse_demo
from tallywright.definitions.gauges import GAUGES_FILE
from tallywright.definitions.materials import MATERIALS_FILE
from tallywright.definitions.names import id_of
from tallywright.definitions.report import WHOLE_FILE, Place, Report
from tallywright.definitions.rows import (
    CLASS_BY_ZONE,
    DEFECTS,
    LIMITS,
    OPERATIONS,
    ZONES,
    ByZone,
    Entry,
    classes_by_zone,
    defects,
    limits,
    look_of,
    operations,
    zones,
)
from tallywright.definitions.rules import breaches
from tallywright.definitions.shifts import SHIFTS_FILE
from tallywright.records.definition import Characteristic, DefectWord, Limit, Operation, PartDefinition, Zone

PART = Form(
    needed=("product",), optional=("revision", "tray_places", "looks", "cavities", "load_bearing", "note"),
    translated=("name",),
)  # fmt: skip
FORMS = {
    "part.csv": PART,
    "operations.csv": OPERATIONS,
    "zones.csv": ZONES,
    "defects.csv": DEFECTS,
    "class_by_zone.csv": CLASS_BY_ZONE,
    "limits.csv": LIMITS,
    "characteristics.csv": CHARACTERISTICS,
}
BESIDE_PARTS = (SHIFTS_FILE, MATERIALS_FILE, GAUGES_FILE)  # what is the works', and of no part
NEEDED = ("operations.csv", "defects.csv")
USUAL_LOOKS = ("first", "second")
USUAL_TRAY_PLACES = 60


@dataclass(frozen=True)
class Files:
    """The rows of every file of a folder, and what was made of those that all parts share."""

    rows: dict[str, list[Row]]
    operations: list[Entry[Operation]]
    zones: list[Entry[Zone]]
    defects: list[Entry[DefectWord]]
    limits: list[Entry[Limit]]
    characteristics: list[Entry[Characteristic]]
    demo: bool


def holds_parts(folder: Path) -> bool:
    """False for a folder in which nothing but the shifts, the limits of alloys or the gauges is to be read."""
    beside = any((folder / name).exists() for name in BESIDE_PARTS)
    return not beside or any((folder / name).exists() for name in FORMS)


def read_folder(
    folder: Path, part: str | None, revision: str | None, live: bool, report: Report
) -> list[PartDefinition]:
    """Return the part definitions of a folder; nothing of it may be used where the report has a finding.

    part      the one part to read; all of them where it is None
    revision  the revision, where no file names it
    live      the works is no demo: rows and files marked as demo are refused
    """
    files = _read(folder, live, report)
    chosen = _chosen(files.rows, part, report)
    found = []
    for name, row in chosen:
        draft = _part(name, row, revision, len(chosen) == 1, files, report)
        if draft is not None:
            found.append(draft)
    return found


def _read(folder: Path, live: bool, report: Report) -> Files:
    rows = {}
    for name, form in FORMS.items():
        path = folder / name
        if path.exists():
            rows[name] = read_csv(path, form, report)
        elif name in NEEDED:
            report.refuse(Place(name, 1, WHOLE_FILE), "The file is missing from the folder.")
            report.unsure |= {"operations", "defects"}
    for path in sorted(folder.glob("*.csv")):
        if path.name not in (*FORMS, *BESIDE_PARTS):
            report.note(Place(path.name, 1, WHOLE_FILE), "No file of this name is known, so it was not read.")
    every = [row for found in rows.values() for row in found]
    by_zone = classes_by_zone(rows.get("class_by_zone.csv", ()), report)
    files = Files(
        rows=rows,
        operations=operations(rows.get("operations.csv", ()), report),
        zones=zones(rows.get("zones.csv", ()), report),
        defects=defects(rows.get("defects.csv", ()), by_zone, report),
        limits=limits(rows.get("limits.csv", ()), report),
        characteristics=characteristics(rows.get("characteristics.csv", ()), report),
        demo=is_demo(folder) or any(row.is_demo for row in every),
    )
    if live:
        refuse_demo(folder, every, report)
    _check_class_by_zone(rows.get("class_by_zone.csv", ()), by_zone, files, report)
    return files


def _check_class_by_zone(rows: Sequence[Row], by_zone: dict[str, ByZone], files: Files, report: Report) -> None:
    """Its columns are zones and its rows defect words: each must be in the list it names."""
    known = {entry.value.zone for entry in files.zones}
    seen: dict[str, str] = {}
    for column in rows[0].cells if rows else ():
        if CLASS_BY_ZONE.knows(column):
            continue
        place, zone = Place("class_by_zone.csv", 1, column), id_of(column)
        if zone and zone in seen:
            report.refuse(place, f"The zone '{zone}' has a column already, '{shown(seen[zone])}'.")
        elif zone not in known and "zones" not in report.unsure:
            report.refuse(place, f"'{shown(column)}' is no zone of zones.csv.")
        seen[zone] = column
    words = {entry.value.defect for entry in files.defects}
    for defect, found in by_zone.items():
        if defect not in words and "defects" not in report.unsure:
            reason = f"'{shown(found.row.text('defect'))}' is no word of defects.csv."
            report.refuse(found.row.place("defect"), reason)


def _chosen(rows: dict[str, list[Row]], part: str | None, report: Report) -> list[tuple[str, Row | None]]:
    """The parts to make, each with its row of part.csv where there is one."""
    named = [(name, row) for name in FORMS for row in rows.get(name, ()) if row.text("product")]
    listed: dict[str, Row] = {}
    for row in rows.get("part.csv", ()):
        product = row.needed("product", report)
        if product in listed:
            report.refuse(row.place("product"), f"The part '{shown(product)}' is in the list twice.")
        elif product:
            listed[product] = row
    products = dict.fromkeys(row.label("product", report) for _, row in named)
    first = next(iter(products), None)
    for name, row in named:
        product = row.text("product")
        if "part.csv" in rows and name != "part.csv" and product not in listed:
            report.refuse(row.place("product"), f"'{shown(product)}' is no part of part.csv.")
        elif "part.csv" not in rows and part is None and product != first:
            reason = f"'{shown(product)}' is a second part beside '{shown(str(first))}'. List both in part.csv."
            report.refuse(row.place("product"), reason)
    if part is not None:
        if products and part not in products:
            reason = f"No row is of the part '{shown(part)}'. The files name: {', '.join(products)}."
            report.refuse(Place(_naming(rows), 1, "product"), reason)
        return [(part, listed.get(part))]
    if first is None:
        reason = "No file names a part. Name it with --part, or in part.csv."
        report.refuse(Place("part.csv", 1, "product"), reason)
        return []
    return [(name, listed.get(name)) for name in (listed or [first])]


def _naming(rows: dict[str, list[Row]]) -> str:
    return next((name for name in FORMS if any(row.text("product") for row in rows.get(name, ()))), "part.csv")


def _part(
    name: str, row: Row | None, revision: str | None, alone: bool, files: Files, report: Report
) -> PartDefinition | None:
    row = row or Row("part.csv", 1, {})
    own: dict[str, list[Entry[Any]]] = {
        "operations": _of(name, files.operations),
        "zones": _of(name, files.zones),
        "defects": _of(name, files.defects),
        "limits": _of(name, files.limits),
        "characteristics": _of(name, files.characteristics),
    }
    revision = (revision if alone else None) or row.label("revision", report)
    if not revision:
        reason = f"The part '{shown(name)}' has no revision. Name it with --revision, or in part.csv."
        report.refuse(row.place("revision"), reason)
    names, _ = row.translations("name", report)
    places = row.number_in("tray_places", report)
    if not row.text("tray_places"):
        report.note(row.place("tray_places"), f"No tray size is given for '{name}': {USUAL_TRAY_PLACES} places.")
    looks = [look_of(text) for text in _several(row, "looks")] or list(USUAL_LOOKS)
    bears = row.choice("load_bearing", ("yes", "no"), "answer", report)
    zones_here = {entry.value.zone for entry in own["zones"]}
    draft = PartDefinition(
        part=name,
        revision=revision or "-",
        name=names or {"en": name},
        tray_places=places or USUAL_TRAY_PLACES,
        looks=looks,
        cavities=_several(row, "cavities") or UNSET,
        # A part of which nobody says that it bears no load is treated as one that does.
        load_bearing=bears != "no",
        operations=[entry.value for entry in own["operations"]] or UNSET,
        zones=[entry.value for entry in own["zones"]] or UNSET,
        defects=[_in_zones(entry.value, zones_here) for entry in own["defects"]],
        limits=[entry.value for entry in own["limits"]] or UNSET,
        characteristics=[entry.value for entry in own["characteristics"]] or UNSET,
        demo=True if files.demo else UNSET,
    )
    if "" in looks:
        report.refuse(row.place("looks"), f"'{shown(row.text('looks'))}' names no looks. Write 'first, second'.")
        return None
    _check(draft, row, own, report)
    return draft


def _of(name: str, entries: Sequence[Entry[Any]]) -> list[Entry[Any]]:
    """Rows of this part, and those of no part in particular."""
    return [entry for entry in entries if entry.row.text("product") in ("", name)]


def _in_zones(word: DefectWord, known: set[str]) -> DefectWord:
    """The word with classes for the zones of this part only: one table of zones serves all parts of a folder."""
    if word.by_zone is UNSET:
        return word
    here = [entry for entry in word.by_zone if entry.zone in known]
    return msgspec.structs.replace(word, by_zone=here or UNSET)


def _several(row: Row, column: str) -> list[str]:
    return [text.strip() for text in row.text(column).split(",") if text.strip()]


def _check(draft: PartDefinition, row: Row, own: dict[str, list[Entry[Any]]], report: Report) -> None:
    """Hold a draft to the rules, and name the cell that each breach came from."""
    for breach in breaches(draft):
        if breach.names in report.unsure:
            continue  # the row it misses may be the one that could not be read
        report.refuse(_place_of(breach.path, row, own), breach.reason)


def _place_of(path: tuple[str | int, ...], row: Row, own: dict[str, list[Entry[Any]]]) -> Place:
    head, *rest = path
    if head in own and rest and isinstance(rest[0], int):
        entry = own[str(head)][rest[0]]
        inner = tuple(rest[1:])
        while inner:
            if inner in entry.places:
                return entry.places[inner]
            inner = inner[:-1]
        return Place(entry.row.file, entry.row.number, next(iter(entry.row.cells)))
    if head in own:
        return Place(f"{head}.csv", 1, WHOLE_FILE)
    return row.place(str(head))
