"""What the person who hands in an hourly table declares about it: its columns, their units, the clock it keeps."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, timezone, tzinfo
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from kailyard.errors import UsageError
from kailyard.units import UNITS, unit_typed
from kailyard.weather.files import shown

QUANTITIES: Mapping[str, tuple[str, str]] = {
    "temperature": ("temp_c", "°C"),
    "dew_point": ("dew_point_c", "°C"),
    "humidity": ("humidity_pct", "%"),
    "rain": ("rain_mm", "mm"),
    "wind": ("wind_m_s", "m/s"),
    "radiation": ("radiation_mj_m2", "MJ/m²"),
    "pressure": ("pressure_kpa", "kPa"),
}
"""What a table may hold: the column of the record, and its unit there."""

_OFFSET = re.compile(r"(?:UTC)?([+-])([0-9]{1,2}):?([0-9]{2})?\Z", re.ASCII)
_FORMAT = re.compile(r"(?:%[YmdHMSpIjyz%]|[^%])*\Z")


@dataclass(frozen=True, slots=True)
class HourColumns:
    """Which column of an hourly table is what, and in which unit. Nothing of it is guessed."""

    time: str = ""
    """Column with day and hour together; or `date` and `hour` apart."""
    date: str = ""
    hour: str = ""
    """Column with the hour, 0 to 23 or 1 to 24, or '13:00'."""
    zone: str = ""
    """Clock of the table: UTC, +01:00, or a place of the IANA database, whose clock is changed in spring and autumn."""
    time_format: str = ""
    """As in '%d.%m.%Y %H:%M'; '' is ISO 8601: 2026-06-12 13:00, 2026-06-12T13:00Z."""
    stamp: str = "begins"
    """Whether rain and radiation are those of the hour that `begins` or `ends` at the time given."""
    temperature: str = ""
    dew_point: str = ""
    humidity: str = ""
    rain: str = ""
    wind: str = ""
    radiation: str = ""
    pressure: str = ""
    temperature_unit: str = "°C"
    """Of dew point too."""
    humidity_unit: str = "%"
    rain_unit: str = "mm"
    wind_unit: str = "m/s"
    radiation_unit: str = "MJ/m²"
    pressure_unit: str = "hPa"
    wind_height_m: float = 10.0
    delimiter: str = ","
    decimal: str = "."
    header_line: int = 1
    missing: tuple[str, ...] = ("", "NA", "NaN", "nan", "M", "null", "-9999", "-9999.0")
    trace: str = "T"
    """Text that means 'rain, too little to measure'; it counts as 0 mm."""
    where: str = ""
    """Keep only rows in which a column has a value: 'station=EWR'."""

    def __post_init__(self) -> None:
        if bool(self.time) == bool(self.date and self.hour) or bool(self.date) != bool(self.hour):
            raise UsageError("hours: say which column holds the time, as in 'time=when', or 'date=day; hour=hour'.")
        if not self.given():
            raise UsageError(f"hours: name at least one of {', '.join(QUANTITIES)}, as in 'temperature=temp'.")
        for quantity in QUANTITIES:
            self.unit(quantity)
        if self.stamp not in ("begins", "ends"):
            raise UsageError(f"stamp '{shown(self.stamp)}': the hour begins or ends at the time given; write which.")
        if len(self.delimiter) != 1 or self.decimal not in (".", ",") or self.delimiter in '\r\n"' + self.decimal:
            raise UsageError("The delimiter is one character; the decimal mark is . or , and not the same.")
        if self.header_line < 1 or not 0.1 <= self.wind_height_m <= 100:
            raise UsageError("header_line is counted from 1; wind_height_m lies between 0.1 and 100.")
        if self.time_format and not _FORMAT.match(self.time_format):
            raise UsageError(
                f"time_format '{shown(self.time_format)}': known signs are %Y %m %d %H %M %S %I %p %j %y %z."
            )
        if self.zone:
            self.clock()
        if self.where and "=" not in self.where:
            raise UsageError(f"where '{shown(self.where)}': write it like station=EWR.")

    def given(self) -> dict[str, str]:
        """The quantities that the table has, each with the name of its column."""
        return {quantity: name for quantity in QUANTITIES if (name := getattr(self, quantity))}

    def unit(self, quantity: str) -> str:
        """The declared unit of a quantity, by its name in print.

        Raises
        ------
        UsageError
            If it is not known or measures something else.
        """
        word = "temperature" if quantity == "dew_point" else quantity
        said = str(getattr(self, f"{word}_unit"))
        unit = unit_typed(said)
        measures = UNITS[QUANTITIES[quantity][1]].measures
        if unit is None or UNITS[unit].measures != measures:
            known = ", ".join(u for u, each in UNITS.items() if each.measures == measures)
            raise UsageError(f"{word}_unit '{shown(said)}' is no unit of {measures}. Known: {known}.")
        return unit

    def clock(self) -> tzinfo | None:
        """The clock that the table keeps; None where it must stand in each time itself.

        Raises
        ------
        UsageError
            If there is no such zone.
        """
        if not self.zone:
            return None
        if self.zone.upper() in ("UTC", "Z", "GMT"):
            return UTC
        if found := _OFFSET.match(self.zone):
            off = timedelta(hours=int(found[2]), minutes=int(found[3] or 0))
            if off <= timedelta(hours=14):
                return timezone(off if found[1] == "+" else -off)
        try:
            return ZoneInfo(self.zone)
        except (ZoneInfoNotFoundError, ValueError, OSError):
            raise UsageError(
                f"zone '{shown(self.zone)}': write UTC, an offset like +01:00, or a place like Europe/Amsterdam."
            ) from None

    def moment(self, date_text: str, hour_text: str = "") -> datetime | None:
        """The time in a row, without a zone where it says none; None where it cannot be read."""
        try:
            day = self._day(date_text.strip())
            if not self.hour:
                return day
            found = re.fullmatch(r"([0-9]{1,2})(?::([0-9]{2}))?(?::00)?", hour_text.strip(), re.ASCII)
            if found is None or int(found[1]) > 24:
                return None
            return day + timedelta(hours=int(found[1]), minutes=int(found[2] or 0))
        except (ValueError, OverflowError):
            return None

    def _day(self, text: str) -> datetime:
        if not self.time_format:
            return datetime.fromisoformat(text)
        return datetime.strptime(text, self.time_format)  # noqa: DTZ007  # the table's clock is laid on afterwards

    @staticmethod
    def parse(text: str) -> HourColumns:
        """The map from one line of words: `time=when; zone=UTC; temperature=temp; temperature_unit=F`.

        Raises
        ------
        UsageError
            If a word is unknown or a value breaks a rule.
        """
        known = {f.name: f for f in dataclasses.fields(HourColumns)}
        given: dict[str, object] = {}
        for part in filter(None, (p.strip() for p in text.split(";"))):
            key, equals, value = (p.strip() for p in part.partition("="))
            if not equals or key not in known:
                raise UsageError(f"hours: '{shown(part)}' is not understood; known words: {', '.join(sorted(known))}.")
            given[key] = {"semicolon": ";", "tab": "\t", "comma": ","}.get(value, value)
        return HourColumns.of(given)

    @staticmethod
    def of(given: Mapping[str, object]) -> HourColumns:
        """The map from words by name; numbers may be text."""
        values = dict(given)
        try:
            if "header_line" in values:
                values["header_line"] = int(str(values["header_line"]))
            if "wind_height_m" in values:
                values["wind_height_m"] = float(str(values["wind_height_m"]))
        except ValueError:
            raise UsageError("hours: header_line is a whole number, wind_height_m a number of metres.") from None
        if "missing" in values:
            values["missing"] = ("", *str(values["missing"]).split())
        return HourColumns(**values)  # type: ignore[arg-type]  # each value is checked in __post_init__
