"""A stage seen between two walks, and the next one after it: what both say of the multiplier, against brute force."""

from __future__ import annotations

from datetime import date, timedelta

import numpy as np
import pytest
from gardens import record

from kailyard.season.clock import CALENDAR, Clocks
from kailyard.season.ladder import Requirement, Timeline
from kailyard.season.learning import GRID, OBSERVED_SPREAD
from kailyard.season.life import likelihood
from kailyard.season.sightings import Between, Sightings
from kailyard.weather.ensemble import build_ensemble

SET_OUT = date(2025, 5, 1)
FLOWER_DAYS, FRUIT_DAYS, OWN = 30.0, 20.0, 0.05


def _seen(flower: tuple[int, int], harvest: tuple[int, int | None]) -> Sightings:
    def day(number: int | None) -> date | None:
        return None if number is None else SET_OUT + timedelta(days=number)

    stages = {
        "first-flower": Between(day(flower[0]), day(flower[1])),
        "first-harvest": Between(day(harvest[0]), day(harvest[1])),
    }
    return Sightings(
        sown=None,
        under_cover=False,
        set_out=SET_OUT,
        planted=None,
        ended=None,
        stages=stages,
        partial=(),
        alive=None,
        covered=None,
        entries=(),
    )


def _mean_and_spread(weights: np.ndarray) -> tuple[float, float]:
    share = weights / weights.sum()
    mean = float((share * GRID).sum())
    return mean, float(np.sqrt((share * (GRID - mean) ** 2).sum()))


def _brute_force(flower: tuple[int, int], harvest: tuple[int, int | None]) -> np.ndarray:
    # Every multiplier lives a hundred thousand times by the definition: a stage's own luck, an entry off by what the
    # learner supposes, the next stage from the end of the day of the one before. What share leaves these entries?
    rng = np.random.default_rng(11)
    own, off = rng.normal(0.0, OWN, (2, 100_000)), rng.normal(0.0, OBSERVED_SPREAD, (2, 100_000))
    last = np.inf if harvest[1] is None else harvest[1]
    shares = []
    for log in GRID:
        looks = FLOWER_DAYS * np.exp(log + own[0] + off[0])
        flowers = np.ceil(FLOWER_DAYS * np.exp(log + own[0]))
        ripe = flowers + FRUIT_DAYS * np.exp(log + own[1] + off[1])
        shares.append(np.mean((looks > flower[0]) & (looks <= flower[1]) & (ripe > harvest[0]) & (ripe <= last)))
    return np.array(shares)


@pytest.mark.parametrize(
    ("flower", "harvest"),
    [((28, 29), (49, 50)), ((28, 35), (49, 56)), ((28, 35), (45, None)), ((21, 35), (49, 63)), ((32, 36), (49, 53))],
)
def test_walks_teach_what_brute_force_says(flower: tuple[int, int], harvest: tuple[int, int | None]) -> None:
    way = Timeline(
        anchor="set-out",
        emergence_key=None,
        emergence=None,
        key=CALENDAR,
        stages=(Requirement("first-flower", FLOWER_DAYS, OWN), Requirement("first-harvest", FRUIT_DAYS, OWN)),
        harvest="first-harvest",
        rung=4,
        crop_spread=0.1,
        cultivar_spread=0.1,
        planting_spread=0.1,
        harvest_days=(10.0, 20.0),
    )
    ensemble = build_ensemble(record(), today=SET_OUT + timedelta(days=70), start=SET_OUT - timedelta(days=10))
    clocks = Clocks(ensemble, garden_tmin_c=ensemble.tmin_c)
    anchor = np.full((ensemble.traces, 1), SET_OUT.toordinal(), dtype=np.int32)
    found = likelihood(clocks, way, _seen(flower, harvest), anchor)
    assert found is not None
    prior = np.exp(-0.5 * (GRID / 0.17) ** 2)
    mean, spread = _mean_and_spread(prior * found)
    true_mean, true_spread = _mean_and_spread(prior * _brute_force(flower, harvest))
    assert mean == pytest.approx(true_mean, abs=0.012)
    assert spread == pytest.approx(true_spread, rel=0.15)
