"""Writers of small station files in the published layouts, written apart from the readers they try.

Fixed width and one-value-a-line: NOAA NCEI, readme for GHCN-Daily, section III, and readme for by-station CSV.
One day a line: NCEI's access files for GHCN-Daily (layout from memory). The stations are invented.
"""

from __future__ import annotations

import calendar
from collections.abc import Mapping
from datetime import date, timedelta

import numpy as np

from kailyard.weather.record import DailyRecord, read_only

STATION = "XXI00000001"
Cell = tuple[int, str]
"""Value in tenths and quality flag."""
Cells = Mapping[tuple[str, date], Cell]
"""By element (TMIN, TMAX, PRCP) and day."""


def dly(cells: Cells, station: str = STATION) -> bytes:
    """ID 1-11, YEAR 12-15, MONTH 16-17, ELEMENT 18-21, then 31 times VALUE 5, MFLAG, QFLAG, SFLAG; -9999 missing."""
    lines = []
    for element, year, month in sorted({(e, d.year, d.month) for e, d in cells}, key=lambda k: (k[1], k[2], k[0])):
        fields = ""
        length = calendar.monthrange(year, month)[1]
        for day in range(1, 32):
            cell = cells.get((element, date(year, month, day))) if day <= length else None
            value, flag = cell if cell is not None else (-9999, " ")
            fields += f"{value:5d} {flag or ' '}{' ' if cell is None else 'W'}"
        lines.append(f"{station}{year:04d}{month:02d}{element}{fields}")
    assert all(len(line) == 269 for line in lines)
    return ("\n".join(lines) + "\n").encode("ascii")


def long_csv(cells: Cells, station: str = STATION, *, header: bool = False) -> bytes:
    """ID, YYYYMMDD, ELEMENT, VALUE, M-FLAG, Q-FLAG, S-FLAG, OBS-TIME."""
    lines = ["ID,DATE,ELEMENT,DATA_VALUE,M_FLAG,Q_FLAG,S_FLAG,OBS_TIME"] if header else []
    lines += [
        f"{station},{day:%Y%m%d},{element},{value},,{flag},W,0700"
        for (element, day), (value, flag) in sorted(cells.items(), key=lambda item: (item[0][1], item[0][0]))
    ]
    return ("\n".join(lines) + "\n").encode("ascii")


def wide_csv(cells: Cells, station: str = STATION) -> bytes:
    """Every field quoted; values padded; attributes M,Q,S."""
    elements = ("PRCP", "TMAX", "TMIN")
    names = ["STATION", "DATE", "LATITUDE", "LONGITUDE", "ELEVATION", "NAME"]
    for element in elements:
        names += [element, f"{element}_ATTRIBUTES"]
    lines = [",".join(f'"{n}"' for n in names)]
    for day in sorted({d for _, d in cells}):
        fields = [station, day.isoformat(), "50.1", "7.2", "120.0", "NETHERWICK, INVENTED"]
        for element in elements:
            cell = cells.get((element, day))
            fields += ["", ""] if cell is None else [f"{cell[0]:5d}", f",{cell[1]},W"]
        lines.append(",".join(f'"{f}"' for f in fields))
    return ("\n".join(lines) + "\n").encode("ascii")


def invented_record(
    first: date, last: date, *, seed: int = 7, warming_c_year: float = 0.0, spread_c: float = 3.0
) -> DailyRecord:
    """Seeded weather: a yearly wave coldest in mid January, day-to-day persistence, showers, a straight trend."""
    n = (last - first).days + 1
    rng = np.random.default_rng(seed)
    ordinals = first.toordinal() + np.arange(n)
    wave = -10 * np.cos(2 * np.pi * (ordinals - 15) / 365.2425)
    noise = rng.normal(0, 1, n)
    departure = np.zeros(n)
    for i in range(1, n):
        departure[i] = 0.7 * departure[i - 1] + noise[i]
    departure *= spread_c * np.sqrt(1 - 0.7**2)
    mean = 10 + wave + departure + warming_c_year * (ordinals - ordinals[0]) / 365.2425
    half = rng.uniform(2, 6, n)
    rain = np.where(rng.random(n) < 0.35, rng.gamma(0.8, 6.0, n), 0.0).round(1)
    return DailyRecord(first, read_only(mean - half), read_only(mean + half), read_only(rain), "invented station")


def changed(record: DailyRecord, **columns: np.ndarray) -> DailyRecord:
    """The record with some columns replaced."""
    parts = {name: columns.get(name, getattr(record, name)) for name in ("tmin_c", "tmax_c", "rain_mm")}
    return DailyRecord(record.first, **{k: read_only(v) for k, v in parts.items()}, source=record.source)


def days(first: date, n: int) -> list[date]:
    """`n` days from `first`."""
    return [first + timedelta(days=i) for i in range(n)]
