# SPDX-License-Identifier: Apache-2.0
"""Published values for tallywright.computation.heat_treatment. Traces are worked by hand."""

from __future__ import annotations

import math

from tallywright.computation import heat_treatment
from tallywright.computation.heat_treatment import Excursion, QuenchFinding, QuenchLimits

# Source: constructed; a reading every 60 s, two sensors, band 525 to 535. The second sensor comes in at 180
# s.
SECONDS = [0, 60, 120, 180, 240, 300, 360, 420]
SENSORS: list[list[float]] = [
    [500, 480],
    [526, 510],
    [530, 524],
    [531, 525],
    [530, 528],
    [535, 530],
    [534, 531],
    [400, 390],
]


def test_the_last_sensor_in_the_band_starts_the_clock() -> None:
    found = heat_treatment.soak((SECONDS, SENSORS), 525, 535)
    assert (found.first_in_band, found.seconds_in_band) == (180, 180)
    assert (found.excursions, found.interrupted) == ((), False)


def test_a_reading_above_the_band_stands_by_itself() -> None:
    sensors = [*SENSORS[:5], [536.5, 530], *SENSORS[6:]]
    found = heat_treatment.soak((SECONDS, sensors), 525, 535)
    assert found.excursions == (Excursion(300, 536.5),)
    assert (found.seconds_in_band, found.interrupted) == (60, True)


def test_a_gap_in_the_file_is_not_time_in_the_band() -> None:
    seconds = [*SECONDS[:5], 1300, 1360, 1420]
    found = heat_treatment.soak((seconds, SENSORS), 525, 535)
    assert (found.seconds_in_band, found.interrupted) == (120, True)
    assert heat_treatment.soak((seconds, SENSORS), 525, 535, gap_s=2000).seconds_in_band == 1180


def test_a_sensor_that_gives_nothing_is_not_in_the_band() -> None:
    sensors = [*SENSORS[:5], [534, math.nan], *SENSORS[6:]]
    found = heat_treatment.soak((SECONDS, sensors), 525, 535)
    assert (found.seconds_in_band, found.interrupted) == (60, True)


def test_a_load_that_never_came_into_the_band_has_no_start() -> None:
    found = heat_treatment.soak(([0, 60], [[20], [30]]), 525, 535)
    assert (found.first_in_band, found.seconds_in_band) == (None, 0.0)


def test_the_quench_delay_runs_from_the_opening_door_to_the_last_piece_under() -> None:
    # Source: definition in T.O. 1-1A-9 (seen); numbers by hand.
    found = heat_treatment.quench(100.0, 107.5, 22.0, 29.0, QuenchLimits(7.0, 32.0, 7.0))
    assert (found.delay_s, found.tank_rise_c) == (7.5, 7.0)
    assert found.findings == (QuenchFinding("delay_s", 7.5, 7.0),)


def test_a_quench_without_limits_finds_nothing() -> None:
    found = heat_treatment.quench(0.0, 60.0, 80.0, 99.0, QuenchLimits(None, None, None))
    assert found.findings == ()
