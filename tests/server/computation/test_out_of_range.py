# SPDX-License-Identifier: Apache-2.0
"""Every public computation refuses what lies outside its range, in a sentence that names the parameter.

Generated: one valid call of each function, and from it a spoilt call for each of its parameters.
"""

from __future__ import annotations

import dataclasses
import importlib
import inspect
import math
import pkgutil
import re
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from typing import Any

import numpy as np
import pytest

from tallywright import computation
from tallywright.computation.errors import ComputationError, OutOfRange
from tallywright.computation.heat_treatment import QuenchLimits
from tallywright.computation.identity import ShiftCalendar
from tallywright.computation.quench_factor import QuenchConstants

GROUPS = [[10.0, 10.2, 9.9], [10.1, 10.0, 10.3], [9.8, 10.0, 10.1]]
BATCHES = [3, 5, 4, 6, 2, 7, 3, 5, 4, 6, 2, 7]
STUDY = [[[1.0, 1.1], [1.2, 1.0]], [[2.0, 2.1], [2.2, 2.3]], [[3.1, 3.0], [3.3, 3.2]]]
LOOK = {"defective": 3, "inspected": 200}
SHARES = {"dent": 0.5, "burr": 0.5}

# One valid call of every public function.
VALID: dict[str, dict[str, Any]] = {
    "acceptance_sampling.acceptance_probability": {
        "n": 20, "accept": 1, "quality": 0.05, "model": "binomial", "lot": 100,
    },
    "acceptance_sampling.acceptance_probability_lot": {"n": 20, "accept": 1, "defectives": 5, "lot": 100},
    "acceptance_sampling.code_letter": {"lot": 500, "level": "II"},
    "acceptance_sampling.design_plan": {"p1": 0.01, "pa1": 0.95, "p2": 0.08, "pa2": 0.1},
    "acceptance_sampling.single_plan": {"letter": "H", "aql": 1.0, "severity": "normal"},
    "acceptance_sampling.zero_acceptance_size": {"lot": 100, "defectives": 2, "risk": 0.1},
    "agreement.attribute_study": {"reference": [1, 0, 1], "calls": [[1, 1], [0, 0], [1, 0]], "confidence": 0.95},
    "agreement.cohen_kappa": {"table": [[9, 2], [1, 8]], "weights": "linear"},
    "agreement.fleiss_kappa": {"counts": [[3, 0], [1, 2], [0, 3]]},
    "capability.capability": {
        "mean": 10.0, "sd": 0.5, "n": 50, "lower": 8.0, "upper": 12.0, "target": 10.0, "confidence": 0.95,
    },
    "capability.capability_by_percentiles": {"values": np.arange(800.0), "lower": -50.0, "upper": 900.0},
    "capability.cp_interval": {"cp": 1.3, "n": 50, "confidence": 0.95},
    "capability.cpk_interval": {"cpk": 1.3, "n": 50, "confidence": 0.95},
    "capability.cpm_interval": {"cpm": 1.3, "offset": 0.2, "n": 50, "confidence": 0.95},
    "capability.one_sided_index_lower": {"index": 1.3, "n": 30, "confidence": 0.95},
    "chart_constants.shewhart_constants": {"n": 5},
    "control_chart.between_chart": {"gaps": [100, 300, 200], "alpha": 0.0027},
    "control_chart.c_chart": {"counts": [5, 7, 6]},
    "control_chart.exact_limits": {"p_or_mean": 0.01, "n": 100, "alpha": 0.0027},
    "control_chart.individuals_chart": {"values": [1.0, 1.2, 0.9]},
    "control_chart.laney_p_chart": {"defective": BATCHES, "inspected": 100},
    "control_chart.laney_u_chart": {"counts": BATCHES, "units": 2.5},
    "control_chart.mean_chart": {"groups": GROUPS, "spread": "range"},
    "control_chart.moving_range_chart": {"values": [1.0, 1.2, 0.9]},
    "control_chart.np_chart": {"defective": [3, 5, 4], "inspected": 50},
    "control_chart.p_chart": {"defective": [3, 5, 4], "inspected": [50, 60, 70]},
    "control_chart.range_chart": {"groups": GROUPS},
    "control_chart.sd_chart": {"groups": GROUPS},
    "control_chart.u_chart": {"counts": [3, 5, 4], "units": [1.5, 2.0, 2.5]},
    "escape.chapman": {"marked": 25, "caught": 20, "recaught": 15},
    "escape.finding_power": {"found": 17, "seeded": 20, "confidence": 0.95},
    "escape.relook": {
        "accepted": 1000, "accepted_sampled": 100, "accepted_bad": 2, "rejected": 50, "rejected_sampled": 50,
        "rejected_good": 10, "power": 0.9, "confidence": 0.95,
    },
    "escape.remaining_after": {"found": 4, "power": 0.8, "confidence": 0.95},
    "escape.removal_many": {"finds": [38, 26, 12], "method": "likelihood"},
    "escape.removal_two": {"first": 79, "second": 28},
    "escape.two_looks": {"power_a": 0.8, "power_b": 0.7, "correlation": 0.1},
    "gauge_study.anova_study": {"data": STUDY, "tolerance": 5.0},
    "gauge_study.average_range_study": {"data": STUDY, "tolerance": 5.0},
    "hardness.brinell": {"force_n": 4903.0, "ball_mm": 10.0, "diameter_mm": 3.0},
    "hardness.brinell_kgf": {"force_kgf": 500.0, "ball_mm": 10.0, "diameter_mm": 3.0},
    "heat_treatment.quench": {
        "door_open_s": 0.0, "last_immersed_s": 7.0, "tank_before_c": 22.0, "tank_after_c": 27.0,
        "limits": QuenchLimits(8.0, 30.0, 6.0),
    },
    "heat_treatment.soak": {
        "trace": ([0, 60, 120], [[530.0], [531.0], [529.0]]), "low_c": 525.0, "high_c": 535.0, "gap_s": 120.0,
    },
    "identity.check_character": {"body": "HT0417", "scheme": "mod37_2"},
    "identity.check_character_holds": {"text": "HT04177", "scheme": "mod37_2"},
    "identity.merkle_root": {"leaves": [b"a", b"b"]},
    "identity.shift_of": {
        "instant": datetime(2026, 3, 29, 1, 0, tzinfo=UTC), "calendar": ShiftCalendar("UTC", (("day", "06:00"),)),
    },
    "material.judge_certificate": {
        "limits": {"Si": ("0.7", "1.3")}, "certificate": {"Si": "1.0"}, "rounding": "half_even",
    },
    "material.mass_per_metre": {"section": "round", "sizes_mm": 16.0, "density_g_cm3": 2.7},
    "material.pieces_from_mass": {"net_g": 14200.0, "reference_mass_g": 3550.0, "reference_count": 50, "cv": 0.004},
    "material.pieces_per_bar": {
        "bar_mm": 4000.0, "piece_mm": 148.0, "kerf_mm": 3.0, "trim_mm": 10.0, "remnant_mm": 60.0,
    },
    "material.recovery": {"good_mass_g": 70.0, "issued_mass_g": 80.3},
    "pareto.against_usual": {
        "counts": {"dent": 9, "burr": 1}, "usual_shares": SHARES, "spread": 1.5, "confidence": 0.95,
    },
    "pareto.compare_mix": {"first": {"dent": 9, "burr": 1}, "second": {"dent": 4, "burr": 6}},
    "pareto.compare_share": {"x1": 3, "n1": 50, "x2": 9, "n2": 60},
    "pareto.fisher_exact": {"table": [[3, 1], [1, 3]]},
    "pareto.noise_band": {"total": 47, "kinds": 12, "confidence": 0.95},
    "pareto.pareto": {"counts": {"dent": 9, "burr": 1}},
    "pareto.too_few_to_rank": {"a": 7, "b": 3},
    "quench_factor.quench_factor": {
        "seconds": [0.0, 1.0, 2.0], "temperatures_k": [740.0, 600.0, 450.0],
        "constants": QuenchConstants(-0.00501, 4.1e-13, 1050, 780, 140000),
    },
    "rate_limit.chance_over": {"defective": 3, "looked": 200, "due": 681, "limit": 0.04},
    "rate_limit.exact_interval": {**LOOK, "confidence": 0.95},
    "rate_limit.exact_lower": {**LOOK, "confidence": 0.95},
    "rate_limit.exact_upper": {**LOOK, "confidence": 0.95},
    "rate_limit.limit_verdict": {
        "defective": 3, "looked": 200, "due": 681, "limit": 0.04, "marked": 4, "trays_closed": 3,
    },
    "rate_limit.p_value_above": {**LOOK, "limit": 0.04},
    "rate_limit.pieces_to_show": {"limit": 0.05, "confidence": 0.95},
    "rate_limit.poisson_interval": {"count": 4, "confidence": 0.95},
    "rate_limit.sequential_verdict": {**LOOK, "limit": 0.02, "ratio": 2.0, "alpha": 0.05, "beta": 0.1},
    "rate_limit.true_rate": {"observed": 0.03, "sensitivity": 0.8, "specificity": 0.98},
    "rate_limit.wilson_interval": {**LOOK, "confidence": 0.95},
    "rate_limit.z_above": {**LOOK, "limit": 0.04},
    "reading_patterns.crowd": {"times": [5.0, 6.0, 50.0], "window": 2.0, "start": 0.0, "end": 60.0},
    "reading_patterns.end_digits": {"readings": [f"{number}.{number % 10}" for number in range(60)]},
    "reading_patterns.few_near": {
        "near": 1, "readings": 20, "near_before": 30, "before": 100, "confidence": 0.95,
    },
    "reading_patterns.run_chance": {"length": 3, "trials": 10, "share": 0.5},
    "reading_patterns.same_run": {
        "is_same": [True, True, False], "same_before": 4, "pairs_before": 60, "confidence": 0.95,
    },
    "run_rules.run_signals": {"values": [0.1, 3.2, -0.4], "centre": 0.0, "sigma": 1.0, "rules": [1, 2]},
    "strength.confidence_of_mean_minus": {"n": 10, "k": 3.0, "proportion": 0.95},
    "strength.distribution_free_size": {"proportion": 0.95, "confidence": 0.95},
    "strength.mean_minus_sd": {"values": [20.0, 22.0, 24.0], "k": 3.0},
    "strength.minimum_by_factor": {"values": [20.0, 22.0, 24.0], "proportion": 0.95, "confidence": 0.95},
    "strength.tolerance_factor": {"n": 10, "proportion": 0.95, "confidence": 0.95},
    "yields.defects_per_million": {"defects": 9, "units": 150, "opportunities": 8},
    "yields.first_pass_yield": {"entered": 100, "good_first_time": 85},
    "yields.rolled_yield": {"yields": [0.9, 0.8]},
}  # fmt: skip

