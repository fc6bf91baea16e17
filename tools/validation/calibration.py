"""Simulation-based calibration: seasons drawn from what the engine itself believes, entered, learnt, and ranked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from kailyard.garden.model import Bed, Entry, Garden, Planting, Site
from kailyard.handbook.load import load_handbook
from kailyard.handbook.types import Handbook
from kailyard.season.clock import Clock, Clocks
from kailyard.season.ladder import OWN_SPREAD, Timeline, timeline
from kailyard.season.learning import OBSERVED_SPREAD
from kailyard.season.view import foresee
from kailyard.weather.ensemble import build_ensemble
from kailyard.weather.record import DailyRecord, read_only
from tools.validation._data import aligned
from tools.validation._scores import EVEN_LIMIT, FloatArray, unevenness

TITLE = """\
Simulation-based calibration (Talts and others, arXiv 1804.06788, 2018). For each simulation: 25 years of made-up
weather and this year's, drawn alike; three sowings of one crop, two of them of one cultivar; what they need drawn from
the engine's priors (crop, cultivar, planting, emergence, each stage's own part); walks every so many days up to a
random day, with 'not yet' and 'seen' entered. The engine foresees that day. The rank of the true multiplier, and of the
true day of first picking, among the draws of one planting must fall anywhere from 0 to 1 alike: chi-square over ten
bins, mean 0.5, standard deviation 0.289. Entries are exact, or off as the learner supposes (4 in 100 of what the stage
needs)."""

YEAR = 2024
FIRST = date(YEAR - 25, 1, 1)
WRITTEN = datetime(2000, 1, 1, tzinfo=UTC)
SOWN: Mapping[str, tuple[str, date]] = {
    "one": ("A", date(YEAR, 5, 10)),
    "two": ("A", date(YEAR, 6, 5)),
    "three": ("B", date(YEAR, 5, 25)),
}
KEPT = 0.8
"""Share of the walks that are entered."""
BINS = 10
DRAWS = 50
SPELL = 0.75 ** np.arange(20)
SIMULATIONS = 2000


@dataclass(frozen=True, slots=True)
class Set:
    """What is simulated."""

    crop: str
    walks: tuple[int, int]
    """Fewest and most days between walks; the number is drawn once a planting. (0, 0): nothing is entered."""
    slip: float
    """Spread of what an entry is off by, of the logarithm of the stage's requirement."""


@dataclass(frozen=True, slots=True)
class Ranked:
    """Ranks of the truth in one simulation. [0 to 1]"""

    multiplier: float
    harvest: float


def made_up(rng: np.random.Generator) -> DailyRecord:
    """25 years and this one: a sine through the year, warm and cold spells on it, no trend."""
    n = (date(YEAR, 12, 31) - FIRST).days + 1
    kernel = SPELL / np.sqrt((SPELL**2).sum())
    spell_c = 3.0 * np.convolve(rng.normal(size=n + len(SPELL) - 1), kernel, "valid")
    mean_c = 11.0 - 11.0 * np.cos(2 * np.pi * (np.arange(n) - 20) / 365.25) + spell_c
    half_c = np.maximum(rng.normal(5.0, 1.0, n), 1.0)
    return DailyRecord(FIRST, read_only(mean_c - half_c), read_only(mean_c + half_c), read_only(np.zeros(n)), "made up")


@cache
def _handbook() -> Handbook:
    return load_handbook()


def _reached(clock: Clock, after: int, needed: float) -> int:
    """Day on which so many degrees have passed since the end of the day `after`."""
    start = np.array([[after]], dtype=np.int32)
    return int(clock.reach(clock.reading(start) + needed)[0, 0])


def _lived(
    clocks: Clocks, way: Timeline, sown: date, log_multiplier: float, slip: float, rng: np.random.Generator
) -> tuple[dict[str, int], dict[str, int]]:
    """True days of the stages, and the days on which they look reached."""
    assert way.emergence is not None
    assert way.emergence_key is not None
    up = way.emergence.amount * np.exp(way.emergence.spread * rng.normal())
    at = _reached(clocks.clock(way.emergence_key), sown.toordinal(), up)
    true, looks, clock = {"emerged": at}, {"emerged": at}, clocks.clock(way.key)
    for need in way.stages:
        log = log_multiplier + max(need.spread, OWN_SPREAD) * rng.normal()
        looks[need.stage] = _reached(clock, at, need.amount * np.exp(log + slip * rng.normal()))
        at = true[need.stage] = _reached(clock, at, need.amount * np.exp(log))
    return true, looks


