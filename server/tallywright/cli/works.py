# SPDX-License-Identifier: Apache-2.0
"""Open a works on an empty database, and fill a demo works from demo_seed/."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from random import Random
from typing import Any
from zoneinfo import ZoneInfo

import msgspec
from cryptography.hazmat.primitives.asymmetric import ec
from msgspec import UNSET, UnsetType
from sqlalchemy import Engine

from tallywright.access.enrolment import enrol
from tallywright.access.pins import set_pin
from tallywright.access.sealing import SealingKeys, seal
from tallywright.clock import SystemClock, new_chain_name
from tallywright.config import Config, packed_folder
from tallywright.db import migrate, open_engine, reading, writing
from tallywright.definitions.gauges import read_gauges
from tallywright.definitions.imported import read_definitions
from tallywright.definitions.materials import read_materials
from tallywright.definitions.published import works
from tallywright.definitions.report import Report
from tallywright.demo.pushed import push_weeks
from tallywright.demo.telling import SeededClock
from tallywright.demo.weeks import read_weeks, tell_weeks
from tallywright.errors import WrongSetting, WrongUse
from tallywright.log.append import newest_number
from tallywright.log.own_chain import OwnChain
from tallywright.projections.publish import publish_gauges, publish_materials, publish_parts
from tallywright.projections.rebuild import ensure
from tallywright.projections.refold import refold
from tallywright.records.bench import BatchOpenedV1
from tallywright.records.compose import ChainWriter
from tallywright.records.decode import Record, sha256
from tallywright.records.definition import (
    Characteristic,
    GaugeDefinition,
    MaterialDefinition,
    PartDefinition,
    ShiftDefinition,
)
from tallywright.records.envelope import Body
from tallywright.records.kinds import ChainOpenedV1, DefinitionPublishedV1, WorksOpenedV1
from tallywright.records.people import PersonChangedV1, SignedOnV1
from tallywright.records.signature import public_text, run_text, sign
from tallywright.sync.examine import Run
from tallywright.sync.judge import Enclosure
from tallywright.sync.push import push


def prepare_data(config: Config) -> Engine:
    """Make the data folder and bring the database to this version; raises WrongSetting."""
    try:
        config.data.mkdir(parents=True, exist_ok=True)
        probe = config.data / ".writable"
        probe.write_text("")
        probe.unlink()
    except OSError as problem:
        raise WrongSetting(
            f"The folder {config.data} cannot be written: {problem.strerror}. Name another with --data."
        ) from problem
    engine = open_engine(config.database_url)
    migrate(engine)
    with writing(engine) as connection:
        ensure(connection)
    return engine


def open_works(engine: Engine, own: OwnChain, body: WorksOpenedV1) -> None:
    """Open a works; raises WrongUse where one was opened before."""
    with writing(engine) as connection:
        if newest_number(connection):
            raise WrongUse("A works was opened in this database before. Use another data folder.")
        opened = own.open_works(connection, body)
        refold(connection, {record.subject for record in opened})


def demo_people(weeks: bool) -> list[tuple[str, str]]:
    """Return names and PINs of the demo's people: they are nobody, so their PINs are no secret.

    weeks  with those who came to the works in the weeks
    """
    people = [*_seed()["people"], *(read_weeks().people if weeks else [])]
    return [(person["name"], person["pin"]) for person in people]


def _seed() -> dict[str, Any]:
    seed: dict[str, Any] = json.loads((packed_folder("demo_seed") / "works.json").read_text(encoding="utf-8"))
    return seed


def open_demo(engine: Engine, own: OwnChain, keys: SealingKeys) -> None:
    """Open the invented works of demo_seed/ as it stands on its first day, unless this database has it.

    raises  WrongUse for a live works: the demo lets any browser in
    """
    if _is_open(engine):
        return
    seed = _seed()
    founded = _found(engine, own, seed, seed["people"], _parts(seed["parts"]), _today(seed, own.clock.now_ms()))
    person, pin = seed["people"][0]["name"], seed["people"][0]["pin"]
    _push_batches(engine, own, keys, seed["batches"], founded.definitions, (founded.people[person], pin))


def open_demo_with_weeks(
    engine: Engine, key: ec.EllipticCurvePrivateKey, keys: SealingKeys, until: date | None
) -> None:
    """Open the invented works with the weeks behind it, unless this database has it.

    key    the server's
    until  the last day that is told, to the end of its early shift; None for today, and then no later than now
    raises  WrongUse for a live works
    """
    if _is_open(engine):
        return
    seed, weeks = _seed(), read_weeks()
    zone, now = seed["works"]["time_zone"], SystemClock().now_ms()
    today = until or _today(seed, now)
    parts = _parts([*seed["parts"], *weeks.parts])
    told = tell_weeks(
        weeks,
        {part.part: part for part in parts},
        zone,
        today,
        now if until is None else None,
        seed["batches"],
    )
    clock = SeededClock(told.begins, Random(weeks.seed))  # noqa: S311 - an invented works has nothing to guess
    own = OwnChain(clock, key)
    founded = _found(engine, own, seed, [*seed["people"], *weeks.people], parts, today)
    push_weeks(engine, own, clock, keys, told, founded.people, founded.definitions)


def _today(seed: dict[str, Any], now: int) -> date:
    return datetime.fromtimestamp(now / 1000, ZoneInfo(seed["works"]["time_zone"])).date()


def _is_open(engine: Engine) -> bool:
    with reading(engine) as connection:
        if not newest_number(connection):
            return False
        if not works(connection)[1].demo:
            raise WrongUse("This data folder holds a live works. Use `tallywright serve`, or another folder.")
        return True


def _parts(written: list[dict[str, Any]]) -> list[PartDefinition]:
    """The demo's parts; one that the folder of definitions has too brings the checks of its operations along."""
    found, report = read_definitions(packed_folder("demo_seed") / "definitions", None, None, live=False)
    for finding in report.findings:
        raise WrongUse(str(finding))
    checks = {part.part: part.characteristics for part in found}
    parts = [msgspec.convert({"subject": "part", **part}, PartDefinition) for part in written]
    return [_with_checks(part, checks.get(part.part, UNSET)) for part in parts]


