# SPDX-License-Identifier: Apache-2.0
"""The Pareto a lead reads: of a shift, a span, a look, a batch; counted from the rows that marks fold to."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from tallywright.computation.identity import shift_of
from tallywright.db import reading
from tallywright.definitions.published import shift_calendar
from tallywright.records.bench import DefectTalliedV1
from tests.actors import NOON, Tablet, Works

HOUR = 3_600_000
AN_HOUR = timedelta(hours=1)


@pytest.fixture
def tablet(works: Works) -> Tablet:
    tablet = works.tablet()
    tablet.push(enclosures=[tablet.sign_on_as(works.person("Jonas Falk"), "harbour-71")])
    tablet.open_tray()
    return tablet


def pareto(tablet: Tablet, **query: Any) -> dict[str, Any]:
    answer = tablet.get("/api/v1/pareto", **query)
    assert answer.status_code == 200, answer.text
    return dict(answer.json or {})


def bars(content: dict[str, Any]) -> list[tuple[str, int]]:
    return [(bar["name"], bar["count"]) for bar in content["bars"]]


def test_bars_are_sorted_and_the_line_ends_at_exactly_one(tablet: Tablet) -> None:
    for word, count in (("burn", 3), ("lap", 7), ("staining", 3)):
        for _ in range(count):
            tablet.find(word)
    tablet.push()
    content = pareto(tablet)
    assert bars(content) == [("lap", 7), ("burn", 3), ("staining", 3)]
    assert content["bars"][-1]["cumulative"] == 1.0
    assert (content["marks"], content["pieces"]) == (13, 13)


def test_a_shift_without_finds_has_no_bars(tablet: Tablet) -> None:
    content = pareto(tablet)
    assert (content["bars"], content["marks"]) == ([], 0)


def test_the_shift_of_now_is_named_with_its_ends_in_the_works_zone(tablet: Tablet) -> None:
    # 12:00 UTC is 13:00 in Berlin: the early shift, 06:00 to 14:00 there.
    content = pareto(tablet)
    assert (content["shift"], content["day"]) == ("early", "2026-11-25")
    assert (content["from"], content["to"]) == (NOON - 7 * HOUR, NOON + HOUR)


def test_finds_of_the_shift_before_are_not_in_this_one(works: Works, tablet: Tablet) -> None:
    tablet.find("lap")
    works.clock.now += 3 * HOUR
    tablet.find("burn")
    tablet.push()
    assert bars(pareto(tablet)) == [("burn", 1)]
    assert sorted(bars(pareto(tablet, **{"from": NOON, "to": works.clock.now + 1}))) == [("burn", 1), ("lap", 1)]


@pytest.mark.parametrize("days", [1, 3 * 365, -365])
def test_hazard_d15_a_find_made_while_the_tablets_clock_was_wrong_is_in_the_right_shift_and_marked(
    tablet: Tablet, days: int
) -> None:
    day = days * 24 * HOUR
    tablet.find("lap")
    body = DefectTalliedV1(look="first", tray=tablet.tray, defect="burn")
    about = {key: tablet.batch[key] for key in ("batch", "definition")}
    stepped = tablet.writer.add(body, NOON + day, offset_min=60, skew_ms=-day, sign_on=tablet.sign_on, **about)
    tablet.outbox.append(stepped)
    tablet.push()
    assert sorted(bars(pareto(tablet))) == [("burn", 1), ("lap", 1)]
    doubtful = {row["id"]: row["time_doubtful"] for row in tablet.works.rows("finds")}
    assert doubtful.pop(stepped.id)
    assert not any(doubtful.values())


def test_hazard_d16_the_day_whose_night_has_two_o_clock_twice_has_25_hours_and_counts_each_once(
    works: Works, tablet: Tablet
) -> None:
    # Berlin goes from 03:00 CEST back to 02:00 CET on 2026-10-25: both half past twos are in one night shift.
    begins = datetime(2026, 10, 24, 6, tzinfo=ZoneInfo("Europe/Berlin")).astimezone(UTC)
    with reading(works.engine) as connection:
        calendar = shift_calendar(connection)
    instants = [begins + timedelta(hours=hour, minutes=30) for hour in range(25)]
    for instant in instants:
        works.clock.now = int(instant.timestamp() * 1000)
        tablet.find("lap")
    tablet.push()
    walls = [instant.astimezone(ZoneInfo("Europe/Berlin")) for instant in instants]
    assert [wall.utcoffset() for wall in walls if (wall.hour, wall.minute) == (2, 30)] == [2 * AN_HOUR, AN_HOUR]
    shifts = sorted({(one.start, one.end) for one in (shift_of(instant, calendar) for instant in instants)})
    assert [end - start for start, end in shifts] == [8 * AN_HOUR, 8 * AN_HOUR, 9 * AN_HOUR]
    spans = [{"from": int(start.timestamp() * 1000), "to": int(end.timestamp() * 1000)} for start, end in shifts]
    assert [bars(pareto(tablet, **span)) for span in spans] == [[("lap", 8)], [("lap", 8)], [("lap", 9)]]


def test_a_piece_with_two_words_counts_once_as_a_piece(tablet: Tablet) -> None:
    piece = tablet.find("lap")
    tablet.find("burn", piece=piece.id)
    tablet.push()
    content = pareto(tablet)
    assert (content["marks"], content["pieces"]) == (2, 1)


def test_a_mark_that_was_taken_back_is_in_no_bar(tablet: Tablet) -> None:
    find = tablet.find("lap")
    tablet.find("burn")
    tablet.push()
    tablet.withdraw(find.id)
    tablet.push()
    assert bars(pareto(tablet)) == [("burn", 1)]


def test_looks_and_batches_can_be_looked_at_alone(tablet: Tablet) -> None:
    tablet.find("lap")
    tablet.open_tray(look="second")
    tablet.find("burn", look="second")
    tablet.push()
    assert bars(pareto(tablet, look="second")) == [("burn", 1)]
    assert len(bars(pareto(tablet, batch=tablet.batch["batch"]))) == 2
    assert bars(pareto(tablet, batch=f"{'g' * 26}:1")) == []


@pytest.mark.parametrize("query", [{"from": 1}, {"from": 2, "to": 2}, {"form": 1, "to": 2}, {"look": "First!"}])
def test_a_span_that_is_none_is_refused(tablet: Tablet, query: dict[str, Any]) -> None:
    answer = tablet.get("/api/v1/pareto", **query)
    assert (answer.status_code, answer.json["code"]) == (400, "request-not-understood")