def _walked(
    target: str, sown: date, today: date, looks: Mapping[str, int], of: Set, rng: np.random.Generator
) -> Iterator[Entry]:
    """The sowing, then on each walk what the next stage looks like."""
    yield Entry(f"{target}-0", "sow", 1, sown, WRITTEN, target=target)
    if of.walks[1] == 0:
        return
    every = int(rng.integers(of.walks[0], of.walks[1] + 1))
    ahead = list(looks)
    for day in range(sown.toordinal() + int(rng.integers(1, every + 1)), today.toordinal(), every):
        if ahead and rng.random() < KEPT:
            state = "seen" if looks[ahead[0]] <= day else "not yet"
            payload = {"stage": ahead[0], "state": state}
            yield Entry(f"{target}-{day}", "stage", 1, date.fromordinal(day), WRITTEN, target=target, payload=payload)
            if state == "seen":
                ahead.pop(0)


def ranked(of: Set, seed: int) -> Ranked:
    """One simulation."""
    rng = np.random.default_rng(seed)
    record = made_up(rng)
    lived = build_ensemble(
        record,
        today=date(YEAR, 12, 31),
        start=date(YEAR, 3, 1),
        use_trend=False,
        most_traces=5,
        horizon_days=1,
    )
    clocks = Clocks(lived, garden_tmin_c=lived.tmin_c)
    today = date(YEAR, 6, 7) + timedelta(days=int(rng.integers(0, 85)))
    plantings = {id_: Planting(id_, of.crop, "bed", "sown", cultivar=c) for id_, (c, _) in SOWN.items()}
    way = timeline(plantings["one"], None, _handbook())
    assert way is not None
    crop = way.crop_spread * rng.normal()
    cultivars = {c: crop + way.cultivar_spread * rng.normal() for c in "AB"}
    entries: list[Entry] = []
    truth: dict[str, tuple[float, int]] = {}
    for id_, (cultivar, sown) in SOWN.items():
        log_multiplier = cultivars[cultivar] + way.planting_spread * rng.normal()
        true, looks = _lived(clocks, way, sown, log_multiplier, of.slip, rng)
        truth[id_] = log_multiplier, true[way.harvest]
        entries += _walked(id_, sown, today, looks, of, rng)
    entries.sort(key=lambda e: (e.happened, e.written, e.id))
    bed = Bed("bed", "bed", 5.0, 1.2)
    garden = Garden(f"simulated {seed}", Site(45.0, 0.0), "metric", {"bed": bed}, {}, plantings, tuple(entries))
    ensemble = build_ensemble(record, today=today, start=date(YEAR, 3, 1), use_trend=False, horizon_days=250)
    life = foresee(garden, ensemble, _handbook(), draws=DRAWS).lives[sorted(SOWN)[int(rng.integers(len(SOWN)))]]
    log_multiplier, harvest = truth[life.planting.id]
    return Ranked(
        _rank(np.log(life.multiplier), log_multiplier, rng), _rank(life.stages[way.harvest].days.ravel(), harvest, rng)
    )


def _rank(draws: FloatArray | NDArray[np.int32], truth: float, rng: np.random.Generator) -> float:
    """Rank of the truth among draws, ties and what lies between two ranks by lot. [0 to 1]"""
    below = np.count_nonzero(draws < truth) + rng.integers(np.count_nonzero(draws == truth) + 1)
    return float((below + rng.random()) / (draws.size + 1))


def all_ranked(of: Set, simulations: int) -> tuple[FloatArray, FloatArray]:
    """Ranks of the multiplier and of the harvest over so many simulations."""
    found = [ranked(of, seed) for seed in range(simulations)]
    return np.array([r.multiplier for r in found]), np.array([r.harvest for r in found])


SETS = (
    ("nothing entered", Set("bean-bush", (0, 0), 0.0)),
    ("walks of 2-7 days, entries as supposed", Set("bean-bush", (2, 7), OBSERVED_SPREAD)),
    ("walks of 2-7 days, entries exact", Set("bean-bush", (2, 7), 0.0)),
    ("every day, entries exact", Set("bean-bush", (1, 1), 0.0)),
    ("walks of 2-7 days, entries as supposed", Set("sweet-corn", (2, 7), OBSERVED_SPREAD)),
    ("walks of 2-7 days, entries exact", Set("carrot", (2, 7), 0.0)),
)


def lines(shared: Path) -> Iterable[str]:
    """The table; `shared` is not needed."""
    in_100, in_1000 = EVEN_LIMIT[BINS]
    table = [["crop", "entries", "of", "mean", "sd", "chi-square", *(f".{i}" for i in range(BINS))]]
    for words, of in SETS:
        for name, places in zip(("multiplier", "harvest"), all_ranked(of, SIMULATIONS), strict=True):
            counts = np.bincount((np.minimum(places, 1 - 1e-9) * BINS).astype(int), minlength=BINS)
            figures = [f"{places.mean():.3f}", f"{places.std():.3f}", f"{unevenness(places, BINS):.1f}"]
            table.append([of.crop, words, name, *figures, *map(str, counts)])
    yield from aligned(table, left=3)
    yield ""
    yield f"{SIMULATIONS} simulations a row. Even ranks pass {in_100:.1f} once in 100 rows, {in_1000:.1f} once in 1000."
