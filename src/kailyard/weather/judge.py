"""The rules by which days are set aside: the same for every reader, never mending anything in silence."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
from numpy.typing import NDArray

from kailyard.errors import DataError
from kailyard.weather.files import shown
from kailyard.weather.options import ColumnMap
from kailyard.weather.record import ELEMENTS, DailyRecord, FloatArray, IntArray, SetAside, read_only

# World records as kept by the WMO archive of weather and climate extremes, from memory: highest 56.7 °C, most rain in a
# day 1825 mm. The coldest inhabited places stay above -70 °C; lower belongs to ice sheets, where nobody gardens.
POSSIBLE = {"tmin": (-70.0, 57.0, "°C"), "tmax": (-70.0, 57.0, "°C"), "rain": (0.0, 1900.0, "mm")}
FIRST_YEAR, LAST_YEAR = 1650, 2200
"""No thermometer record is older; the bound keeps one mistyped year from making a record of millennia."""
MOST_SET_ASIDE = 20_000
MOST_VALUES = 600_000
"""More values of one element than this are no daily record of one place."""

GAP = "gap: days absent"
DUPLICATE_SAME = "duplicate day, same value: first kept"
DUPLICATE_DIFFERS = "duplicate day, values differ: whole day set aside"
MINIMUM_ABOVE_MAXIMUM = "minimum above maximum: both set aside"
NOT_A_NUMBER = "not a number"
BAD_DATE = f"unreadable date, or none from {FIRST_YEAR} to {LAST_YEAR}"
SHORT_LINE = "line cut short"

WORDS = {"tmin": "minimum", "tmax": "maximum", "rain": "rain"}


def impossible(element: str) -> str:
    """The rule's name for a value outside the possible."""
    low, high, unit = POSSIBLE[element]
    return f"outside the possible, {low:g} to {high:g} {unit}"


def ordinal(year: int, month: int, day: int) -> int | None:
    """The day's ordinal, or None where there is no such day or it lies outside the years a record may have."""
    if not FIRST_YEAR <= year <= LAST_YEAR:
        return None
    try:
        return date(year, month, day).toordinal()
    except ValueError:
        return None


