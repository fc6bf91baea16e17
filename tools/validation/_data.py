"""The reference folder's observations as records and dates."""

from __future__ import annotations

import csv
import gzip
from collections import defaultdict
from collections.abc import Iterator, Mapping
from datetime import date
from functools import cache
from pathlib import Path

import numpy as np

from kailyard.weather.record import DailyRecord, read_only

MILWAUKEE = "weather/ghcnd_USW00014839_milwaukee_1938_2026.csv.gz"
DE_BILT = "weather/knmi_260_de_bilt_1980_2019.csv.gz"
TWIN_CITIES = "weather/twin_cities_daily_1981_2023.csv.gz"
TRIAL_SITES = "weather/trial_sites_daily.csv.gz"
JMA = "phenology/jma_daily_6stations_1976_2025.csv.gz"
KMA = "phenology/kma_daily_5stations_1973_2024.csv.gz"


def rows(path: Path) -> Iterator[dict[str, str]]:
    """Rows of a table, packed or not."""
    packed = path.read_bytes()
    text = gzip.decompress(packed) if path.suffix == ".gz" else packed
    yield from csv.DictReader(text.decode("utf-8").splitlines())


def record_of(days: Mapping[date, tuple[float, float]], source: str) -> DailyRecord:
    """A record without rain from minima and maxima of days in any order; NaN between."""
    first, last = min(days), max(days)
    values = np.full((2, (last - first).days + 1), np.nan)
    for day, both in days.items():
        values[:, (day - first).days] = both
    low, high = np.minimum(values[0], values[1]), np.maximum(values[0], values[1])
    return DailyRecord(first, read_only(low), read_only(high), read_only(np.full(len(low), np.nan)), source)


@cache
def records(path: Path, place: str = "") -> Mapping[str, DailyRecord]:
    """The records of a file of daily weather by the column `place`; under '' where it has none."""
    days: dict[str, dict[date, tuple[float, float]]] = defaultdict(dict)
    for row in rows(path):
        if row["tmin_c"] and row["tmax_c"]:
            at = row[place] if place else ""
            days[at][date.fromisoformat(row["date"])] = float(row["tmin_c"]), float(row["tmax_c"])
    return {name: record_of(each, f"{path.name} {name}".strip()) for name, each in sorted(days.items())}


def stage_dates(path: Path) -> Mapping[tuple[str, str, str], Mapping[int, date]]:
    """Dates by (species, event, station), then year."""
    out: dict[tuple[str, str, str], dict[int, date]] = defaultdict(dict)
    for row in rows(path):
        out[row["species"], row["event"], row["station"]][int(row["year"])] = date.fromisoformat(row["date"])
    return out


def aligned(table: list[list[str]], left: int = 1) -> Iterator[str]:
    """Lines of a table, the first `left` columns set left, the others right; the first row is the head."""
    wide = [max(len(row[i]) for row in table) for i in range(len(table[0]))]
    for row in table:
        yield "  ".join(
            cell.ljust(w) if i < left else cell.rjust(w) for i, (cell, w) in enumerate(zip(row, wide, strict=True))
        ).rstrip()


def blueberry(folder: Path) -> tuple[DailyRecord, Mapping[int, date]]:
    """Daily means (as minimum and maximum both) and the mean date of flowers of the plants watched, by year."""
    days: dict[date, tuple[float, float]] = {}
    for row in rows(folder / "vaccinium_harvardforest_temp_1990_2001.csv.gz"):
        # Days are numbered from 1 on 1 January; those of the autumn before are below 1, and written once more there.
        day = date.fromordinal(date(int(row["year"]), 1, 1).toordinal() + int(row["doy"]) - 1)
        if day.month < 10 or day.year < 2001:  # the record ends within October 2001: a whole month is tidier
            days[day] = float(row["tmean_c"]), float(row["tmean_c"])
    found: dict[int, list[int]] = defaultdict(list)
    for row in rows(folder / "vaccinium_harvardforest_obs_1990_2001.csv"):
        if row["event"] == "flowers":
            found[int(row["year"])].append(int(row["doy"]))
    first = {year: date(year, 1, 1).toordinal() - 1 for year in found}
    return (
        record_of(days, "Harvard Forest, daily means"),
        {year: date.fromordinal(first[year] + round(float(np.mean(of)))) for year, of in found.items()},
    )
