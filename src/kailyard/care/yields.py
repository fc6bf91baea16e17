"""What a planting gives in a full season: from published yields, which spread widely, and from what was weighed here.

Every total is a multiple of the middle of the range that published yields give for the same ground, row and plants. How
this garden stands to that middle is learned crop by crop from plantings that were weighed through.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

import numpy as np

from kailyard.care.bearing import Bearing, FloatArray, ledger, left_standing
from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Bed, Entry, Planting
from kailyard.handbook.types import Fact, Handbook
from kailyard.season.draws import normal_chance, normal_point, strata
from kailyard.season.life import Life
from kailyard.season.odds import BEYOND
from kailyard.season.reasons import from_entry, from_fact, from_judgement
from kailyard.season.uses import meant, use_of_pick
from kailyard.season.view import SeasonView, area_m2
from kailyard.season.work.pick import YEARS_TABLED
from kailyard.units import convert

PLANTING_SPREAD = 0.35
"""Plantings of one crop in one garden differ so from each other and from year to year: log standard deviation."""

LEAST_CROP_SPREAD = 0.2
"""A garden may stand so far from the published middle even where the range is narrow: log standard deviation."""

RUN_SPREAD = 0.5
"""How far a picking may be ahead or behind its usual run half-way through: about this part of it, up or down."""

SEASONS_CARRY = 2
"""Kilograms are told once a crop was weighed through in so many seasons; until then words."""

WEIGHED_SHARE = 0.8
"""A planting counts as weighed through when so many of its pickings have a weight; the others are taken as the mean."""

ABSURD_FOLD = 5.0
"""A weight so many times above the highest published yield is asked about, and nothing is learned from it."""

LEAST_LEFT = 1e-6
"""So little of a run that nothing is to come of it."""

_PARTS, _POINTS = 64, 96
"""Steps of a run, and points of the whole's logarithm, between which nothing is told apart."""

TEN_TO_NINETY = 2.563
"""Standard deviations of a normal distribution between one in ten and nine in ten."""


@dataclass(frozen=True, slots=True)
class Published:
    """The range of one planting's season by one way of counting. [kg]"""

    basis: str
    """'per m²', 'per plant', 'per 3 m of row'"""
    low_kg: float
    high_kg: float
    facts: tuple[Fact, ...]


@dataclass(frozen=True, slots=True)
class Season:
    """One planting's pickings of one season for one use, as weighed."""

    planting: Planting
    year: int
    use: str
    """By its name in the handbook; '' where the crop has but one."""
    picks: tuple[Entry, ...]
    weighed_kg: float
    """Sum of the weights. [kg]"""
    unweighed: int
    ended: bool
    area_m2: float
    standing: float
    """Share of the full stand's crop that those left give."""
    full: float
    """Share of a grown bed's season that its year allows: young crowns are cut for fewer weeks. 0 to 1"""
    others: int = 0
    """Pickings of that season for other uses."""

    @property
    def weighed(self) -> int:
        """Pickings that have a weight."""
        return len(self.picks) - self.unweighed

    @property
    def through(self) -> bool:
        """Ended, weighed nearly always, and hardly picked for anything else."""
        return self.ended and self.weighed_kg > 0 and self.weighed >= WEIGHED_SHARE * (len(self.picks) + self.others)

    @property
    def kg(self) -> float:
        """The weight, pickings without one taken as the mean of those with. [kg]"""
        return self.weighed_kg * len(self.picks) / self.weighed if self.weighed else 0.0


@dataclass(frozen=True, slots=True)
class Standing:
    """How this garden stands to the published middle, for one crop: logarithms of the multiple."""

    mean: float
    variance: float
    """Of the mean itself, without the spread from planting to planting."""
    seasons: tuple[Season, ...]
    """Those it was learned from."""

    @property
    def carries(self) -> bool:
        """Whether the garden's own weights carry a figure in kilograms."""
        return len({season.year for season in self.seasons}) >= SEASONS_CARRY


