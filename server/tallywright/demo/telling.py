# SPDX-License-Identifier: Apache-2.0
"""Put what people did into the chains of their tablets, in the order of time.

An act says when, where, who and what. What it names (a tray, a piece, a load) is known by a key until the record
that opened it has its id; acts of one tablet become one chain, and whoever takes it up signs on first.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from random import Random

from msgspec import UNSET, UnsetType

from tallywright.clock import new_chain_name
from tallywright.demo.working_time import WorkingTime
from tallywright.records.bench import SeenChain
from tallywright.records.compose import ChainWriter
from tallywright.records.decode import Record
from tallywright.records.envelope import Body
from tallywright.records.kinds import ChainOpenedV1
from tallywright.records.people import SignedOnV1


@dataclass
class SeededClock:
    """Time that is set, and chance that is the same for the same seed: invented works have nothing to guess."""

    now: int
    chance: Random

    def now_ms(self) -> int:
        """The time that was set."""
        return self.now

    def random_bytes(self, count: int) -> bytes:
        """The next bytes of the seed."""
        return self.chance.randbytes(count)


class Known:
    """What is known where a record is written: ids by key, and how far each chain of a batch goes."""

    def __init__(self) -> None:
        self.ids: dict[str, str] = {}
        self._seen: dict[str, dict[str, int]] = {}

    def id(self, key: str) -> str:
        """The id of what was opened under a key."""
        return self.ids[key]

    def seen(self, batch: str) -> list[SeenChain]:
        """All that there is of a batch now."""
        chains = self._seen.get(self.ids[batch], {})
        return [SeenChain(chain=chain, n=n) for chain, n in sorted(chains.items())]

    def note(self, key: str, record: Record) -> None:
        """Remember a record under its key, and that its chain has it."""
        if key:
            self.ids[key] = record.id
        self._seen.setdefault(record.subject, {})[record.envelope.chain] = record.envelope.n


@dataclass(frozen=True)
class Act:
    """One thing somebody did.

    place    the tablet
    key      what the record is called by in other acts
    batch    the key of its batch; '' for none
    is_fresh the PIN is given for it alone
    """

    at: int
    place: str
    person: str
    make: Callable[[Known], Body]
    key: str = ""
    batch: str = ""
    definition: str = ""
    is_fresh: bool = False


@dataclass
class TabletChain:
    """One tablet's chain, and who has it in hand."""

    writer: ChainWriter
    person: str = ""
    sign_on: str = ""
    records: list[Record] = field(default_factory=list)


class Telling:
    """All acts of the works, and the chains they become."""

    def __init__(self, working: WorkingTime, time_zone: str) -> None:
        self.acts: list[Act] = []
        self._working = working
        self._time_zone = time_zone

    def say(self, act: Act) -> None:
        """Add what somebody did."""
        self.acts.append(act)

    def composed(
        self,
        devices: Mapping[str, str],
        site: str,
        people: Mapping[str, str],
        definitions: Mapping[str, str],
        clock: SeededClock,
    ) -> dict[str, list[Record]]:
        """Write every act into its tablet's chain, by time.

        devices, people, definitions  ids by place, by name, by part
        returns  the records of each place, in the order of its chain
        """
        chains = {
            place: TabletChain(ChainWriter(new_chain_name(clock), device, self._time_zone, site=site))
            for place, device in devices.items()
        }
        known = Known()
        for act in sorted(self.acts, key=lambda act: act.at):
            chain = chains[act.place]
            offset = self._working.offset_min(act.at)
            if not chain.records:
                chain.records.append(
                    chain.writer.add(ChainOpenedV1(why="first"), act.at, offset_min=offset, skew_ms=0)
                )
            if act.is_fresh or chain.person != act.person:
                signed_on = chain.writer.add(
                    SignedOnV1(person=people[act.person]), act.at, offset_min=offset, skew_ms=0
                )
                chain.records.append(signed_on)
                chain.person, chain.sign_on = act.person, signed_on.id
            batch: str | UnsetType = known.ids[act.batch] if act.batch else UNSET
            record = chain.writer.add(
                act.make(known),
                act.at,
                offset_min=offset,
                skew_ms=0,
                sign_on=chain.sign_on,
                batch=batch,
                definition=definitions[act.definition] if act.definition else UNSET,
            )
            chain.records.append(record)
            known.note(act.key, record)
        return {place: chain.records for place, chain in chains.items()}
