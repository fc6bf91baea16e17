"""What the person who hands in a file declares about it: its name, its columns, their units."""

from __future__ import annotations

import dataclasses
import re
from dataclasses import dataclass, field
from typing import Literal, get_args

from kailyard.errors import UsageError

TemperatureUnit = Literal["C", "F", "tenths C"]
RainUnit = Literal["mm", "in", "tenths mm"]

_DATE_PARTS = {"%Y": r"(?P<y>[0-9]{4})", "%m": r"(?P<m>[0-9]{1,2})", "%d": r"(?P<d>[0-9]{1,2})"}


@dataclass(frozen=True, slots=True)
class ColumnMap:
    """Which column of a daily table is what, and in which unit. Nothing of it is guessed."""

    date: str
    tmin: str
    tmax: str
    rain: str = ""
    """'' where the table has no rain."""
    temperature_unit: TemperatureUnit = "C"
    rain_unit: RainUnit = "mm"
    date_format: str = "%Y-%m-%d"
    """%Y, %m and %d, each once, with whatever stands between."""
    delimiter: str = ","
    decimal: str = "."
    header_line: int = 1
    """Line on which the names of the columns stand."""
    missing: tuple[str, ...] = ("", "NA", "NaN", "M", "-9999", "-9999.0")
    """Texts that mean 'no value'."""
    trace: str = "T"
    """Text that means 'rain, too little to measure'; it counts as 0 mm."""

    def __post_init__(self) -> None:
        if self.temperature_unit not in get_args(TemperatureUnit):
            raise UsageError(f"temperature unit '{self.temperature_unit}': write C, F or tenths C.")
        if self.rain_unit not in get_args(RainUnit):
            raise UsageError(f"rain unit '{self.rain_unit}': write mm, in or tenths mm.")
        if len(self.delimiter) != 1 or len(self.decimal) != 1 or self.delimiter == self.decimal:
            raise UsageError("The delimiter and the decimal mark are one character each, and not the same.")
        if self.delimiter in '\r\n"' or self.decimal not in ".,":
            raise UsageError("The delimiter cannot be a quote or a line end; the decimal mark is . or ,")
        if self.header_line < 1:
            raise UsageError("The header line is counted from 1.")
        self.date_pattern()

    def date_pattern(self) -> re.Pattern[str]:
        """Pattern with groups y, m, d for `date_format`.

        Raises
        ------
        UsageError
            If the format has anything but %Y, %m and %d, or not each of them once.
        """
        parts = re.split(r"(%.)", self.date_format)
        marks = [p for p in parts if p.startswith("%")]
        if sorted(marks) != sorted(_DATE_PARTS):
            raise UsageError(f"date format '{self.date_format}': it needs %Y, %m and %d, each once and nothing else.")
        return re.compile("".join(_DATE_PARTS.get(p) or re.escape(p) for p in parts))

    @staticmethod
    def parse(text: str) -> ColumnMap:
        """The map from one line of words: `date=day; tmin=low; tmax=high; rain=rain; temperature_unit=F`.

        Raises
        ------
        UsageError
            If a word is unknown, `date`, `tmin` or `tmax` is not given, or a value breaks a rule.
        """
        names = {f.name for f in dataclasses.fields(ColumnMap)}
        given: dict[str, str] = {}
        for part in filter(None, (p.strip() for p in text.split(";"))):
            key, equals, value = part.partition("=")
            key = key.strip()
            if not equals or key not in names:
                raise UsageError(f"columns: '{part}' is not understood; known words: {', '.join(sorted(names))}.")
            given[key] = {"semicolon": ";", "tab": "\t"}.get(value.strip(), value.strip())
        lacking = [n for n in ("date", "tmin", "tmax") if n not in given]
        if lacking:
            raise UsageError(
                f"columns: say which column is {', '.join(lacking)}, as in 'date=day; tmin=low; tmax=high'."
            )
        values: dict[str, object] = dict(given)
        if "header_line" in given:
            if not given["header_line"].isdecimal():
                raise UsageError(f"columns: header_line '{given['header_line']}' is not a whole number.")
            values["header_line"] = int(given["header_line"])
        if "missing" in given:
            values["missing"] = ("", *given["missing"].split())
        return ColumnMap(**values)  # type: ignore[arg-type]  # each value is checked in __post_init__

    def __str__(self) -> str:
        """The line that `parse` reads back."""
        words = []
        for each in dataclasses.fields(self):
            value = getattr(self, each.name)
            if value == each.default:
                continue
            if each.name == "missing":
                value = " ".join(v for v in value if v)
            words.append(f"{each.name}={ {';': 'semicolon', chr(9): 'tab'}.get(value, value) }")
        return "; ".join(words)


@dataclass(frozen=True, slots=True)
class ReadOptions:
    """What goes with a file: how to name it in messages and whatever its reader needs."""

    name: str = ""
    """File name for messages where bytes are handed in; a path names itself."""
    columns: ColumnMap | None = None
    station: str = ""
    """Which station, where a GHCN-Daily file holds several."""
    source: str = field(default="")
    """What the record is, in words; made from station and file where empty."""