def row_m(planting: Planting, bed: Bed | None) -> float | None:
    """Metres of row: by plants and distance where both are known, else by rows along the bed. [m]"""
    if planting.spacing_cm and planting.count > 1:
        return planting.count * planting.spacing_cm / 100
    along = planting.length_m or (bed.length_m if bed else None)
    return None if along is None else planting.rows * along


def published(planting: Planting, bed: Bed | None, handbook: Handbook, use: str = "") -> tuple[Published, ...]:
    """What is published of such a planting's season, each way of counting for itself; none where nothing is.

    Picked for another use than the crop's usual one it gives the multiple that the handbook has for that use.
    """
    crop = planting.crop
    times = [handbook.get(f"{crop}/{use}", f"use_yield_{end}") if use else None for end in ("min", "max")]
    least, most = (1.0 if fact is None else fact.number for fact in times)
    more = tuple(fact for fact in times if fact is not None)
    rows = row_m(planting, bed)
    counted = planting.start != "sown" or planting.count > 1
    ways = (
        ("per m²", "kg_per_m2_low", "kg_per_m2_high", area_m2(planting, bed) if bed else None),
        ("per plant", "kg_per_plant_min", "kg_per_plant_max", float(planting.count) if counted else None),
        ("per 3 m of row", "kg_per_3m_row_min", "kg_per_3m_row_max", None if rows is None else rows / 3),
    )
    out = []
    for basis, low_name, high_name, amount in ways:
        low, high = handbook.get(crop, low_name), handbook.get(crop, high_name)
        if low is not None and high is not None and amount is not None:
            facts = (low, high) if low.number != high.number else (low,)
            out.append(Published(basis, low.number * amount * least, high.number * amount * most, (*facts, *more)))
    return tuple(out)


def range_kg(ways: Iterable[Published]) -> tuple[float, float] | None:
    """The widest range that the ways of counting give together: they disagree, and none is firmer. [kg]"""
    found = tuple(ways)
    return (min(w.low_kg for w in found), max(w.high_kg for w in found)) if found else None


def seasons_of(view: SeasonView, life: Life) -> tuple[Season, ...]:
    """Every season of a planting in which anything was picked, by use; the oldest first."""
    planting, picks = life.planting, life.sightings.of("pick")
    by: dict[tuple[int, str], list[Entry]] = {}
    for entry in picks:
        year = entry.happened.year if view.perennial(planting) else picks[0].happened.year
        use = use_of_pick(view.handbook, planting, life.sightings.entries, entry)
        by.setdefault((year, use), []).append(entry)
    out = []
    for (year, use), mine in sorted(by.items()):
        others = sum(len(these) for (when, what), these in by.items() if when == year and what != use)
        kgs = [e.quantity for e in mine if e.unit == "kg" and e.quantity is not None]
        over = view.perennial(planting) and year < view.today.year
        ended = over or life.sightings.ended is not None or bool(mine[-1].payload.get("last"))
        ground = area_m2(planting, view.bed(planting))
        stand, full = left_standing(life, mine[-1].happened), full_share(view, life, year)
        bare = len(mine) - len(kgs)
        out.append(Season(planting, year, use, tuple(mine), sum(kgs), bare, ended, ground, stand, full, others))
    return tuple(out)


def full_share(view: SeasonView, life: Life, year: int) -> float:
    """Share of a grown bed's cutting weeks that the handbook allows crowns of that year; 1 for all else. 0 to 1"""
    planting, since = life.planting, life.sightings.planted or life.planting.since
    if since is None or view.fact(planting, "cut_weeks_year_1_max") is None:
        return 1.0

    def weeks(tabled: int) -> float:
        return sum(view.number(planting, f"cut_weeks_year_{tabled}_{end}", 0.0) for end in ("min", "max"))

    mine, grown = weeks(min(max(year - since.year + 1, 1), YEARS_TABLED)), weeks(YEARS_TABLED)
    return mine / grown if 0 < mine < grown else 1.0


def current(view: SeasonView, life: Life) -> Season | None:
    """The season that is on, of what was picked in it for its use; None where nothing was yet."""
    use = meant(view.handbook, life.planting.crop, life.use)
    found = [season for season in seasons_of(view, life) if season.use == use]
    return found[-1] if found and (not view.perennial(life.planting) or found[-1].year == view.today.year) else None