class Aside:
    """Collects what is set aside from one file; gives up where the file is plainly not what it was taken for."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.kept: list[SetAside] = []

    def add(self, line: int, day: int | None, value: str, rule: str) -> None:
        """Set one line or value aside. `day` is an ordinal; None where the date cannot be read."""
        when = None if day is None else date.fromordinal(day)
        self.kept.append(SetAside(line, when, shown(value), rule, self.file))
        if len(self.kept) > MOST_SET_ASIDE:
            raise DataError(
                [f"{self.file}: more than {MOST_SET_ASIDE} values break a rule; is this the right file and reader?"]
                + [f"{self.file}: {words}" for words in counted(self.kept)]
            )


def counted(set_aside: Iterable[SetAside]) -> tuple[str, ...]:
    """One line a rule: how many broke it and where the first stands. Commonest first."""
    tally: Counter[str] = Counter()
    first: dict[str, SetAside] = {}
    for each in set_aside:
        tally[each.rule] += 1
        first.setdefault(each.rule, each)
    return tuple(f"{n} × {rule}; first: {_where(first[rule])}" for rule, n in tally.most_common())


def _where(each: SetAside) -> str:
    line = f"line {each.line}, " if each.line else ""
    day = f"{each.day.isoformat()}, " if each.day else ""
    return f"{line}{day}{each.value}"


@dataclass(frozen=True, slots=True, eq=False)
class Values:
    """What a file says of one element: equal-length columns, one value each, missing ones left out.

    `day` ordinals, `line` numbers, `value` in °C or mm, `text` as it stands in the file.
    """

    day: IntArray
    line: IntArray
    value: FloatArray
    text: Sequence[str] | NDArray[np.bytes_]

    def says(self, i: int) -> str:
        """The value at `i` as written in the file."""
        text = self.text[i]
        return text.decode("ascii", "replace").strip() if isinstance(text, bytes) else text


class Gathered:
    """Values of one element, gathered row by row. More than `MOST_VALUES` are refused."""

    def __init__(self, file: str) -> None:
        self._file = file
        self._day: list[int] = []
        self._line: list[int] = []
        self._value: list[float] = []
        self._text: list[str] = []

    def add(self, day: int, line: int, value: float, text: str) -> None:
        """One value: ordinal of its day, line, value in °C or mm, and as it stands in the file."""
        self._day.append(day)
        self._line.append(line)
        self._value.append(value)
        self._text.append(text)
        if len(self._day) > MOST_VALUES:
            raise DataError(f"{self._file}:{line}: more than {MOST_VALUES} values: no daily record of one place.")

    def values(self) -> Values:
        """What was gathered, as columns."""
        return Values(
            np.array(self._day, dtype=np.int64),
            np.array(self._line, dtype=np.int64),
            np.array(self._value, dtype=np.float64),
            self._text,
        )


def judge(
    values: Mapping[str, Values],
    *,
    aside: Aside,
    source: str,
    seen: IntArray | None = None,
    columns: ColumnMap | None = None,
) -> DailyRecord:
    """The record that remains once every rule has been asked.

    Parameters
    ----------
    values : mapping
        By element ('tmin', 'tmax', 'rain'); an element may be absent.
    aside : Aside
        What the reader has set aside already (unreadable dates, flags); judging adds to it.
    seen : ndarray, optional
        Ordinals of the days the file has a row for, empty or not; others between them are a gap. By default the
        days with any value or any value set aside.
    columns : ColumnMap, optional
        What was declared, so that a wrong unit can be named.

    Raises
    ------
    DataError
        If no day is usable, or so many values are impossible that the declared unit must be wrong.
    """
    file = aside.file
    given = {e: values[e] for e in ELEMENTS if e in values and len(values[e].day)}
    twice = _duplicates(given, aside)
    bad: dict[str, NDArray[np.bool_]] = {}
    for element, v in given.items():
        low, high, unit = POSSIBLE[element]
        out = ~((v.value >= low) & (v.value <= high)) & ~twice[element]
        if element != "rain":
            _check_share(v, out, element=element, file=file, columns=columns)
        for i in np.flatnonzero(out).tolist():
            value = f"{WORDS[element]} {v.says(i)} ({v.value[i]:g} {unit})"
            aside.add(int(v.line[i]), int(v.day[i]), value, impossible(element))
        bad[element] = twice[element] | out

    good = {e: (v.day[~bad[e]], v.line[~bad[e]], v.value[~bad[e]]) for e, v in given.items()}
    days = np.concatenate([d for d, _, _ in good.values()] or [np.array([], dtype=np.int64)])
    if len(days) == 0:
        raise DataError([f"{file}: no usable day."] + [f"{file}: {words}" for words in counted(aside.kept)])
    first, last = int(days.min()), int(days.max())
    table = {e: np.full(last - first + 1, np.nan) for e in ELEMENTS}
    lines = np.zeros(last - first + 1, dtype=np.int64)
    for element, (day, line, numbers) in good.items():
        table[element][day - first] = numbers
        lines[day - first] = line
    for i in np.flatnonzero(table["tmin"] > table["tmax"]).tolist():
        says = f"minimum {table['tmin'][i]:g} °C, maximum {table['tmax'][i]:g} °C"
        aside.add(int(lines[i]), first + i, says, MINIMUM_ABOVE_MAXIMUM)
        table["tmin"][i] = table["tmax"][i] = np.nan
    _check_range(table, file=file, columns=columns)
    _gaps(first, last, given=given, seen=seen, aside=aside)
    return DailyRecord(
        first=date.fromordinal(first),
        tmin_c=read_only(table["tmin"]),
        tmax_c=read_only(table["tmax"]),
        rain_mm=read_only(table["rain"]),
        source=source,
        set_aside=tuple(sorted(aside.kept, key=lambda a: (a.line, a.day or date.min, a.rule))),
    )


def _duplicates(given: Mapping[str, Values], aside: Aside) -> dict[str, NDArray[np.bool_]]:
    """For each element, which values fall because their day stands more than once."""
    out = {e: np.zeros(len(v.day), dtype=np.bool_) for e, v in given.items()}
    repeated: dict[str, list[NDArray[np.int64]]] = {}
    differing: set[int] = set()
    for element, v in given.items():
        order = np.lexsort((v.line, v.day))
        starts = np.flatnonzero(np.diff(v.day[order], prepend=v.day[order[0]] - 1))
        sizes = np.diff(starts, append=len(order))
        groups = [order[s : s + n] for s, n in zip(starts[sizes > 1].tolist(), sizes[sizes > 1].tolist(), strict=True)]
        repeated[element] = groups
        differing.update(int(v.day[g[0]]) for g in groups if np.any(v.value[g] != v.value[g[0]]))
    for element, v in given.items():
        fallen = np.isin(v.day, np.fromiter(differing, dtype=np.int64)) if differing else out[element]
        for i in np.flatnonzero(fallen).tolist():
            aside.add(int(v.line[i]), int(v.day[i]), f"{WORDS[element]} {v.says(i)}", DUPLICATE_DIFFERS)
        out[element] = fallen.copy()
        for group in repeated[element]:
            for i in group[1:].tolist():
                if not fallen[i]:
                    aside.add(int(v.line[i]), int(v.day[i]), f"{WORDS[element]} {v.says(i)}", DUPLICATE_SAME)
                    out[element][i] = True
    return out


def _check_share(v: Values, out: NDArray[np.bool_], *, element: str, file: str, columns: ColumnMap | None) -> None:
    """Refuse the file where more than a hundredth of an element's values (and more than one) are impossible."""
    n = int(np.count_nonzero(out))
    if n <= max(1, len(out) // 100):
        return
    i = int(np.flatnonzero(out)[0])
    message = (
        f"{file}:{int(v.line[i])}: {n} of {len(out)} {WORDS[element]} values are {impossible(element)}; "
        f"first is {shown(v.says(i))} on {date.fromordinal(int(v.day[i])).isoformat()}."
    )
    if columns is not None:
        message += f" Declared unit: {columns.temperature_unit}. {_likely_unit(v.value, columns)}"
    raise DataError(message)


def _likely_unit(value_c: FloatArray, columns: ColumnMap) -> str:
    written = {"C": value_c, "F": value_c * 1.8 + 32, "tenths C": value_c * 10}[columns.temperature_unit]
    readings = {"F": (written - 32) / 1.8, "tenths C": written / 10, "C": written}
    low, high, _ = POSSIBLE["tmax"]
    for unit, as_c in readings.items():
        if unit != columns.temperature_unit and np.mean((as_c >= low) & (as_c <= high)) > 0.99:
            return f"As '{unit}' they would be possible: if that is the file's unit, declare it."
    return "No known unit makes them possible: check which column was named."


def _check_range(table: Mapping[str, FloatArray], *, file: str, columns: ColumnMap | None) -> None:
    """Refuse a long record that no place has: a unit declared too large shrinks every day, a bound cannot see it."""
    if columns is None:
        return
    both = ~np.isnan(table["tmin"] + table["tmax"])
    if np.count_nonzero(both) >= 300:
        spread = float(np.mean(table["tmax"][both] - table["tmin"][both]))
        warm = float(np.quantile(table["tmax"][both], 0.95))
        # Bounds are ours: maritime islands have some 4 °C between night and day, gardens have a summer.
        if spread < 2.5 or warm < 5.0:
            raise DataError(
                f"{file}: unit declared for temperature: {columns.temperature_unit}. Maximum is above minimum by "
                f"{spread:.1f} °C on average and reaches {warm:.1f} °C on one day in twenty: no garden has that. "
                "Check the unit."
            )
    rain = table["rain"][~np.isnan(table["rain"])]
    # Wettest place known: about 12,000 mm in a mean year (from memory).
    if len(rain) >= 300 and float(np.mean(rain)) * 365.25 > 13_000:
        raise DataError(
            f"{file}: unit declared for rain: {columns.rain_unit}. That makes {np.mean(rain) * 365.25:.0f} mm a year: "
            "no place has that. Check the unit."
        )


def _gaps(first: int, last: int, *, given: Mapping[str, Values], seen: IntArray | None, aside: Aside) -> None:
    present = np.zeros(last - first + 1, dtype=np.bool_)
    parts = [v.day for v in given.values()] if seen is None else [seen]
    parts.append(np.array([a.day.toordinal() for a in aside.kept if a.day is not None], dtype=np.int64))
    for days in parts:
        present[days[(days >= first) & (days <= last)] - first] = True
    absent = np.flatnonzero(np.diff(present.astype(np.int8), prepend=1, append=1))
    for start, end in absent.reshape(-1, 2).tolist():
        n = end - start
        aside.add(0, first + start, f"{n} day{'s' if n > 1 else ''}", GAP)
