# SPDX-License-Identifier: Apache-2.0
"""When the invented works works: Monday to Friday, six to ten in the evening, by its own clock."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

MINUTE_MS = 60_000
OPENS, CLOSES, LATE_FROM = time(6, 0), time(22, 0), time(14, 0)
LEADS_HOUR = time(13, 0)  # when the lead decides; what he was asked is answered at its end
LEADS_HOUR_ENDS = time(13, 30)
SATURDAY = 5
LEADS_DAYS = (0, 2, 4)  # Monday, Wednesday, Friday


class WorkingTime:
    """The site's clock: all times are UTC milliseconds, and no work is done at night or at a weekend."""

    def __init__(self, time_zone: str) -> None:
        self._zone = ZoneInfo(time_zone)

    def at(self, day: date, clock: time) -> int:
        """A time of the site's day [ms]."""
        return int(datetime.combine(day, clock, self._zone).timestamp() * 1000)

    def local(self, at: int) -> datetime:
        """What the site's clock shows."""
        return datetime.fromtimestamp(at / 1000, UTC).astimezone(self._zone)

    def offset_min(self, at: int) -> int:
        """The site's offset from UTC [min]."""
        offset = self.local(at).utcoffset() or timedelta()
        return int(offset.total_seconds() // 60)

    def is_late(self, at: int) -> bool:
        """True in the late shift."""
        return self.local(at).time() >= LATE_FROM

    def working(self, at: int, minutes: int = 0) -> int:
        """The first moment not before `at` from which so many minutes can be worked through in one go."""
        here = self.local(at)
        while True:
            day = here.date()
            opens, closes = self.at(day, OPENS), self.at(day, CLOSES)
            if day.weekday() < SATURDAY:
                start = max(at, opens)
                if start + minutes * MINUTE_MS <= closes:
                    return start
            at = self.at(day + timedelta(days=1), OPENS)
            here = self.local(at)

    def leads_hour(self, at: int) -> int:
        """The beginning of the next hour in which the lead decides."""
        day = self.local(at).date()
        while day.weekday() not in LEADS_DAYS or self.at(day, LEADS_HOUR) < at:
            day += timedelta(days=1)
        return self.at(day, LEADS_HOUR)

    def workdays_before(self, until: date, days: int) -> list[date]:
        """The working days of so many days that end with one, in their order."""
        found = [until - timedelta(days=back) for back in range(days, -1, -1)]
        return [day for day in found if day.weekday() < SATURDAY]
