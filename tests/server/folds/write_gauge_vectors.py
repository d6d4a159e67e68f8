# SPDX-License-Identifier: Apache-2.0
"""Write tests/vectors/gauges; what is expected stands here by hand.

Run `python -m tests.server.folds.write_gauge_vectors` in the repository's root.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec

from tests.server.folds.gauging import BORE, LOOSE, PART, ZONE, Shop

FOLDER = Path(__file__).parents[2] / "vectors" / "gauges"
# The first record stands at 13:00 UTC of this day.
FIRST_DAY = "2026-11-25"


def hold(name: str, lifted_by: str = "", taken_back: bool = False) -> dict[str, Any]:
    return {
        "id": name,
        "cause": "gauge",
        "piece": "",
        "look": "",
        "lifted_by": lifted_by,
        "cause_withdrawn": taken_back,
    }


def in_order() -> tuple[Shop, Any]:
    """Defined, of the kind the plan asks for, and not yet due; its number is scanned one way and typed another."""
    shop = Shop()
    defined = shop.define(due="2027-03-01")
    values = [shop.take(), shop.take("m 014"), shop.take(number=LOOSE)]
    due = [{"id": defined, "day": "2027-03-01"}]
    gauge = {"number": "M-014", "known": True, "kinds": ["calliper"], "checks": [], "dues": due}
    return shop, {"gauges": {"M-014": gauge}, "standings": dict.fromkeys(values, "in_order"), "holds": []}


def never_defined() -> tuple[Shop, Any]:
    """Nobody defined it: the value is taken and marked."""
    shop = Shop()
    value = shop.take("X9")
    return shop, {"gauges": {"X9": {"known": False}}, "standings": {value: "not_known"}, "holds": []}


def defined_afterwards() -> tuple[Shop, Any]:
    """Defined only after it was used: it was this gauge all the same, and held to what was written down first."""
    shop = Shop()
    before = shop.take()
    shop.wait(3)
    shop.define(due="2026-11-27")
    after = shop.take()
    return shop, {"gauges": {}, "standings": {before: "in_order", after: "overdue"}, "holds": []}


def overdue_by_the_works_calendar() -> tuple[Shop, Any]:
    """Due on its last day until midnight of the works: at 23:00 UTC in winter it is the next day there."""
    shop = Shop()
    shop.define(due=FIRST_DAY)
    day = {}
    while shop.hour < 12:
        # The record behind this one stands an hour later.
        day[shop.take()] = "in_order" if shop.hour < 10 else "overdue"
    return shop, {"gauges": {}, "standings": day, "holds": []}


def checked_and_due_later() -> tuple[Shop, Any]:
    """Overdue until a lead checked it; what was taken before stays overdue. A new place changes no day."""
    shop = Shop()
    shop.define(due="2026-11-01")
    overdue = shop.take()
    shop.say("fit", next_due="2027-03-01", against="gauge blocks 10 and 50 mm")
    good = shop.take()
    shop.define(due="2026-11-01", place="Saw")
    moved = shop.take()
    shop.define(due="2026-11-02", place="Saw")
    again = shop.take()
    return shop, {
        "gauges": {},
        "standings": {overdue: "overdue", good: "in_order", moved: "in_order", again: "overdue"},
        "holds": [],
    }


def wrong_kind() -> tuple[Shop, Any]:
    """A calliper where the plan asks for a plug gauge; where the plan says nothing any gauge will do."""
    shop = Shop()
    shop.define()
    return shop, {
        "gauges": {},
        "standings": {shop.take(number=BORE): "wrong_kind", shop.take(number=LOOSE): "in_order"},
        "holds": [],
    }


def dropped_and_then_fit() -> tuple[Shop, Any]:
    """An operator dropped it: doubtful from then on, until the lead finds it fit; then it never was wrong."""
    shop = Shop()
    shop.define()
    before = shop.take()
    shop.say("doubtful", by="a")
    during = shop.take()
    shop.say("fit")
    after = shop.take()
    return shop, {"gauges": {}, "standings": dict.fromkeys([before, during, after], "in_order"), "holds": []}


def dropped_by_somebody_unproven() -> tuple[Shop, Any]:
    """A doubt counts from anybody, also of a gauge that nobody defined; that it is fit counts from a lead alone."""
    shop = Shop()
    shop.define()
    before = shop.take()
    doubt = shop.say("doubtful", by="c")
    shop.say("fit", by="a")
    shop.say("fit", by="c")
    during = shop.take()
    shop.say("doubtful", "X9", by="c")
    other = shop.take("X9")
    checks = [{"id": doubt, "result": "doubtful", "taken_back": False}]
    return shop, {
        "gauges": {"M-014": {"checks": checks}},
        "standings": {before: "in_order", during: "doubtful", other: "doubtful"},
        "holds": [],
    }


def doubt_taken_back() -> tuple[Shop, Any]:
    """The wrong key: whoever doubted takes it back; another cannot."""
    shop = Shop()
    shop.define()
    shop.define("M-015")
    doubt = shop.say("doubtful", by="a")
    shop.take_back(doubt, by="a")
    others = shop.say("doubtful", "M-015", by="c")
    shop.take_back(others, "M-015", by="a")
    return shop, {
        "gauges": {},
        "standings": {shop.take(): "in_order", shop.take("M-015"): "doubtful"},
        "holds": [],
    }


def found_wrong_on_friday() -> tuple[Shop, Any]:
    """Last good on Monday, found wrong on Friday: every value in between is in doubt, and the batch on hold."""
    shop = Shop()
    shop.define()
    before = shop.take()
    shop.say("fit")
    between = [shop.take(), shop.take("m-014"), shop.take(number=BORE)]
    shop.wait(4)
    wrong = shop.say("wrong", note="0.08 mm too small at 50 mm")
    after = shop.take()
    shop.say("fit", against="repaired, gauge blocks")
    repaired = shop.take()
    return shop, {
        "gauges": {},
        "standings": {
            before: "in_order",
            **dict.fromkeys([*between, after], "found_wrong"),
            repaired: "in_order",
        },
        "holds": [hold(wrong)],
    }


def found_wrong_and_never_good() -> tuple[Shop, Any]:
    """No good check is known: it reaches back to its first value. Anybody may find a gauge wrong."""
    shop = Shop()
    first = shop.take()
    wrong = shop.say("wrong", by="c")
    return shop, {"gauges": {}, "standings": {first: "found_wrong"}, "holds": [hold(wrong)]}


def found_wrong_before_it_was_used() -> tuple[Shop, Any]:
    """Found wrong and repaired before the first value, found wrong again behind the next good check: no hold."""
    shop = Shop()
    shop.define()
    shop.say("wrong")
    shop.say("fit")
    value = shop.take()
    shop.say("fit")
    shop.say("wrong")
    return shop, {"gauges": {}, "standings": {value: "in_order"}, "holds": []}


def found_wrong_twice() -> tuple[Shop, Any]:
    """Two findings without a good check between reach the same values: two holds, each by its own name."""
    shop = Shop()
    shop.define()
    value = shop.take()
    first, second = shop.say("wrong"), shop.say("wrong", by="c")
    request = shop.lift(first)
    holds = sorted([hold(first, request), hold(second)], key=lambda one: str(one["id"]))
    return shop, {"gauges": {}, "standings": {value: "found_wrong"}, "holds": holds}


def found_wrong_by_mistake() -> tuple[Shop, Any]:
    """Taken back: the values are as they were, and the hold stands until it is lifted."""
    shop = Shop()
    shop.define()
    value = shop.take()
    wrong = shop.say("wrong")
    shop.take_back(wrong)
    return shop, {"gauges": {}, "standings": {value: "in_order"}, "holds": [hold(wrong, taken_back=True)]}


def good_check_taken_back() -> tuple[Shop, Any]:
    """The good check that ended its reach is taken back: it reaches further."""
    shop = Shop()
    shop.define()
    value = shop.take()
    good = shop.say("fit")
    wrong = shop.say("wrong")
    shop.take_back(good)
    return shop, {"gauges": {}, "standings": {value: "found_wrong"}, "holds": [hold(wrong)]}


def value_taken_back() -> tuple[Shop, Any]:
    """The only value of the batch was taken back: its hold stands, cause withdrawn."""
    shop = Shop()
    shop.define()
    value = shop.take()
    shop.take_value_back(value)
    wrong = shop.say("wrong")
    return shop, {"gauges": {}, "standings": {}, "holds": [hold(wrong, taken_back=True)]}


CASES: list[Callable[[], tuple[Shop, Any]]] = [
    checked_and_due_later,
    defined_afterwards,
    doubt_taken_back,
    dropped_and_then_fit,
    dropped_by_somebody_unproven,
    found_wrong_and_never_good,
    found_wrong_before_it_was_used,
    found_wrong_by_mistake,
    found_wrong_on_friday,
    found_wrong_twice,
    good_check_taken_back,
    in_order,
    never_defined,
    overdue_by_the_works_calendar,
    value_taken_back,
    wrong_kind,
]


def main() -> None:
    """Write one file a case."""
    FOLDER.mkdir(exist_ok=True)
    lines = [] if PART.characteristics is msgspec.UNSET else PART.characteristics
    for make in CASES:
        shop, expect = make()
        case = {
            "says": make.__doc__,
            "proven": shop.proven,
            "vouching": sorted(shop.vouching),
            "zone": ZONE,
            "measured": {
                f"{one.operation} {one.characteristic}": one.gauge if isinstance(one.gauge, str) else ""
                for one in lines
            },
            "batch": shop.batch,
            "records": [record.line.decode() for record in shop.records],
            "expect": expect,
        }
        text = json.dumps(case, indent=1, ensure_ascii=False) + "\n"
        (FOLDER / f"{make.__name__}.json").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
