"""The one-step balance: it closes, and it is that of the science, which is held to FAO-56's own examples."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from kailyard.care.balance import Day, Surface, pass_day
from kailyard.science.soil_water import easy_fraction
from kailyard.science.soil_water_balance import root_zone_balance, surface_balance

DAYS = 120


def season(seed: int, shape: tuple[int, ...]) -> dict[str, np.ndarray]:
    draw = np.random.default_rng(seed)
    whole = (DAYS, *shape)
    rain = np.where(draw.random(whole) < 0.25, draw.gamma(0.8, 9.0, whole), 0.0)
    kcb = draw.uniform(0.15, 1.15, whole)
    return {
        "et0": draw.uniform(0.0, 9.0, whole),
        "rain": rain,
        "runoff": rain * draw.uniform(0, 0.3, whole),
        "irrigation": np.where(draw.random(whole) < 0.1, draw.uniform(5, 30, whole), 0.0),
        "kcb": kcb,
        "kc_max": np.maximum(draw.uniform(1.05, 1.3, whole), kcb + 0.05),
        "cover": draw.uniform(0.0, 0.95, whole),
        "available": np.sort(draw.uniform(20, 120, whole), axis=0),  # roots grow, they do not shrink
        "easy": draw.uniform(0.2, 0.6, shape),
        "evaporable": draw.uniform(12, 28, shape),
    }


def run(s: dict[str, np.ndarray], *, evaporates: float = 1.0):
    ground = Surface(s["evaporable"], s["evaporable"] * 0.4)
    surface, depletion = np.zeros(s["easy"].shape), np.full(s["easy"].shape, 5.0)
    for i in range(DAYS):
        day = Day(
            s["et0"][i], s["rain"][i], s["runoff"][i], s["kcb"][i], s["kc_max"][i], s["cover"][i],
            np.asarray(evaporates), s["available"][i], s["easy"],
        )  # fmt: skip
        passed = pass_day(day, ground, surface, depletion, irrigation_mm=s["irrigation"][i])
        yield i, depletion, passed
        surface, depletion = passed.surface_mm, passed.depletion_mm


@settings(max_examples=25, deadline=None)
@given(st.integers(0, 10**6))
def test_the_balance_closes_every_day(seed: int) -> None:
    # Conservation of water: what comes in less what goes out is the change of what is stored (FAO-56 eq. 85).
    s = season(seed, (3, 4))
    for i, before, passed in run(s):
        into = s["rain"][i] - s["runoff"][i] + s["irrigation"][i]
        change = passed.depletion_mm - before
        assert np.abs(change - (passed.et_mm + passed.drained_mm - into)).max() < 1e-9
        assert (passed.depletion_mm >= 0).all()
        assert (passed.et_mm >= 0).all()
        assert (passed.drained_mm >= 0).all()
        assert ((passed.stress >= 0) & (passed.stress <= 1)).all()
        assert (passed.surface_mm <= s["evaporable"] + 1e-9).all()


def test_it_is_the_balance_of_the_science() -> None:
    # surface_balance and root_zone_balance are held to FAO-56, Examples 35 to 39, in tests/science.
    s = season(7, (40,))
    last = {k: np.moveaxis(v, 0, -1) for k, v in s.items() if v.ndim == 2}
    layer = surface_balance(
        last["et0"], rain_mm=last["rain"], irrigation_mm=last["irrigation"], runoff_mm=last["runoff"],
        kcb=last["kcb"], kc_max=last["kc_max"], exposed_share=np.maximum(1 - last["cover"], 0.01),
        evaporable_mm=s["evaporable"], readily_evaporable_mm=s["evaporable"] * 0.4,
    )  # fmt: skip
    ke = np.maximum(layer.coefficient, 0.0)  # a dry layer may come out at -1e-15
    asked = (last["kcb"] + ke) * last["et0"]
    zone = root_zone_balance(
        last["et0"], rain_mm=last["rain"], irrigation_mm=last["irrigation"], runoff_mm=last["runoff"],
        kc=last["kcb"], evaporation_coefficient=ke, total_available_mm=last["available"],
        easy_fraction=easy_fraction(s["easy"][:, None], asked), start_mm=np.full(40, 5.0),
    )  # fmt: skip
    for i, _, passed in run(s):
        assert passed.surface_mm == pytest.approx(layer.depletion_mm[:, i], abs=1e-9)
        assert passed.depletion_mm == pytest.approx(zone.depletion_mm[:, i], abs=1e-9)
        assert passed.et_mm == pytest.approx(zone.et_mm[:, i], abs=1e-9)
        assert passed.drained_mm == pytest.approx(zone.percolation_mm[:, i], abs=1e-9)


def test_one_coefficient_is_two_without_a_surface() -> None:
    # FAO-56 eq. 58 against eq. 69: with Kc max equal to Kc nothing is left for the surface.
    s = season(3, (5,))
    s["kc_max"] = s["kcb"]
    last = {k: np.moveaxis(v, 0, -1) for k, v in s.items() if v.ndim == 2}
    zone = root_zone_balance(
        last["et0"], rain_mm=last["rain"], irrigation_mm=last["irrigation"], runoff_mm=last["runoff"], kc=last["kcb"],
        total_available_mm=last["available"], start_mm=np.full(5, 5.0),
        easy_fraction=easy_fraction(s["easy"][:, None], last["kcb"] * last["et0"]),
    )  # fmt: skip
    for i, _, passed in run(s):
        assert passed.depletion_mm == pytest.approx(zone.depletion_mm[:, i], abs=1e-9)


def test_a_mulch_saves_evaporation_only() -> None:
    # FAO-56 p. 197: soil evaporation falls under an organic mulch; what the plants take does not.
    s = season(11, (5,))
    s["available"] = np.full_like(s["available"], 5000.0)  # never short
    bare = sum(p.et_mm for _, _, p in run(s))
    mulched = sum(p.et_mm for _, _, p in run(s, evaporates=0.5))
    basal = (s["kcb"] * s["et0"]).sum(axis=0)
    assert (mulched < bare).all()
    assert (mulched > basal).all()
