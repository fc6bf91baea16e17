"""What the garden's own instruments say: the minimum's offset from the station, and the rain gauge's readings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np

from kailyard.weather.days import year_month_slot
from kailyard.weather.ensemble import Ensemble
from kailyard.weather.judge import POSSIBLE
from kailyard.weather.judging import Days, Doubt, doubts
from kailyard.weather.record import DailyRecord, FloatArray, IntArray, SetAside, read_only
from kailyard.weather.rules import gauge
from kailyard.weather.short import normal_scores

COLD_NIGHT_C = 10.0
"""Only nights with a station minimum at or below this teach the offset: gardens differ most on cold, still nights."""
PRIOR_NIGHTS = 10.0
"""The stated offset counts as this many nights of readings (ours)."""
LARGEST_OFFSET_C = 15.0
"""A larger difference in one night is a misread or misdated thermometer, and is left out (ours)."""
SEASONS = ("winter", "spring", "summer", "autumn")
"""December to February, March to May, June to August, September to November, in the north; the same months south."""
CLEAR_SHARE = 2 / 3
"""A night is taken for clear where the day's range at the station (high less low) is above this share of that month's
days: two in three are not. At De Bilt they have 3.3 to 4.9 oktas of cloud on average, the others 5.9 to 6.6 (KNMI)."""
NIGHT_SPREAD_C = 1.5
"""Standard deviation of one night's difference before readings tell it; counts as `PRIOR_NIGHTS` (ours). [°C]"""
NIGHTS_HANG_TOGETHER = 1.5
"""By so much the error of a mean of nights is larger than of as many that know nothing of each other (ours)."""
MOST_DAYS_PAST_END = 366
"""Gauge readings reach no further beyond the end of the station's record than this."""


@dataclass(frozen=True, slots=True)
class SiteOffset:
    """Garden minimum less station minimum on cold nights, and how it came about."""

    offset_c: float
    """The estimate to use. [°C]"""
    stated_c: float
    """What was believed before any reading. [°C]"""
    read_c: float | None
    """Mean difference over the nights used; None without any. [°C]"""
    nights: int
    weight: float
    """Share that the readings have in the estimate. [0 to 1]"""
    notes: tuple[str, ...]
    """How it came about, and nights not used and why, in words."""
    not_used: tuple[str, ...]
    """Those of the notes that tell of nights not used."""
    by_season_c: tuple[float, ...]
    """What each season of `SEASONS` adds. [°C]"""
    clear_c: float
    """A clear night less one that is not, at the garden against the station. [°C]"""
    clear_share: float
    """Share of clear nights among those read. [0 to 1]"""
    clear_range_c: tuple[float, ...]
    """By month: a day of a larger range at the station is followed or led by a clear night. [°C]"""
    error_c: float
    """Standard error of `offset_c`. [°C]"""


