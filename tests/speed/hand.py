# SPDX-License-Identifier: Apache-2.0
"""A hand at the keys of a slow tablet: what it waits for behind a tap, and ten taps a second for a minute."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from tests.hands import ONE_TAP
from tests.speed.figures import Figure, at
from tests.speed.tablet import SLOWER, Slowed, slowed

TAPS, GAP_SECONDS = 220, 0.2
WARM = 20  # taps before, which find nothing compiled
AT_FULL_SPEED = 40
BURST, A_TAP_SECONDS = 600, 0.1
A_LONG_TASK_MS = 50


def measure(folder: Path) -> Iterator[Figure]:
    """Tap now and then, then tap in a hurry, and look what was kept."""
    with slowed(folder) as tablet:
        keys = tablet.to_the_keys()
        yield from _now_and_then(tablet, keys)
    with slowed(folder / "burst") as tablet:
        keys = tablet.to_the_keys()
        tablet.slow_down()
        yield from _in_a_hurry(tablet, keys)


def _now_and_then(tablet: Slowed, keys: list[list[float]]) -> Iterator[Figure]:
    _tap(tablet, keys, WARM)
    before = tablet.thread_ms()
    _tap(tablet, keys, AT_FULL_SPEED)
    yield Figure(
        "CPU of the page's thread for a tap, not slowed", (tablet.thread_ms() - before) / AT_FULL_SPEED, "ms"
    )
    tablet.slow_down()
    _tap(tablet, keys, TAPS)
    taps: list[dict[str, Any]] = tablet.browser.value("speed.taps")[-TAPS:]

    def spread(what: str, name: str, most: dict[str, float]) -> Iterator[Figure]:
        times = [tap[what] for tap in taps]
        for share, word in ((0.5, "p50"), (0.95, "p95"), (0.99, "p99")):
            yield Figure(f"{name}, {word} of {len(times)} taps", at(share, times), "ms", at_most=most.get(word))

    yield from spread("pressed", "tap to the pressed key painted", {"p95": 50})
    yield from spread("flushed", "tap to flushed", {"p50": 30, "p99": 100})
    yield from spread("stored", 'tap to "stored" painted', {"p50": 100, "p99": 200})
    in_store = [tap["flushed"] - tap["asked"] for tap in taps]
    yield Figure("of it in the store, whose thread is not slowed, p50", at(0.5, in_store), "ms")
    yield Figure(f"frame of this page {SLOWER} times slower, p50", _frame_ms(tablet), "ms")


def _tap(tablet: Slowed, keys: list[list[float]], count: int) -> None:
    """Tap one key after the other, each a moment behind the word "stored" of the one before."""
    for number in range(count):
        tablet.browser.click(*keys[number % len(keys)])
        assert tablet.heard.get(timeout=60) == "stored"
        time.sleep(GAP_SECONDS)


def _frame_ms(tablet: Slowed) -> float:
    """Milliseconds until a change of nothing is painted: what no page can be quicker than."""
    script = """(async () => {
        const times = [];
        for (let turn = 0; turn < 60; turn += 1) {
            const began = performance.now();
            times.push(await new Promise((done) => speed.painted((now) => done(now - began))));
            await new Promise((done) => setTimeout(done, 37));
        }
        return times;
    })()"""
    return at(0.5, tablet.browser.value(script))


def _in_a_hurry(tablet: Slowed, keys: list[list[float]]) -> Iterator[Figure]:
    before = tablet.browser.value("speed.long.length")
    began = time.monotonic()
    for number in range(BURST):
        tablet.browser.click(*keys[number % len(keys)])
        time.sleep(max(0.0, began + (number + 1) * A_TAP_SECONDS - time.monotonic()))
    took = time.monotonic() - began
    tablet.wait(f"speed.taps.filter((tap) => tap.flushed !== undefined).length === {BURST}", 120)
    long = tablet.browser.value("speed.long")[before:]
    finds = [record["body"] for record in tablet.journal() if record["kind"] == "defect_tallied"]
    words = [_word_of(key) for key in range(len(ONE_TAP))]
    kept = [find["defect"] for find in finds if "quick_repeat" not in find]
    in_order = sum(1 for place, word in enumerate(kept) if word == words[place % len(words)])
    lengths = [task["duration"] for task in long if task["duration"] > A_LONG_TASK_MS]
    yield Figure(f"kept in order, of {BURST} taps in {took:.0f} s", in_order, "records", at_least=BURST)
    yield Figure(f"tasks over {A_LONG_TASK_MS} ms meanwhile", len(lengths), "tasks", at_most=0)
    if lengths:
        yield Figure("the longest of them", max(lengths), "ms")
    yield Figure("JavaScript heap of the page behind it", tablet.heap_mb(), "MB", at_most=40)


def _word_of(place: int) -> str:
    """The name in the records of a key that `ONE_TAP` has in English."""
    return ONE_TAP[place].lower().replace(" ", "_")
