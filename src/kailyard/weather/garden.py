"""What the garden's own instruments say: the minimum's offset from the station, and the rain gauge's readings."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

import numpy as np

from kailyard.weather.judge import POSSIBLE
from kailyard.weather.record import DailyRecord, SetAside, read_only

COLD_NIGHT_C = 10.0
"""Only nights with a station minimum at or below this teach the offset: gardens differ most on cold, still nights."""
PRIOR_NIGHTS = 10.0
"""The stated offset counts as this many nights of readings (ours)."""
LARGEST_OFFSET_C = 15.0
"""A larger difference in one night is a misread or misdated thermometer, and is left out (ours)."""
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


def teach_site(
    record: DailyRecord,
    garden_tmin_c: Mapping[date, float],
    *,
    stated_c: float,
    prior_nights: float = PRIOR_NIGHTS,
) -> SiteOffset:
    """The garden's offset from its station, from nights on which both were read.

    The mean difference over `n` cold nights is drawn towards the stated offset with weight `n / (n + prior_nights)`:
    one reading hardly moves it, a spring of readings carries it.

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
    if warm:
        notes.append(f"{warm} night{'s' if warm > 1 else ''} above {COLD_NIGHT_C:g} °C at the station: not counted.")
    if unpaired:
        notes.append(f"{unpaired} garden reading{'s' if unpaired > 1 else ''} without a station minimum: not counted.")
    notes += [
        f"{d.isoformat()}: garden minimum {garden_tmin_c[d]:g} °C lies more than {LARGEST_OFFSET_C:g} °C from the "
        "station's and is not counted. Check it."
        for d in far
    ]
    return SiteOffset(offset, stated_c, read, n, weight, tuple(notes))


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
            + (
                f", where the station had {before[both].sum():.1f} mm on {int(both.sum())} of them."
                if both.any()
                else "."
            )
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