def teach_site(
    record: DailyRecord,
    garden_tmin_c: Mapping[date, float],
    *,
    stated_c: float,
    prior_nights: float = PRIOR_NIGHTS,
) -> SiteOffset:
    """The garden's offset from its station, from nights on which both were read.

    The mean difference over `n` cold nights is drawn towards the stated offset with weight `n / (n + prior_nights)`:
    one reading hardly moves it, a spring of readings carries it. What a season's nights differ from the mean of all,
    and clear nights from the others, is drawn towards none in the same way; so is the night's own spread towards
    `NIGHT_SPREAD_C`, of which the error is made.

    Parameters
    ----------
    record : DailyRecord
        The station's record.
    garden_tmin_c : mapping
        Garden thermometer's minimum by the date the station gives that night. [°C]
    stated_c : float
        Offset as the gardener believes it. [°C]
    prior_nights : float
        Nights that the stated offset is worth, above 0.
    """
    if prior_nights <= 0:
        raise ValueError("prior_nights must be above 0")
    used: list[float] = []
    at: list[int] = []
    far: list[date] = []
    warm = unpaired = 0
    base = record.first.toordinal()
    for day in sorted(garden_tmin_c):
        i = day.toordinal() - base
        station = float(record.tmin_c[i]) if 0 <= i < len(record) else float("nan")
        difference = garden_tmin_c[day] - station
        if not np.isfinite(difference):
            unpaired += 1
        elif station > COLD_NIGHT_C:
            warm += 1
        elif abs(difference) > LARGEST_OFFSET_C:
            far.append(day)
        else:
            used.append(difference)
            at.append(i)
    n = len(used)
    weight = n / (n + prior_nights)
    read = float(np.mean(used)) if used else None
    offset = stated_c if read is None else weight * read + (1 - weight) * stated_c
    if read is None:
        notes = [f"No cold night read in the garden yet: the stated {stated_c:+.1f} °C stands."]
    else:
        nights = f"{n} cold night{'s' if n > 1 else ''} read in the garden"
        notes = [
            f"{nights}: {read:+.1f} °C against the station on average; stated {stated_c:+.1f} °C; "
            f"the readings weigh {weight:.0%}."
        ]
    not_used = []
    if warm:
        not_used.append(f"{warm} night{'s' if warm > 1 else ''} above {COLD_NIGHT_C:g} °C at the station: not counted.")
    if unpaired:
        not_used.append(
            f"{unpaired} garden reading{'s' if unpaired > 1 else ''} without a station minimum: not counted."
        )
    not_used += [
        f"{d.isoformat()}: garden minimum {garden_tmin_c[d]:g} °C lies too far from the station's to count. Check it."
        for d in far
    ]
    notes += not_used
    fine = _finer(record, np.array(at, dtype=np.int64), np.array(used), prior_nights)
    if n and max(map(abs, (*fine[0], fine[1]))) >= 0.1:
        told = ", ".join(f"{name} {c:+.1f}" for name, c in zip(SEASONS, fine[0], strict=True) if c)
        notes.append(f"By season {told} °C; clear nights {fine[1]:+.1f} °C against the others; error {fine[4]:.1f} °C.")
    return SiteOffset(offset, stated_c, read, n, weight, tuple(notes), tuple(not_used), *fine)


def nightly_offsets(site: SiteOffset, ensemble: Ensemble) -> FloatArray:
    """Garden minimum less station minimum for every night of every possible season. (traces, days) [°C]

    From `today` on each possible season has the calibration's error as one of evenly spread normal draws; nights that
    are past are alike in all.
    """
    _, months, _ = year_month_slot(ensemble.first.toordinal() + np.arange(ensemble.tmin_c.shape[1]))
    clear = ensemble.tmax_c - ensemble.tmin_c > np.array(site.clear_range_c)[months]
    season = np.array(site.by_season_c)[_season(months)]
    offsets = site.offset_c + season + site.clear_c * (clear - site.clear_share)
    error = np.random.Generator(np.random.PCG64(11)).permutation(normal_scores(ensemble.traces)) * site.error_c
    offsets[:, ensemble.today_index :] += error[:, None]
    return read_only(offsets)