def _alloys() -> list[MaterialDefinition]:
    """The demo's limits of alloys: invented like all of it."""
    report = Report()
    found = read_materials(packed_folder("demo_seed") / "definitions", live=False, report=report)
    for finding in report.findings:
        raise WrongUse(str(finding))
    return found


def _gauges(seed: dict[str, Any], today: date) -> list[GaugeDefinition]:
    """The demo's gauges; each is due as long before or after today as on the day their list was written."""
    report = Report()
    found = read_gauges(packed_folder("demo_seed") / "definitions", live=False, report=report, plans=())
    for finding in report.findings:
        raise WrongUse(str(finding))
    since = today - date.fromisoformat(seed["gauges_written_on"])
    return [_due_later(gauge, since) for gauge in found]


def _due_later(gauge: GaugeDefinition, by: timedelta) -> GaugeDefinition:
    if gauge.due is UNSET:
        return gauge
    return msgspec.structs.replace(gauge, due=(date.fromisoformat(gauge.due) + by).isoformat())


def _with_checks(part: PartDefinition, checks: list[Characteristic] | UnsetType) -> PartDefinition:
    if checks is UNSET or part.operations is UNSET:
        return part
    route = {entry.operation for entry in part.operations}
    return msgspec.structs.replace(part, characteristics=[one for one in checks if one.operation in route])


@dataclass(frozen=True, slots=True)
class _Founded:
    """People by name, definitions by part and by alloy, each by id."""

    people: dict[str, str]
    definitions: dict[str, str]


def _found(
    engine: Engine,
    own: OwnChain,
    seed: dict[str, Any],
    people: list[dict[str, Any]],
    parts: list[PartDefinition],
    today: date,
) -> _Founded:
    """Open the works, and write down who is in it and what is judged by."""
    open_works(engine, own, WorksOpenedV1(**seed["works"], demo=True))
    pins = [person["pin"] for person in people]
    bodies: list[Body] = [
        msgspec.convert({name: value for name, value in person.items() if name != "pin"}, PersonChangedV1)
        for person in people
    ]
    shifts = {"time_zone": seed["works"]["time_zone"], "shifts": seed["shifts"]}
    with writing(engine) as connection:
        persons = own.write(connection, bodies)
        for record, pin, person in zip(persons, pins, people, strict=True):
            set_pin(connection, own.clock.now_ms(), record.id, person["roles"], pin)
        own.write(
            connection,
            [DefinitionPublishedV1(content=msgspec.convert({"subject": "shifts", **shifts}, ShiftDefinition))],
        )
        refold(connection, {record.subject for record in persons})
        published = publish_parts(connection, own, parts)
        alloys = _alloys()
        limits = publish_materials(connection, own, alloys)
        publish_gauges(connection, own, _gauges(seed, today))
    return _Founded(
        {person["name"]: record.id for person, record in zip(people, persons, strict=True)},
        {part.part: definition for part, (definition, _) in zip(parts, published, strict=True)}
        | {alloy.alloy: definition for alloy, (definition, _) in zip(alloys, limits, strict=True)},
    )


def _push_batches(
    engine: Engine,
    own: OwnChain,
    keys: SealingKeys,
    batches: list[dict[str, Any]],
    definitions: dict[str, str],
    person: tuple[str, str],
) -> None:
    """Open the demo's batches from a tablet of its own, through the same push as any tablet."""
    key = ec.generate_private_key(ec.SECP256R1())
    with writing(engine) as connection:
        enrolled = enrol(connection, own, public_text(key), "goods-in")
    writer = ChainWriter(new_chain_name(own.clock), enrolled.device, "Europe/Berlin", site=enrolled.site)
    now = own.clock.now_ms()
    records: list[Record] = [writer.add(ChainOpenedV1(why="first"), now, skew_ms=0)]
    sealing_key = keys.current()
    sealed = seal(sealing_key.public_key, f"{writer.chain}:2", person[1])
    body = SignedOnV1(person=person[0], sealing_key=sealing_key.name, sealed=sha256(sealed))
    signed_on = writer.add(body, now, skew_ms=0)
    records.append(signed_on)
    for batch in batches:
        opened = BatchOpenedV1(number=batch["number"], pieces=batch["pieces"])
        definition = definitions[batch["part"]]
        records.append(writer.add(opened, now, skew_ms=0, sign_on=signed_on.id, definition=definition))
    signature = sign(key, run_text(writer.chain, writer.n, str(writer.head)))
    run = Run(writer.chain, 1, writer.n, signature)
    lines = [record.line for record in records]
    answer = push(engine, own, keys, [run], lines, [], [Enclosure(signed_on.id, sealed)])
    for refused in answer.exceptions:
        raise refused.reason
