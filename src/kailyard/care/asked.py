"""What each day asks of the ground under each planting: weather into demand, stages into roots and cover."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np

from kailyard.care.balance import Day, FloatArray
from kailyard.care.ground import Soil, Taker, soil_of, taker_of
from kailyard.science.humidity import saturation_vapour_pressure_kpa
from kailyard.science.missing_weather import reference_et_of_days
from kailyard.science.soil_water import curve_number_runoff_mm
from kailyard.season.done import last_work
from kailyard.season.life import Life
from kailyard.season.odds import BEYOND
from kailyard.season.view import SeasonView, area_m2

DEEP_SEED_CM = 2.0
"""Seed sown so deep lies in ground that stays moist; what lies higher dries with the surface."""
FIRST_ROOTS_M = 0.15
"""Depth to which seedlings and plants newly set out draw water."""
MULCH_LETS = 0.5
"""Share of the evaporation under a mulch that covers the ground: 5 % less for each tenth covered (FAO-56, p. 197)."""
FILM_LETS, FILM_TAKES = 0.35, 0.9
"""Under a film: evaporation 50 to 80 % less, what plants take 5 to 15 % less (FAO-56, p. 195 to 197); the middle."""
FILMS = ("film", "plastic", "foil", "fabric", "membrane")
"""Words of a mulch that is a film."""
COVERED_ASKS = 0.7
"""Reference evapotranspiration under tunnel or glass beside that outside: less wind, less light."""
DRY_ROOFS = ("tunnel", "glass")
"""Covers that keep the rain off."""
COVERED_AT = 0.55
"""Where no flower is foreseen: share of the way from coming up to the harvest at which leaves cover the ground."""
OVER_WINTER_DAYS = 200.0
"""What stands longer has stood over a winter: then the way is counted in warmth, not in days."""
GROWS_ABOVE_C = 5.0
"""Hardy plants do not grow in days whose mean is below this."""
NO_COVER_YET_DAYS = 30.0
"""From coming up to full cover where neither flower nor harvest is foreseen."""
GROWS_DAYS = 120.0
"""From full cover on where no end is foreseen."""


@dataclass(frozen=True, slots=True, eq=False)
class Stand:
    """Plantings side by side, what they stand in and when they change. Arrays (P,) or (T, P), days as ordinals."""

    lives: tuple[Life, ...]
    soils: tuple[Soil, ...]
    takers: tuple[Taker, ...]
    area_m2: FloatArray
    begun: FloatArray
    initial_ends: FloatArray
    covered: FloatArray
    fades: FloatArray
    over: FloatArray
    """(T, P): end of the initial stage, full cover, beginning and end of the late season."""
    sparse: FloatArray
    """Taken off the mid-season coefficient of a stand thinner than usual (FAO-56 eq. 96)."""
    mulched_from: FloatArray
    film: np.ndarray
    """Whether the mulch is a film."""
    roofed: np.ndarray
    up: FloatArray
    """(T, P): day on which shallow-sown seed is up; 0 for what was not sown so."""
    ended: FloatArray
    """Day on which it was cleared; infinite where it stands."""

    def of(self, name: str) -> FloatArray:
        """A number of all soils. (P,)"""
        return np.array([getattr(s, name) for s in self.soils])

    def takes(self, name: str) -> FloatArray:
        """A number of all takers. (P,)"""
        return np.array([getattr(t, name) for t in self.takers], dtype=float)


def stand_of(view: SeasonView, lives: Sequence[Life]) -> Stand:
    """The plantings as they stand, their stages one for each possible season (the middle draw)."""
    book, traces = view.handbook, view.ensemble.traces
    soils = tuple(soil_of(view.bed(x.planting), book) for x in lives)
    takers = tuple(taker_of(x.planting.crop, book) for x in lives)
    spans = [_spans(view, life, taker) for life, taker in zip(lives, takers, strict=True)]
    columns = [np.stack([np.broadcast_to(s[i], (traces,)) for s in spans], axis=-1) for i in range(4)]
    begun = np.array([float(np.median(x.begun)) for x in lives])
    mulched = [last_work(x, "mulch") for x in lives]
    beds = [view.bed(x.planting) for x in lives]
    ended = [x.sightings.ended for x in lives]
    return Stand(
        lives=tuple(lives),
        soils=soils,
        takers=takers,
        area_m2=np.array([area_m2(x.planting, b) / _sharing(x, lives) for x, b in zip(lives, beds, strict=True)]),
        begun=begun,
        initial_ends=columns[0],
        covered=columns[1],
        fades=columns[2],
        over=columns[3],
        sparse=np.array([_sparse(view, x) for x in lives]),
        film=np.array([bool(e and any(w in str(e.payload.get("what")).lower() for w in FILMS)) for e in mulched]),
        mulched_from=np.array([float(e.happened.toordinal()) if e else np.inf for e in mulched]),
        roofed=np.array([bool(b and b.cover in DRY_ROOFS) for b in beds]),
        up=np.stack([np.broadcast_to(_seed_up(view, x), (traces,)) for x in lives], axis=-1),
        ended=np.array([float(day.toordinal()) if day else np.inf for day in ended]),
    )


def _sharing(life: Life, lives: Sequence[Life]) -> int:
    """Among how many plantings the bed is parted, where nobody has said how much of it this one takes."""
    if life.planting.length_m:
        return 1
    mine = _stood(life)
    spans = [_stood(other) for other in lives if other.planting.bed == life.planting.bed]
    return max(sum(first < mine[1] and mine[0] < last for first, last in spans), 1)


def _stood(life: Life) -> tuple[float, float]:
    ended = life.sightings.ended
    begun = float(np.median(life.begun))
    return begun, max(float(ended.toordinal()) if ended else np.inf, begun + 1)


def _seed_up(view: SeasonView, life: Life) -> FloatArray:
    """Until which day seed lies near the surface and must not dry out. (T,) or ()"""
    nothing = np.asarray(0.0)
    if life.planting.start != "sown" or view.number(life.planting, "depth_cm_max", DEEP_SEED_CM) >= DEEP_SEED_CM:
        return nothing
    up = _middle(life, "emerged")
    return nothing if up is None else up


def _middle(life: Life, *names: str) -> FloatArray | None:
    """The first of the stages that is foreseen, its middle draw in each possible season. (T,)"""
    for name in names:
        odds = life.stage(name)
        if odds is not None:
            days = odds.days
            middle = np.partition(days, days.shape[1] // 2, axis=1)[:, days.shape[1] // 2]
            if int(middle.min()) < BEYOND:
                return np.minimum(middle, np.int32(life.begun[0, 0] + 400)).astype(float)
    return None


def _spans(view: SeasonView, life: Life, taker: Taker) -> tuple[FloatArray, ...]:
    """End of the initial stage, full cover, beginning and end of the late season. (T,) or ()

    From the season's own stages: full cover with the first flower, the end with the last picking; between them as the
    printed stage lengths are to each other (FAO-56 Table 11), where they are printed.
    """
    begun = np.asarray(float(np.median(life.begun)))
    perennial = view.perennial(life.planting)
    up = _middle(life, "emerged") if life.planting.start in ("sown", "planted") else None
    up = begun if up is None else np.maximum(up, begun) if not perennial else up
    over = _middle(life, "last-harvest", "mature", "first-harvest")
    flower = _middle(life, "first-flower", "first-male-flower")
    if perennial:
        # It stands already: its leaves close some weeks after coming up, and it goes on into autumn.
        covered = up + NO_COVER_YET_DAYS
        return up, covered, covered + GROWS_DAYS * (1 - taker.late_share), covered + GROWS_DAYS
    if flower is not None:
        covered = np.maximum(flower, up + 10)
    elif over is not None and float(np.median(over - up)) > OVER_WINTER_DAYS:
        covered = np.maximum(_when_warm(view, up, over, COVERED_AT), up + 10)
        first = _when_warm(view, up, covered, taker.initial_share)
        return first, covered, over - (over - covered) * taker.late_share, over
    elif over is not None:
        covered = np.maximum(up + (over - up) * COVERED_AT, up + 10)
    else:
        covered = up + NO_COVER_YET_DAYS
    over = covered + GROWS_DAYS if over is None else np.maximum(over, covered + 5)
    first = up + (covered - up) * taker.initial_share
    return first, covered, over - (over - covered) * taker.late_share, over


def _when_warm(view: SeasonView, up: FloatArray, over: FloatArray, share: float) -> FloatArray:
    """Day by which so large a share of the warmth between two days has come: winter counts for nothing. (T,)"""
    e = view.ensemble
    warm = np.cumsum(np.maximum((e.tmin_c + e.tmax_c) / 2 - GROWS_ABOVE_C, 0.0), axis=1)
    start, end = (
        np.clip(np.broadcast_to(day, len(warm)) - e.first.toordinal(), 0, warm.shape[1] - 1).astype(int)
        for day in (up, over)
    )
    rows = np.arange(len(warm))
    wanted = warm[rows, start] + share * (warm[rows, end] - warm[rows, start])
    return np.asarray((warm < wanted[:, None]).sum(axis=1) + float(e.first.toordinal()))


def _sparse(view: SeasonView, life: Life) -> float:
    """What is taken off for plants set wider than the handbook has them."""
    planting = life.planting
    if not planting.spacing_cm or not planting.row_cm:
        return 0.0
    usual = [view.number(planting, q, 0.0) for q in ("spacing_cm_max", "row_cm_max")]
    if not all(usual):
        usual = [view.number(planting, "bed_cm_max", 0.0)] * 2
    if not all(usual):
        return 0.0
    dense = min(usual[0] * usual[1] / (planting.spacing_cm * planting.row_cm), 1.0)
    return 1.0 - float(np.sqrt(dense))


def days_asked(view: SeasonView, stand: Stand, first: int, count: int, *, past: bool, fallen_mm: float = 0.0) -> Day:
    """`count` days from column `first` of the possible seasons: (days, P) where past, (days, T, P) where to come.

    `fallen_mm`: rain of the first of the days to come that the garden's gauge has already; more may fall. Before a
    planting begins and after it is cleared its ground is bare: what lies on top dries, and nothing is taken below.
    """
    e = view.ensemble
    columns = slice(first, first + count)
    rows = slice(0, 1) if past else slice(None)
    low, high, rain = (a[rows, columns].T for a in (e.tmin_c, e.tmax_c, e.rain_mm))
    if fallen_mm:
        rain = np.concatenate([np.maximum(rain[:1], fallen_mm), rain[1:]])
    start = e.first.toordinal() + first
    ordinals = np.arange(start, start + count, dtype=float)
    et0 = reference_et(view, first, count, past=past)
    at = ordinals[:, None] if past else ordinals[:, None, None]
    marks = [stand.initial_ends, stand.covered, stand.fades, stand.over]
    initial, covered, fades, over = (np.median(m, axis=0) if past else m for m in marks)
    ini, height = stand.takes("ini"), stand.takes("height_m")
    root = np.minimum(stand.takes("root_m"), stand.of("deep_m"))
    lift = _climate_lift(low, high) * (height / 3) ** 0.3
    mid = np.maximum(stand.takes("mid") + lift - stand.sparse, ini)
    tabled = stand.takes("end")
    end = np.where(tabled >= 0.45, tabled + lift, tabled) - stand.sparse
    grown = np.clip((at - initial) / np.maximum(covered - initial, 1.0), 0.0, 1.0)
    faded = np.clip((at - fades) / np.maximum(over - fades, 1.0), 0.0, 1.0)
    kcb = np.clip(ini + (mid - ini) * grown - np.maximum(mid - end, 0.0) * faded, 0.0, 2.0)
    dual = stand.takes("dual") > 0
    mulched = at >= stand.mulched_from
    kcb = np.where(mulched & stand.film, FILM_TAKES, 1.0) * kcb
    kcb = np.where((at >= stand.begun) & (at < stand.ended) | ~dual, kcb, 0.0)
    tall = np.maximum(height * grown, 0.05)
    most = np.where(dual, np.maximum(1.2 + _climate_lift(low, high) * (tall / 3) ** 0.3, kcb + 0.05), kcb)
    part = np.clip((kcb - 0.15) / np.maximum(most - 0.15, 0.05), 0.0, 1.0)
    cover = np.where(dual, np.minimum(part ** (1 + 0.5 * tall), 0.99), 0.0)
    deep = np.clip((at - stand.begun) / np.maximum(covered - stand.begun, 1.0), 0.0, 1.0)
    roots = np.minimum(FIRST_ROOTS_M + np.maximum(root - FIRST_ROOTS_M, 0.0) * deep, root)
    fell = rain[:, :, None] if not past else rain
    fell = np.where(stand.roofed, 0.0, fell)
    run = np.zeros_like(fell)
    if float(rain.max(initial=0.0)) > 5.0:
        numbers = stand.of("curve_number")
        for number in np.unique(numbers):
            mine = numbers == number
            run[..., mine] = curve_number_runoff_mm(fell[..., mine], number)
    asks = (et0 if past else et0[:, :, None]) * np.where(stand.roofed, COVERED_ASKS, 1.0)
    mulch = np.where(mulched, np.where(stand.film, FILM_LETS, MULCH_LETS), 1.0)
    available = 1000 * (stand.of("full") - stand.of("dry")) * roots
    shape = np.broadcast_shapes(asks.shape, kcb.shape, cover.shape)
    spread = [np.broadcast_to(x, shape) for x in (asks, fell, run, kcb, most, cover, mulch, available)]
    return Day._make((*spread, stand.takes("easy") * stand.of("easy_times")))


def reference_et(view: SeasonView, first: int, count: int, *, past: bool = True) -> FloatArray:
    """FAO-56 reference evapotranspiration with its estimates of humidity, sun and wind. (days, 1) or (days, T) [mm]"""
    e, site = view.ensemble, view.garden.site
    rows = slice(0, 1) if past else slice(None)
    low, high = (a[rows, first : first + count].T for a in (e.tmin_c, e.tmax_c))
    dates = np.datetime64(date.fromordinal(e.first.toordinal() + first), "D") + np.arange(count)
    yeardays = (dates - dates.astype("M8[Y]").astype("M8[D]")).astype(float) + 1
    found = reference_et_of_days(
        np.clip(low, -60, 60),
        np.clip(np.maximum(high, low), -60, 60),
        latitude_deg=site.latitude,
        day_of_year=yeardays[:, None],
        elevation_m=site.elevation_m,
    )
    return np.maximum(found.et_mm, 0.0)


def _climate_lift(low: FloatArray, high: FloatArray) -> float:
    """The bracket of FAO-56 eq. 70 and 72, wind 2 m/s and the dew point at the minimum, over the days at hand."""
    humid = (
        100
        * float(np.mean(saturation_vapour_pressure_kpa(low)))
        / max(float(np.mean(saturation_vapour_pressure_kpa(high))), 1e-6)
    )
    return -0.004 * (min(max(humid, 20.0), 80.0) - 45.0)
