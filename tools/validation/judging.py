"""The rules by which a record is judged: alarms on clean records, and how many planted faults each rule finds."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from kailyard.weather.hours import HOUR, HourlyRecord, hour_number, hourly
from kailyard.weather.judging import Days, Found, rules
from kailyard.weather.judging_hours import hour_rules
from kailyard.weather.record import DailyRecord, read_only
from tools.validation._data import DE_BILT, JMA, KMA, MILWAUKEE, TWIN_CITIES, aligned, rows

TITLE = """\
Judging: alarms on clean records (GHCN-Daily Milwaukee, KNMI De Bilt, two climates of FAO's AquaCrop, Minnesota DNR Twin
Cities, six stations of JMA, five of KMA, 155 of USCRN for 2020; hours: three airports of New York 2013, AgriMet Fallon
2015), and faults planted in the sixteen of them that are long. 'real': alarms proved right by the data itself. Rules
that need a neighbour: Suwon against Seoul and back (30 km), by KMA. 'set aside' and 'asked': share of the planted
faults of which a day was so found by the rule named; 'by any': by any rule at all."""

FloatArray = NDArray[np.float64]
AQUACROP = ("weather/aquacrop_brussels_daily.csv.gz", "weather/aquacrop_tunis_daily.csv.gz")
USCRN = "weather/uscrn_daily_2020.csv.gz"
NEW_YORK = "weather/nyc_hourly_2013.csv.gz"
FALLON = "weather/agrimet_FALN_hourly_2015.csv.gz"
FILES = (
    (MILWAUKEE, "", ("tmin_c", "tmax_c", "prcp_mm")),
    (DE_BILT, "", ("tmin_c", "tmax_c", "rain_mm")),
    (AQUACROP[0], "", ("tmin_c", "tmax_c", "rain_mm")),
    (AQUACROP[1], "", ("tmin_c", "tmax_c", "rain_mm")),
    (TWIN_CITIES, "", ("tmin_c", "tmax_c", "rain_mm")),
    (JMA, "station", ("tmin_c", "tmax_c", "")),
    (KMA, "station", ("tmin_c", "tmax_c", "rain_mm")),
    (USCRN, "wban", ("t_min", "t_max", "p_calc")),
)
LONG_YEARS = 20
PLANTED = 20
"""Faults of each kind in each long record."""
PAIRS = (("Suwon", "Seoul"), ("Seoul", "Suwon"))

REAL = {
    ("26564", "2020-02-09"),
    ("96404", "2020-12-18"),
    ("92827", "2020-08-03"),
    ("63828", "2020-08-05"),
    ("63828", "2020-09-16"),
    ("63828", "2020-09-17"),
    ("23908", "2020-07-08"),
    ("03759", "2020-07-18"),
}
"""Days of USCRN where 0.0 °C stands for air and surface alike: at the edge of a gap, or 4 to 10 °C off by `t_avg`."""
REAL_HOUR = ("JFK", datetime(2013, 5, 9, 2, tzinfo=UTC))
"""13.1 °F between 57.0 and 57.2 °F: named in the note on the data."""


@cache
def clean(data: Path) -> Mapping[str, DailyRecord]:
    """All clean records by name."""
    out: dict[str, DailyRecord] = {}
    for file, place, columns in FILES:
        days: dict[str, list[tuple[float, ...]]] = {}
        for row in rows(data / file):
            values = [float(row[c]) if c and row[c] else np.nan for c in columns]
            name = row[place] if place else Path(file).name.split("_")[-3 if "aquacrop" not in file else 1]
            days.setdefault(name, []).append((float(date.fromisoformat(row["date"]).toordinal()), *values))
        for name, each in days.items():
            table = np.array(each)
            day = table[:, 0].astype(np.int64)
            cells = np.full((3, int(day.max() - day.min()) + 1), np.nan)
            cells[:, day - day.min()] = table[:, 1:].T
            if file == KMA:
                cells[2][np.isnan(cells[2]) & ~np.isnan(cells[0])] = 0.0  # an empty cell is a dry day there
            if not np.isnan(cells[0]).all():
                low, high, rain = (read_only(c) for c in cells)
                out[name] = DailyRecord(date.fromordinal(int(day.min())), low, high, rain, name)
    return out


@cache
def clean_hours(data: Path) -> Mapping[str, HourlyRecord]:
    """All clean hourly records by name: temperature and dew point."""
    found: dict[str, list[tuple[int, float, float]]] = {}
    for file in (NEW_YORK, FALLON):
        for row in rows(data / file):
            stamp = row.get("time_utc") or f"{row['date']}T{int(row['hour']):02d}:00Z"
            moment = datetime.fromisoformat(stamp.replace("Z", "+00:00"))
            temp, dew = (row.get("temp_f") or row.get("t_f")), (row.get("dewp_f") or row.get("tdew_f"))
            if temp and dew:
                both = (float(temp) - 32) / 1.8, (float(dew) - 32) / 1.8
                found.setdefault(row.get("station") or "Fallon", []).append((hour_number(moment), *both))
    out = {}
    for name, each in found.items():
        table = np.array(each)
        columns = {"temp_c": table[:, 1], "dew_point_c": table[:, 2]}
        out[name] = hourly(table[:, 0].astype(np.int64), columns, source=name)
    return out


@dataclass(slots=True)
class Alarms:
    """What one rule says of the clean records."""

    set_aside: int = 0
    asked: int = 0
    real: int = 0
    days: int = 0
    """Days looked at."""


@cache
def alarms(data: Path) -> Mapping[str, Alarms]:
    """By rule; rules of hours count hours."""
    out = {rule.NAME: Alarms() for rule in (*rules(), *hour_rules())}
    records = clean(data)
    looked = [(r, None, n) for n, r in records.items()] + [(records[a], records[b], a) for a, b in PAIRS]
    for record, beside, name in looked:
        days = Days(record, beside)
        for rule in rules():
            if (beside is not None) == rule.NEEDS_NEIGHBOUR:
                out[rule.NAME].days += len(record)
                for each in rule.finds(days):
                    _count(out[rule.NAME], each, (name, days.day(each.at).isoformat()) in REAL)
    for name, hours in clean_hours(data).items():
        for rule in hour_rules():
            out[rule.NAME].days += len(hours)
            for each in rule.finds(hours):
                moment = hours.first + each.at * HOUR
                _count(out[rule.NAME], each, (name, moment) == REAL_HOUR)
    return out


def _count(alarm: Alarms, each: Found, real: bool) -> None:
    alarm.set_aside += each.sure
    alarm.asked += not each.sure
    alarm.real += real


Cells = dict[str, FloatArray]
Plant = Callable[[Cells, np.random.Generator, int], int]
"""Spoils columns from an index on and returns how many days."""


def _spike(cells: Cells, rng: np.random.Generator, at: int) -> int:
    if rng.random() < 0.5:
        cells["tmin"][at] -= 20
    else:
        cells["tmax"][at] += 20
    return 1


def _noughts(cells: Cells, rng: np.random.Generator, at: int) -> int:
    cells["tmin"][at] = cells["tmax"][at] = 0.0
    return 1


def _stuck(cells: Cells, rng: np.random.Generator, at: int) -> int:
    name = "tmin" if rng.random() < 0.5 else "tmax"
    cells[name][at : at + 14] = cells[name][at]
    return 14


def _stuck_both(cells: Cells, rng: np.random.Generator, at: int) -> int:
    for name in ("tmin", "tmax"):
        cells[name][at : at + 6] = cells[name][at]
    return 6


def _fahrenheit(n: int) -> Plant:
    def plant(cells: Cells, rng: np.random.Generator, at: int) -> int:
        for name in ("tmin", "tmax"):
            cells[name][at : at + n] = cells[name][at : at + n] * 1.8 + 32
        return n

    return plant


def _celsius(cells: Cells, rng: np.random.Generator, at: int) -> int:
    for name in ("tmin", "tmax"):
        cells[name][at : at + 30] = (cells[name][at : at + 30] - 32) / 1.8
    return 30


def _copy(cells: Cells, rng: np.random.Generator, at: int) -> int:
    start = at - 1461 if at > 1461 + 365 else at + 1461
    for name in ("tmin", "tmax"):
        cells[name][at : at + 90] = cells[name][start : start + 90]
    return 90


def _half_year_off(cells: Cells, rng: np.random.Generator, at: int) -> int:
    for name in ("tmin", "tmax"):
        cells[name][at : at + 365] = np.roll(cells[name][at : at + 365], 182)
    return 365


def _warmer_place(cells: Cells, rng: np.random.Generator, at: int) -> int:
    for name in ("tmin", "tmax"):
        cells[name][at : at + 365] += 6
    return 365


def _rain_tenfold(cells: Cells, rng: np.random.Generator, at: int) -> int:
    wet = np.flatnonzero(cells["rain"][at : at + 200] > 20)
    if not len(wet):
        return 0
    cells["rain"][at : at + int(wet[0]) + 1][-1] *= 10
    return int(wet[0]) + 1


def _rain_stuck(cells: Cells, rng: np.random.Generator, at: int) -> int:
    cells["rain"][at : at + 6] = 4.2
    return 6


def _late(cells: Cells, rng: np.random.Generator, at: int) -> int:
    for name in ("tmin", "tmax"):
        cells[name][at : at + 90] = cells[name][at - 1 : at + 89]
    return 90


def _blocked(cells: Cells, rng: np.random.Generator, at: int) -> int:
    cells["rain"][at : at + 90] *= 0.05
    return 90


def _in_inches(cells: Cells, rng: np.random.Generator, at: int) -> int:
    cells["rain"][at : at + 365] /= 25.4
    return 365


PLANTS: tuple[tuple[str, str, Plant], ...] = (
    ("one temperature 20 °C off for a day", "spike", _spike),
    ("0 and 0 °C written for a missing day", "nought for missing", _noughts),
    ("one temperature stuck for 14 days", "stuck", _stuck),
    ("both temperatures stuck for 6 days", "stuck", _stuck_both),
    ("4.2 mm written six days running", "stuck", _rain_stuck),
    ("a day in °F under °C", "another unit", _fahrenheit(1)),
    ("30 days in °F under °C", "another unit", _fahrenheit(30)),
    ("a year in °F under °C", "another unit", _fahrenheit(365)),
    ("30 days in °C under °F", "another unit", _celsius),
    ("90 days are another year's", "a year that does not belong", _copy),
    ("a year half a year off", "a year that does not belong", _half_year_off),
    ("a year of a place 6 °C warmer", "a year that does not belong", _warmer_place),
    ("a wet day's rain tenfold", "rain beyond the record", _rain_tenfold),
    ("90 days a day late", "a day's shift", _late),
    ("gauge all but blocked for 90 days", "gauge against gauge", _blocked),
    ("a year's rain in inches under mm", "gauge against gauge", _in_inches),
)


@cache
def found_share(data: Path, planted: int = PLANTED) -> Mapping[str, tuple[str, int, float, float, float]]:
    """By fault: its rule, how many were planted, shares set aside, asked about, found by any rule."""
    records = clean(data)
    long = {n: r for n, r in records.items() if len(r) > LONG_YEARS * 365}
    out = {}
    for words, name, plant in PLANTS:
        rng = np.random.default_rng(7)
        rule = next(r for r in rules() if name == r.NAME)
        targets: list[tuple[DailyRecord, DailyRecord | None]]
        if rule.NEEDS_NEIGHBOUR:
            targets = [(records[a], records[b]) for a, b in PAIRS]
        else:
            targets = [(r, None) for r in long.values()]
        tally = np.zeros(4)
        for record, beside in targets:
            if name == "rain beyond the record" and np.isnan(record.rain_mm).all():
                continue
            if "mm written" in words and np.isnan(record.rain_mm).all():
                continue
            for _ in range(planted if beside is None else 5 * planted):
                tally += _tried(record, beside, plant, name, rng)
        out[words] = (name, int(tally[0]), *(tally[1:] / tally[0]).tolist())
    return out


def _tried(
    record: DailyRecord, beside: DailyRecord | None, plant: Plant, name: str, rng: np.random.Generator
) -> FloatArray:
    """Planted (1, or 0 where no place was found), set aside, asked, found by any rule."""
    at = int(rng.integers(400, len(record) - 800))
    cells = {"tmin": np.array(record.tmin_c), "tmax": np.array(record.tmax_c), "rain": np.array(record.rain_mm)}
    n = plant(cells, rng, at)
    low, high, rain = (read_only(cells[name]) for name in ("tmin", "tmax", "rain"))
    days = Days(replace(record, tmin_c=low, tmax_c=high, rain_mm=rain), beside)
    hits = [
        (rule.NAME, each.sure)
        for rule in rules()
        if beside is not None or not rule.NEEDS_NEIGHBOUR
        for each in rule.finds(days)
        if each.at < at + n and each.at + each.days > at
    ]
    mine = {sure for rule_name, sure in hits if rule_name == name}
    return np.array([n > 0, True in mine, mine == {False}, bool(hits)], dtype=np.float64) * (n > 0)


def _clean_rows(data: Path) -> Iterator[list[str]]:
    yield ["rule", "years", "set aside", "asked", "of them real", "false alarms in 100 years"]
    hours = {rule.NAME for rule in hour_rules()}
    for name, a in alarms(data).items():
        years = a.days / (8766 if name in hours else 365.25)
        false = a.set_aside + a.asked - a.real
        yield [name, f"{years:.0f}", str(a.set_aside), str(a.asked), str(a.real), f"{100 * false / years:.2f}"]


def _found_rows(data: Path) -> Iterator[list[str]]:
    yield ["planted", "rule", "planted n", "set aside", "asked", "by any"]
    for words, (name, n, sure, asked, any_rule) in found_share(data).items():
        yield [words, name, str(n), f"{sure:.0%}", f"{asked:.0%}", f"{any_rule:.0%}"]


def lines(shared: Path) -> Iterable[str]:
    """Alarms on clean records, then planted faults found."""
    yield from aligned(list(_clean_rows(shared / "data")))
    yield ""
    yield from aligned(list(_found_rows(shared / "data")), left=2)