# What cannot be spoilt by a number that is none.
SPOILT: dict[tuple[str, str], list[Any]] = {
    ("heat_treatment.soak", "trace"): [
        ([0, 60], [[530.0]]), ([60, 0], [[530.0], [531.0]]), ([0, 60], [530.0, 531.0]), ([0], [[530.0]]),
        ([0, math.nan], [[530.0], [531.0]]), ([0, 60], [[530.0], [math.inf]]), ([0, 60],),
    ],
    ("identity.check_character", "body"): ["", "a", "*", "Ä"],
    ("identity.check_character_holds", "text"): ["", "A"],
    ("identity.merkle_root", "leaves"): [["a"]],
    ("identity.shift_of", "instant"): [datetime(2026, 3, 29, 1, 0), datetime(1, 1, 1, tzinfo=UTC)],  # noqa: DTZ001
    ("control_chart.exact_limits", "n"): [math.nan, -1, 0, 0.5, "nonsense", [[1.0]]],
    ("reading_patterns.end_digits", "readings"): [[], ["13,2"] * 60, ["nonsense"] * 60, [math.nan] * 60],
    ("run_rules.run_signals", "rules"): [[0], [9], [1.5], [math.nan]],
    ("material.judge_certificate", "limits"): [{"Si": (None, None)}, {"Si": ("0,7", None)}, {"Si": (None, "<1")}],
    ("material.judge_certificate", "certificate"): [{"Si": "1,0"}, {"Si": "<5"}, {"Si": "-1"}],
    ("material.mass_per_metre", "sizes_mm"): [math.nan, 0.0, (1.0, 2.0), (math.inf,)],
}  # fmt: skip

