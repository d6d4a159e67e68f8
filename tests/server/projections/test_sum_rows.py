# SPDX-License-Identifier: Apache-2.0
"""The sums of a batch are what the database counts of its finds by the strata of the reports, and its times too."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec.structs import astuple
from sqlalchemy import ColumnElement, Connection, delete, exists, false, func, literal, not_, select, true

from tallywright.db import insert_rows, writing
from tallywright.folds.origins import Origin
from tallywright.projections.find_rows import FindRow
from tallywright.projections.sum_rows import OF_ORIGIN, ONE_BAR, SumRow, sum_rows
from tallywright.projections.tables import batches, finds, origins, spans, sums
from tallywright.reports.strata import STRATA, Stratum, is_of_find, with_strata
from tests.actors import Works

BATCH = f"{'b' * 26}:9"
BORN, CAVITIES = ("", "40", "40,50", "120"), ("", "A", "B")
_SPAN = origins.alias("of_span")
HAS_TIME = exists().where(is_of_find(_SPAN, "span"))
few = st.integers(0, 3)


@st.composite
def find_rows(draw: st.DrawFn) -> list[FindRow]:
    """Finds on few pieces, so that many meet in a bar."""
    drawn = draw(
        st.lists(
            st.tuples(
                *(st.sampled_from("ab"), st.sampled_from(["p", "q", "r", "s"]), st.sampled_from("xyz")),
                *(st.sampled_from(["", "bow"]), st.sampled_from(CAVITIES), st.sampled_from(BORN), few, few),
                st.integers(0, 9),
            ),
            max_size=12,
        )
    )
    return [
        FindRow(
            *(f"{'b' * 26}:{n}", BATCH, look, "", piece, defect, "minor", zone, cavity, born_at, tray, from_last),
            *("", "", at, False),
        )
        for n, (look, piece, defect, zone, cavity, born_at, tray, from_last, at) in enumerate(drawn)
    ]


@st.composite
def origin_rows(draw: st.DrawFn) -> list[Origin]:
    """What the route says: of each thing nothing, one, or several; and a time of making, or none."""
    rows = []
    for born_at in BORN:
        for cavity in CAVITIES:
            for what in OF_ORIGIN:
                said = draw(st.sampled_from([None, (False, "one"), (False, "other"), (True, "")]))
                if said is not None:
                    rows.append(Origin(born_at, cavity, what, said[1], said[0], 0, 0))
            span = draw(st.none() | st.tuples(st.integers(1, 9), st.integers(1, 9)))
            if span is not None:
                rows.append(Origin(born_at, cavity, "span", "", False, *span))
    return rows


def counted(connection: Connection, placed: bool, which: ColumnElement[bool]) -> set[SumRow]:
    found = set()
    for by, stratum in (STRATA | {ONE_BAR: Stratum(literal(""), false())}).items():
        bar = select(stratum.value.label("name"), stratum.several.label("several"), finds.c.piece)
        of = bar.select_from(with_strata(finds, [by] if by else [])).where(finds.c.batch == BATCH, which).subquery()
        rows = select(of.c.several, of.c.name, func.count(), func.count(func.distinct(of.c.piece)))
        for several, name, marks, pieces in connection.execute(rows.group_by(of.c.several, of.c.name)):
            found.add(SumRow(by, BATCH, placed, bool(several), name, marks, pieces))
    return found


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(of_finds=find_rows(), born=origin_rows(), part=st.sampled_from(["", "K-7 B"]))
def test_sums_and_times_are_what_the_database_says_of_the_finds(
    works: Works, of_finds: list[FindRow], born: list[Origin], part: str
) -> None:
    with writing(works.engine) as connection:
        for table in (finds, origins, batches, sums, spans):
            connection.execute(delete(table).where(table.c.batch == BATCH))
        insert_rows(connection, finds, of_finds)
        insert_rows(connection, origins, [(BATCH, *astuple(one)) for one in born])
        if part:
            insert_rows(connection, batches, [(BATCH, "9", part, "", 12, 0, 0)])
        of_bars, times = sum_rows(BATCH, part, of_finds, born)
        insert_rows(connection, sums, of_bars)
        insert_rows(connection, spans, times)

        all_finds = counted(connection, False, true())
        placed = counted(connection, True, HAS_TIME)
        without = connection.scalar(select(func.count()).where(finds.c.batch == BATCH, not_(HAS_TIME)))
        some_have = bool(placed) and without
        stored = set(map(SumRow._make, connection.execute(select(sums).where(sums.c.batch == BATCH))))
        assert stored == all_finds | (placed if some_have else set())
        assert len(stored) == len(of_bars)

        found = func.min(finds.c.found_at), func.max(finds.c.found_at)
        made = select(_SPAN.c.started_at, _SPAN.c.ended_at).select_from(finds)
        of_batch = made.join(_SPAN, is_of_find(_SPAN, "span")).where(finds.c.batch == BATCH)
        edges = [end for ends in connection.execute(of_batch) for end in ends] or [0]
        wanted = [
            (BATCH, first, last, min(edges), max(edges), without)
            for first, last in connection.execute(select(*found).where(finds.c.batch == BATCH))
            if first is not None
        ]
        assert [tuple(row) for row in connection.execute(select(spans).where(spans.c.batch == BATCH))] == wanted
