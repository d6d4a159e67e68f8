# SPDX-License-Identifier: Apache-2.0
"""Push the weeks of the demo's tablets day by day, through the same push as any tablet.

No PIN travels with these sign-ons: sealed bytes differ each time, and the same seed makes the same records. The
demo's server says itself that they were right, as it does behind a sealed PIN that it opened.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from cryptography.hazmat.primitives.asymmetric import ec
from sqlalchemy import Engine

from tallywright.access.enrolment import enrol
from tallywright.access.sealing import SealingKeys
from tallywright.db import writing
from tallywright.demo.telling import SeededClock
from tallywright.demo.weeks import Told
from tallywright.demo.working_time import LEADS_HOUR_ENDS
from tallywright.log.own_chain import OwnChain
from tallywright.projections.refold import refold
from tallywright.records.decode import Record
from tallywright.records.people import SignedOnV1, SignOnJudgedV1
from tallywright.records.signature import public_text, run_text, sign
from tallywright.sync.examine import Run
from tallywright.sync.push import push


def push_weeks(
    engine: Engine,
    own: OwnChain,
    clock: SeededClock,
    keys: SealingKeys,
    told: Told,
    people: Mapping[str, str],
    definitions: Mapping[str, str],
) -> None:
    """Enrol the tablets, write their chains, and push them.

    own     writes with `clock`
    people, definitions  ids by name and by part
    """
    places = sorted({act.place for act in told.telling.acts})
    private = {place: ec.generate_private_key(ec.SECP256R1()) for place in places}
    with writing(engine) as connection:
        enrolled = {place: enrol(connection, own, public_text(private[place]), place) for place in places}
    devices = {place: one.device for place, one in enrolled.items()}
    site = enrolled[places[0]].site
    chains = told.telling.composed(devices, site, people, definitions, clock)
    for ends, parts in _days(chains, told):
        clock.now = ends
        fresh = [record for place in parts for record in parts[place]]
        signed_on = [record.id for record in fresh if isinstance(record.body, SignedOnV1)]
        if signed_on:
            with writing(engine) as connection:
                bodies = [SignOnJudgedV1(sign_on=name, proven=True) for name in signed_on]
                refold(connection, {record.subject for record in own.write(connection, bodies)})
        runs = [_run(parts[place], private[place]) for place in parts]
        answer = push(engine, own, keys, runs, [record.line for record in fresh], [])
        for refused in answer.exceptions:
            raise refused.reason


def _run(records: Sequence[Record], private: ec.EllipticCurvePrivateKey) -> Run:
    last = records[-1]
    chain, n = last.envelope.chain, last.envelope.n
    return Run(chain, records[0].envelope.n, n, sign(private, run_text(chain, n, last.hash)))


def _days(chains: Mapping[str, Sequence[Record]], told: Told) -> Iterator[tuple[int, dict[str, list[Record]]]]:
    """Yield the end of each lead's hour, and what every place has made since the one before."""
    places = dict.fromkeys(chains, 0)
    at = told.begins
    while at < told.ends:
        day = told.working.local(told.working.leads_hour(at)).date()
        at = min(told.working.at(day, LEADS_HOUR_ENDS), told.ends)
        parts: dict[str, list[Record]] = {}
        for place, records in chains.items():
            first = places[place]
            last = first
            while last < len(records) and records[last].envelope.made_at <= at:
                last += 1
            if last > first:
                parts[place] = list(records[first:last])
            places[place] = last
        if parts:
            yield at, parts