# A parameter that says yes or no, or is checked where it is made, has no range of its own.
WITHOUT_RANGE = {
    ("control_chart.laney_p_chart", "at_least_one"),
    ("control_chart.laney_u_chart", "at_least_one"),
    ("gauge_study.anova_study", "pool_interaction"),
    ("identity.shift_of", "calendar"),
}


def _public() -> dict[str, Callable[..., Any]]:
    """Every function that a module of the room lists as public, by the module that holds it."""
    found: dict[str, Callable[..., Any]] = {}
    for info in pkgutil.iter_modules(computation.__path__):
        module = importlib.import_module(f"{computation.__name__}.{info.name}")
        for name in getattr(module, "__all__", ()):
            value = getattr(module, name)
            if inspect.isfunction(value):
                found[f"{value.__module__.rsplit('.', 1)[1]}.{name}"] = value
    return found


PUBLIC = _public()


def _spoil(value: Any) -> Iterator[Any]:
    """Values of the same kind that lie in no range at all."""
    if isinstance(value, str):
        yield from ("nonsense", "")
    elif isinstance(value, int | float):
        yield from (math.nan, math.inf, -math.inf, "nonsense", [1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0])
        if isinstance(value, int):
            yield from (-1, 10**400)
    elif isinstance(value, dict):
        yield from ({**value, next(iter(value)): bad} for bad in (math.nan, -1, math.inf))
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        yield from (dataclasses.replace(value, **{field.name: math.nan}) for field in dataclasses.fields(value))
    else:
        data = np.array(value, dtype=np.float64)
        for bad in (math.nan, math.inf):
            spoilt = data.copy()
            spoilt.flat[-1] = bad
            yield spoilt.tolist()
        yield from ([], [[[[1.0]]]])


