"""What the services' files share: what is asked, and taking apart an answer that may be anything."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, tzinfo
from typing import Any, TypeVar

import msgspec
import numpy as np

from kailyard.errors import DataError
from kailyard.units import UNITS, turned, unit_typed
from kailyard.weather.files import shown
from kailyard.weather.hours import HUMIDITY_OVER_FULL, POSSIBLE_HOUR
from kailyard.weather.record import FloatArray

_Form = TypeVar("_Form")
OUR_UNITS = {column: unit for column, (_, _, unit) in POSSIBLE_HOUR.items()}


@dataclass(frozen=True, slots=True)
class Answered:
    """What a service answered, and when."""

    content: bytes
    at: datetime
    """UTC, to the second; earlier than the asking where an answer that still stands was at hand."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What a garden asks a service for."""

    latitude: float
    longitude: float
    zone: tzinfo
    first: date
    """First and last day of a record that is wanted."""
    last: date
    station: str = ""

    @property
    def place(self) -> tuple[str, str]:
        """Latitude and longitude as they are sent: to a hundredth of a degree, about a kilometre."""
        return _plain(self.latitude), _plain(self.longitude)


def _plain(degrees: float) -> str:
    said = f"{degrees:.2f}".rstrip("0").rstrip(".")
    return "0" if said in ("-0", "") else said


def answer(name: str, content: bytes, form: type[_Form]) -> _Form:
    """The answer as JSON of a known form.

    Raises
    ------
    DataError
        If it is none.
    """
    try:
        return msgspec.json.decode(content, type=form)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError) as err:
        raise DataError(
            f"{name} answered in a form that is not known ({str(err).replace('`', '')}). Nothing was kept."
        ) from None


def numbers(name: str, values: list[Any]) -> FloatArray:
    """A column of an answer; null is missing.

    Raises
    ------
    DataError
        If anything in it is no number.
    """
    out = np.full(len(values), np.nan)
    for i, value in enumerate(values):
        if isinstance(value, int | float) and not isinstance(value, bool):
            out[i] = value
        elif value is not None:
            raise DataError(f"{name} answered with {shown(str(value))} where a number belongs. Nothing was kept.")
    return out


def in_our_unit(name: str, column: str, values: FloatArray, unit: str, *, spellings: dict[str, str]) -> FloatArray:
    """A column of hours from the unit that the answer names; what is outside the possible is missing.

    Raises
    ------
    DataError
        If the unit is not known or measures something else.
    """
    known = spellings.get(unit) or unit_typed(unit)
    ours = OUR_UNITS[column]
    if known is None or UNITS[known].measures != UNITS[ours].measures:
        raise DataError(f"{name} answered in '{shown(unit)}' where a unit like {ours} belongs. Nothing was kept.")
    out = np.array([turned(v, known, ours) for v in values.tolist()], dtype=np.float64)
    low, high, _ = POSSIBLE_HOUR[column]
    if column == "humidity_pct":
        out = np.where((out > high) & (out <= HUMIDITY_OVER_FULL), high, out)
    return np.where((out >= low) & (out <= high), out, np.nan)