def standing_of(view: SeasonView, crop: str, use: str = "") -> Standing:
    """How this garden stands to the published middle, from every planting of the crop that was weighed through.

    What was picked for one use says nothing of another: each has a standing of its own; `use` '' is the usual one.

    Normal on logarithms: a garden's own level about the published middle, plantings about that level (Gelman et al.,
    Bayesian Data Analysis, section 2.5).
    """
    mine = meant(view.handbook, crop, use)
    lives = (life for life in view.lives.values() if life.planting.crop == crop)
    used, logs, widest = [], [], 0.0
    for season in (season for life in lives for season in seasons_of(view, life) if season.use == mine):
        found = range_of(view, season)
        if found is None or not season.through or absurd(season, found):
            continue
        used.append(season)
        widest = max(widest, _spread(found))
        logs.append(math.log(season.kg / season.standing / season.full / _middle(found)))
    if not used:
        return Standing(0.0, math.inf, ())
    prior = max(widest**2 - PLANTING_SPREAD**2, LEAST_CROP_SPREAD**2)
    variance = 1.0 / (1.0 / prior + len(logs) / PLANTING_SPREAD**2)
    return Standing(variance * sum(logs) / PLANTING_SPREAD**2, variance, tuple(used))


def range_of(view: SeasonView, season: Season) -> tuple[float, float] | None:
    """The widest published range of a full season of such a planting; None where nothing is published. [kg]"""
    return range_kg(published(season.planting, view.bed(season.planting), view.handbook, season.use))


def absurd(season: Season, found: tuple[float, float]) -> bool:
    """Whether a weight is so far above everything published that it must be asked about."""
    return season.weighed_kg > ABSURD_FOLD * found[1]


def rate_kg(view: SeasonView, life: Life, b: Bearing, garden: Standing, season: Season | None) -> FloatArray | None:
    """Weight of each share of a full stand's season that is not picked yet, one a possible season and draw.

    What was weighed narrows the whole, and is taken from it: the rest is spread over what is left of the run.

    Returns
    -------
    ndarray or None
        (traces, draws); None where nothing is published of the crop. [kg]
    """
    grown = range_kg(published(life.planting, view.bed(life.planting), view.handbook, life.use))
    if grown is None:
        return None
    begins = float(b.first.min())
    year = date.fromordinal(int(begins)).year if begins < BEYOND else view.today.year
    full = full_share(view, life, year)
    found = (grown[0] * full, grown[1] * full)
    z = normal_point(strata(view.draws, f"{life.planting.id}/yield"))[None, :]
    if season is None or season.weighed_kg <= 0 or absurd(season, found):
        return totals(found, garden, z, so_far_kg=0.0, share=np.zeros_like(b.first))
    share = picked_share(life, b, season)
    whole = totals(found, garden, z, so_far_kg=season.kg, share=share)
    return np.asarray(np.where(share > 0, (whole - season.kg) / np.maximum(1.0 - share, LEAST_LEFT), whole))