def _spoilt_calls() -> Iterator[Any]:
    for name, valid in VALID.items():
        for parameter in inspect.signature(PUBLIC[name]).parameters if name in PUBLIC else ():
            if (name, parameter) in WITHOUT_RANGE:
                continue
            bad_values = SPOILT.get((name, parameter)) or list(_spoil(valid[parameter]))
            for bad in bad_values:
                yield pytest.param(name, parameter, bad, id=f"{name}-{parameter}-{str(bad)[:24]}")


def test_every_public_function_has_a_valid_call() -> None:
    assert sorted(VALID) == sorted(PUBLIC)


@pytest.mark.parametrize("name", VALID)
def test_the_valid_call_is_valid(name: str) -> None:
    PUBLIC[name](**VALID[name])


@pytest.mark.parametrize(("name", "parameter", "bad"), list(_spoilt_calls()))
def test_a_spoilt_call_is_refused_by_the_name_of_its_parameter(name: str, parameter: str, bad: Any) -> None:
    with pytest.raises(OutOfRange) as raised:
        PUBLIC[name](**{**VALID[name], parameter: bad})
    assert re.match(rf"(limits\.|constants\.)?{parameter}\b.* must be .+, not ", str(raised.value), re.DOTALL)


def _numbers(result: Any) -> Iterator[float]:
    if dataclasses.is_dataclass(result):
        for field in dataclasses.fields(result):
            yield from _numbers(getattr(result, field.name))
    elif isinstance(result, float):
        yield result
    elif isinstance(result, list | tuple):
        for part in result:
            yield from _numbers(part)
    elif isinstance(result, np.ndarray):
        yield from result.tolist()


EDGES: list[Any] = [
    -1,
    0,
    1,
    2,
    1000,
    -0.5,
    0.5,
    0.999999,
    1.5,
    1e-300,
    1e-12,
    1e12,
    1e300,
    10**6,
    10**9,
    10**12,
    -1e300,
    True,
    None,
]


@pytest.mark.parametrize("name", VALID)
def test_a_number_at_any_edge_gives_a_finite_answer_or_a_refusal(name: str) -> None:
    for parameter, value in VALID[name].items():
        if not isinstance(value, int | float):
            continue
        for edge in EDGES:
            try:
                result = PUBLIC[name](**{**VALID[name], parameter: edge})
            except ComputationError:
                continue
            assert all(math.isfinite(number) for number in _numbers(result)), (parameter, edge, result)