def _season(months: IntArray) -> IntArray:
    """Place in `SEASONS`; January is month 0."""
    return np.asarray((months + 1) % 12 // 3)


def _finer(
    record: DailyRecord, at: IntArray, used: FloatArray, prior_nights: float
) -> tuple[tuple[float, ...], float, float, tuple[float, ...], float]:
    """By season, clear nights, their share, the range that marks them by month, and the standard error."""
    days = Days(record)
    spans = record.tmax_c - record.tmin_c
    limits = []
    for m in range(12):
        there = spans[(days.months == m) & ~np.isnan(spans)]
        limits.append(float(np.quantile(there, CLEAR_SHARE)) if len(there) else float("inf"))
    n = len(used)
    if not n:
        return (0.0,) * 4, 0.0, 1 - CLEAR_SHARE, tuple(limits), _error(NIGHT_SPREAD_C, 0, prior_nights)
    left = used - used.mean()
    clear = spans[at] > np.array(limits)[days.months[at]]
    seasons = _season(days.months[at])
    by_season, counts = np.zeros(4), np.bincount(seasons, minlength=4)
    clear_c, share = 0.0, float(clear.mean())
    for _ in range(10):  # each is what the other leaves; they settle after a few rounds
        rest = left - clear_c * (clear - share)
        sums = np.bincount(seasons, weights=rest, minlength=4)
        by_season = sums / (counts + prior_nights)
        rest = left - by_season[seasons]
        pairs = n * share * (1 - share)
        if pairs:
            clear_c = float(rest[clear].mean() - rest[~clear].mean()) * pairs / (pairs + prior_nights)
    rest = left - by_season[seasons] - clear_c * (clear - share)
    spread = float(np.sqrt((prior_nights * NIGHT_SPREAD_C**2 + (rest**2).sum()) / (prior_nights + n)))
    return tuple(by_season.tolist()), clear_c, share, tuple(limits), _error(spread, n, prior_nights)


def _error(spread_c: float, nights: int, prior_nights: float) -> float:
    return float(spread_c * NIGHTS_HANG_TOGETHER / np.sqrt(nights + prior_nights))


def win_over_estimates(record: DailyRecord, gauge_mm: Mapping[date, float]) -> tuple[DailyRecord, tuple[str, ...]]:
    """The record with the garden's rain gauge in place of the station's rain on the days it was read, and what changed.

    A reading past the end of the record lengthens it; its temperatures are missing there. A reading outside the
    possible, before the record, or more than a year past its end is set aside.

    Parameters
    ----------
    gauge_mm : mapping
        Rain of the day by date. [mm, 0 to 1900]
    """
    low, high, unit = POSSIBLE["rain"]
    base = record.first.toordinal()
    used: dict[int, float] = {}
    aside: list[SetAside] = []
    for day in sorted(gauge_mm):
        i, value = day.toordinal() - base, gauge_mm[day]
        said = f"rain gauge {value:g} {unit}"
        if not low <= value <= high:
            aside.append(SetAside(0, day, said, f"outside the possible, {low:g} to {high:g} {unit}", "daybook"))
        elif not 0 <= i < len(record) + MOST_DAYS_PAST_END:
            aside.append(SetAside(0, day, said, "not within the station's record", "daybook"))
        else:
            used[i] = value
    if not used and not aside:
        return record, ()
    length = max([len(record), *(i + 1 for i in used)])
    columns = [np.full(length, np.nan) for _ in range(3)]
    for column, values in zip(columns, (record.tmin_c, record.tmax_c, record.rain_mm), strict=True):
        column[: len(record)] = values
    at = np.array(sorted(used), dtype=np.int64)
    new = np.array([used[i] for i in sorted(used)], dtype=np.float64)
    before = columns[2][at]
    columns[2][at] = new
    notes = []
    if len(at):
        both = ~np.isnan(before)
        notes.append(
            f"Rain of {len(at)} day{'s' if len(at) > 1 else ''} is the garden's own gauge: {new.sum():.1f} mm"
            + (f", the station's {before[both].sum():.1f} mm on {int(both.sum())} of them." if both.any() else ".")
        )
    notes += [f"Not used: {a}." for a in aside]
    changed = DailyRecord(
        first=record.first,
        tmin_c=read_only(columns[0]),
        tmax_c=read_only(columns[1]),
        rain_mm=read_only(columns[2]),
        source=record.source,
        set_aside=record.set_aside + tuple(aside),
    )
    return changed, tuple(notes)


def gauge_doubts(record: DailyRecord, gauge_mm: Mapping[date, float]) -> tuple[Doubt, ...]:
    """Stretches in which the garden's rain gauge and the station's lie farther apart than two gauges usually do.

    Only days on which the garden's was read are compared, and only where it was read on most of sixty: dry days count
    too. Storms are narrow and a gauge can stand under a bough, so it is asked about, never set aside.

    Parameters
    ----------
    record : DailyRecord
        The station's.
    gauge_mm : mapping
        Rain of the day by date. [mm]
    """
    base = record.first.toordinal()
    read = {d.toordinal() - base: mm for d, mm in gauge_mm.items() if 0 <= d.toordinal() - base < len(record)}
    if not read:
        return ()
    start = min(read)
    rain = np.full(max(read) + 1 - start, np.nan)
    rain[np.array(list(read)) - start] = list(read.values())
    nothing = read_only(np.full(len(rain), np.nan))
    own = DailyRecord(date.fromordinal(base + start), nothing, nothing, read_only(rain), "the garden's own rain gauge")
    return doubts(own, record, called="the station", only=(gauge.NAME,))