def totals(
    found: tuple[float, float], garden: Standing, z: FloatArray, *, so_far_kg: float, share: FloatArray
) -> FloatArray:
    """Draws of a full season's weight. [kg]

    Weight comes in as a gamma process runs: of a whole season the part that a share s of the run has brought is beta
    distributed (k s, k (1 - s)), k = 1 / `RUN_SPREAD`² (Johnson, Kotz and Balakrishnan, Continuous
    Univariate Distributions, vol. 2, 2nd ed. 1995, ch. 25: beta from two gammas). With that likelihood, and the normal
    of the logarithm as it was before anything was weighed, Bayes on a grid.

    Parameters
    ----------
    found
        Low and high of what is published: the middle eight tenths. [kg]
    garden
        How this garden stands to their middle.
    z
        Standard normal draws, (1, draws).
    so_far_kg
        Picked and weighed so far; 0: nothing. [kg]
    share
        The share of a full season that was picked by then, (traces, draws). [0 to 1]
    """
    crop = _spread(found)
    mean, variance = math.log(_middle(found)) + garden.mean, garden.variance + PLANTING_SPREAD**2
    if not garden.seasons:
        variance = max(crop, LEAST_CROP_SPREAD) ** 2
    spread = math.sqrt(variance)
    plain = np.broadcast_to(np.exp(mean + spread * z), share.shape)
    seen = share > 0.0
    if so_far_kg <= 0.0 or not seen.any():
        return plain
    place = np.clip(np.round(share * _PARTS), 1, _PARTS - 1).astype(np.int64)
    parts = np.unique(place[seen])
    weighed = math.log(so_far_kg)
    least = max(weighed + 1e-3, mean - 4.5 * spread)  # the whole is more than what was carried home
    logs = np.linspace(least, max(mean + 4.5 * spread, least + 1.5), _POINTS)
    a, c = (number[:, None] / (_PARTS * RUN_SPREAD**2) for number in (parts, _PARTS - parts))
    chance = -0.5 * ((logs - mean) / spread) ** 2 - a * logs + (c - 1.0) * np.log1p(-np.exp(weighed - logs))
    run = np.cumsum(np.exp(chance - chance.max(axis=1, keepdims=True)), axis=1)
    held, at = np.zeros((_PARTS, z.shape[1])), normal_chance(z)[0]
    for part, row in zip(parts.tolist(), run / run[:, -1:], strict=True):
        held[part] = np.interp(at, row, logs)
    return np.where(seen, np.exp(held[place, np.arange(z.shape[1])]), plain)


def picked_share(life: Life, b: Bearing, season: Season) -> FloatArray:
    """Share of a full stand's season that a season's pickings took, plants that were killed by then left out."""
    out, mine = np.zeros_like(b.first), {entry.id for entry in season.picks}
    for entry, share in zip(b.picks, ledger(b).picked, strict=True):
        if entry.id in mine:
            out = out + share * left_standing(life, entry.happened)
    return out


def grounds(view: SeasonView, life: Life, garden: Standing) -> tuple[Reason, ...]:
    """What a planting's amount rests on: every published yield, and the garden's own weights."""
    out: list[Reason] = []
    for way in published(life.planting, view.bed(life.planting), view.handbook, life.use):
        because = tuple(from_fact(fact, view.handbook, _named(fact, way)) for fact in way.facts)
        spoken = (
            f"By yields {way.basis} such a planting gives {weight_range(view, way.low_kg, way.high_kg)} in a season."
        )
        out.append(
            Reason(spoken, rests_on=RestsOn("computed", "ground, row or plants times the yield"), because=because)
        )
    for season in garden.seasons:
        last = season.picks[-1]
        out.append(from_entry(last, f"{season.planting.id} gave {season.kg:.3g} kg in {season.year}, weighed through."))
    if garden.seasons:
        out.append(
            from_judgement("Plantings of one garden differ so much, as a factor.", math.exp(PLANTING_SPREAD), "")
        )
    return tuple(out)


def _named(fact: Fact, way: Published) -> str:
    return "Times the usual, picked for this use." if fact.quantity.startswith("use_") else f"A yield {way.basis}."


def weight_range(view: SeasonView, low_kg: float, high_kg: float) -> str:
    """'3 to 8 kg', in the garden's units."""
    low, high = (convert(kg, "kg", view.garden.units) for kg in (low_kg, high_kg))
    said = [f"{round_two(value):g}" for value, _ in (low, high)]
    return f"{said[0]} {low[1]}" if said[0] == said[1] else f"{said[0]} to {said[1]} {low[1]}"


def round_two(value: float) -> float:
    """Two figures are all that a yield deserves."""
    return float(f"{value:.2g}")


def _middle(found: tuple[float, float]) -> float:
    return math.sqrt(found[0] * found[1])


def _spread(found: tuple[float, float]) -> float:
    return max(math.log(found[1] / found[0]) / TEN_TO_NINETY, LEAST_CROP_SPREAD)
