# SPDX-License-Identifier: Apache-2.0
"""People as they were written down last, and what they may do on a day."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from msgspec import UNSET
from sqlalchemy import Connection

from tallywright.definitions.published import works
from tallywright.folds.gathered import found_at
from tallywright.folds.gauges import day_of
from tallywright.log.read import WORKS_WIDE, as_written, by_id, of_subject
from tallywright.records.decode import Record
from tallywright.records.people import PersonChangedV1


@dataclass(frozen=True, slots=True)
class Person:
    """One person. `newest` is the id of the record that says so, `said` what it says."""

    id: str
    newest: str
    said: PersonChangedV1

    @property
    def roles_ever(self) -> frozenset[str]:
        """The roles held on some day, the lead's for a deputy: what a PIN must be long enough for."""
        roles = frozenset[str](self.said.roles)
        return roles if self.said.deputy is UNSET else roles | {"lead"}

    def roles_on(self, day: str) -> frozenset[str]:
        """Return the roles held on a day of the site's calendar; a deputy has the lead's on the days named.

        Days are ISO texts, so that they sort as they follow one another.
        """
        if self.said.last_day is not UNSET and day > self.said.last_day:
            return frozenset()
        roles = frozenset[str](self.said.roles)
        deputy = self.said.deputy
        if deputy is not UNSET and deputy.first_day <= day <= deputy.last_day:
            return roles | {"lead"}
        return roles


def people(connection: Connection) -> dict[str, Person]:
    """Return everybody by id."""
    return _people(of_subject(connection, WORKS_WIDE))


def _people(records: list[Record]) -> dict[str, Person]:
    found: dict[str, Person] = {}
    for record in sorted(records, key=as_written(records)):
        if isinstance(record.body, PersonChangedV1):
            person = record.id if record.body.person is UNSET else record.body.person
            found[person] = Person(person, record.id, record.body)
    return found


def site_day(connection: Connection, now: int) -> str:
    """Return the day of the site's calendar at a time [ms since 1970, UTC]."""
    return day_of(now, works(connection)[1].time_zone)


def lead_sign_ons(connection: Connection, persons: Mapping[str, str]) -> frozenset[str]:
    """Return those of some sign-ons whose person had the lead's role then, as it stood then.

    persons  by sign-on; what is written down about somebody later changes nothing of what was said before
    """
    if not persons:
        return frozenset()
    zone = works(connection)[1].time_zone
    written = of_subject(connection, WORKS_WIDE)
    found = set()
    for name, person in persons.items():
        record = by_id(connection, name)
        at = 0 if record is None else found_at(record)[0]
        then = [one for one in written if found_at(one)[0] <= at]
        known = _people(then).get(person)
        if known is not None and "lead" in known.roles_on(day_of(at, zone)):
            found.add(name)
    return frozenset(found)


def roles_of(connection: Connection, person: str, day: str) -> frozenset[str]:
    """Return the roles a person has on a day; none for one nobody knows."""
    known = people(connection).get(person)
    return frozenset() if known is None else known.roles_on(day)
