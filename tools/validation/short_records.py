"""Possible seasons made from few years: random pieces of two long records against their whole."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from kailyard.weather.options import ColumnMap, ReadOptions
from kailyard.weather.reading import read_record
from kailyard.weather.short import lengthened
from tools.validation._data import DE_BILT, MILWAUKEE, aligned
from tools.validation._scores import crps

TITLE = """\
Short records: pieces of 5, 10 and 19 consecutive years, drawn at random, against the whole record and against the years
that are not in the piece (Milwaukee 1940-2025: NOAA GHCN-Daily; De Bilt 1980-2019: KNMI; both with the slope of the
yearly mean taken out). Warmth: °C·d above 10 °C, April to September. Frost: day of the last night of 0 °C or less,
April to July. Rain: April to September, mm. 'as they were': the years themselves, as possible seasons; 'made': forty
seasons as the engine makes them. Spread: standard deviation between seasons as a share of that between all years, and
in brackets how much it differs from piece to piece. CRPS: mean over the years left out, less is better."""

FloatArray = NDArray[np.float64]
PLACES = {"Milwaukee": (MILWAUKEE, "prcp_mm", 1940, 2025), "De Bilt": (DE_BILT, "rain_mm", 1980, 2019)}
KINDS = ("warmth", "frost", "rain")
PIECES = 60
MADE = 40
YEARS = (5, 10, 19)


@dataclass(frozen=True, slots=True, eq=False)
class Tried:
    """Spread as a share of the whole record's, (pieces, kinds), and mean CRPS, (kinds,)."""

    spread: FloatArray
    crps: FloatArray


@cache
def years_of(folder: Path, place: str) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Minimum, maximum, rain of whole years, (years, 365), temperatures without the slope of their yearly mean."""
    file, rain, first, last = PLACES[place]
    columns = ColumnMap("date", "tmin_c", "tmax_c", rain)
    record = read_record(folder / file, ReadOptions(columns=columns))
    starts = [date(year, 1, 1).toordinal() - record.first.toordinal() for year in range(first, last + 1)]
    low, high, wet = (
        np.stack([c[s : s + 365] for s in starts]) for c in (record.tmin_c, record.tmax_c, record.rain_mm)
    )
    high = np.where(np.isnan(high), np.nanmean(high, axis=0), high)
    year = np.arange(first, last + 1) - (first + last) / 2
    low, high = (v - (np.polyfit(year, v.mean(axis=1), 1)[0] * year)[:, None] for v in (low, high))
    return low, high, np.nan_to_num(wet)


def figures(low: FloatArray, high: FloatArray, rain: FloatArray) -> FloatArray:
    """Warmth, last frost (day of the span; -1 without), rain of each season. (seasons, 3)"""
    april, august, october = 90, 212, 273
    warmth = np.maximum((low + high) / 2 - 10, 0)[:, april:october].sum(axis=1)
    frost = low[:, april:august] <= 0
    last = np.where(frost.any(axis=1), frost.shape[1] - 1 - np.argmax(frost[:, ::-1], axis=1), -1)
    return np.stack([warmth, last, rain[:, april:october].sum(axis=1)], axis=1)


@cache
def tried(folder: Path, place: str, years: int) -> dict[str, Tried]:
    """Both ways on the same random pieces."""
    parts = years_of(folder, place)
    truth = figures(*parts)
    whole = truth.std(axis=0, ddof=1)
    rng = np.random.default_rng(2026)
    spread: dict[str, list[FloatArray]] = {"as they were": [], "made": []}
    score: dict[str, list[FloatArray]] = {"as they were": [], "made": []}
    for _ in range(PIECES):
        start = int(rng.integers(0, len(truth) - years + 1))
        piece = [p[start : start + years] for p in parts]
        out = np.delete(truth, np.s_[start : start + years], axis=0)
        made, _, _ = lengthened(piece, MADE, first=date(2001 + start, 1, 1).toordinal())
        for way, seasons in (("as they were", figures(*piece)), ("made", figures(*made))):
            spread[way].append(seasons.std(axis=0, ddof=1) / whole)
            score[way].append(
                np.array([np.mean([crps(seasons[:, k], y) for y in out[:, k].tolist()]) for k in range(len(KINDS))])
            )
    return {way: Tried(np.array(spread[way]), np.mean(score[way], axis=0)) for way in spread}


def _rows(folder: Path) -> Iterator[list[str]]:
    yield ["place", "years", "way", *(f"{k} spread" for k in KINDS), *(f"{k} CRPS" for k in KINDS)]
    for place in PLACES:
        for years in YEARS:
            for way, t in tried(folder, place, years).items():
                spread = zip(t.spread.mean(axis=0), t.spread.std(axis=0), strict=True)
                yield [
                    place,
                    str(years),
                    way,
                    *(f"{mean:.2f} ({about:.2f})" for mean, about in spread),
                    *(f"{c:.2f}" for c in t.crps),
                ]


def lines(shared: Path) -> Iterable[str]:
    """Spread kept and CRPS, both ways."""
    yield from aligned(list(_rows(shared / "data")), left=3)
