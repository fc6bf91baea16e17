"""Rules of diseases that wait in the ground: by the day, on the soil as it is reckoned. Nothing is watered here."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from types import MappingProxyType

import numpy as np

from kailyard.science.checks import FloatArray
from kailyard.science.disease_models_soil import phytophthora_blight_favoured, white_rot_favoured
from kailyard.science.evapotranspiration import hargreaves_et_mm
from kailyard.season.view import SeasonView

HOLDS_MM = 60.0
"""Water that the reckoned ground gives up before it is as dry as it gets: about 40 cm of loam. [mm]"""

BEFORE_DAYS = 60
"""The ground is taken to be full so long before the first day that is told; what it held then no longer matters."""


def phytophthora_days(view: SeasonView, first: date, count: int) -> FloatArray:
    """Phytophthora blight by day, 0 to 2: a day is soaked on which rain fills the soil beyond what it holds."""
    at = _at(view, first)
    span = slice(at, at + count)
    mean = (view.ensemble.tmin_c[:, span] + view.ensemble.tmax_c[:, span]) / 2
    return phytophthora_blight_favoured(mean, 1.0 * (_surplus_mm(view, at, count) > 0))


def white_rot_days(view: SeasonView, first: date, count: int) -> FloatArray:
    """White rot of onion and garlic by day, 0 to 2, by the temperature of the soil."""
    at = _at(view, first)
    return white_rot_favoured(view.clocks.soil_c[:, at : at + count])


SOIL_DAYS: Mapping[str, Callable[[SeasonView, date, int], FloatArray]] = MappingProxyType(
    {"onion_white_rot": white_rot_days, "phytophthora_blight": phytophthora_days}
)
"""By the rule's id: the season, the first day and how many; one value a possible season and day out."""


def _at(view: SeasonView, first: date) -> int:
    return first.toordinal() - view.ensemble.first.toordinal()


def _surplus_mm(view: SeasonView, at: int, count: int) -> FloatArray:
    """Rain of each day that the ground has no room for: a bucket that the air empties as fast as it does a lawn."""
    begin = max(at - BEFORE_DAYS, 0)
    span = slice(begin, at + count)
    low, high, rain = (x[:, span] for x in (view.ensemble.tmin_c, view.ensemble.tmax_c, view.ensemble.rain_mm))
    days = [date.fromordinal(view.ensemble.first.toordinal() + i) for i in range(begin, at + count)]
    asked = np.maximum(
        hargreaves_et_mm(
            low,
            np.maximum(low, high),
            latitude_deg=view.garden.site.latitude,
            day_of_year=np.array([float(d.timetuple().tm_yday) for d in days]),
        ),
        0.0,
    )
    lacks = np.zeros(len(rain))
    surplus = np.zeros(rain.shape)
    for i in range(rain.shape[1]):
        left = rain[:, i] - lacks
        surplus[:, i] = np.maximum(left, 0.0)
        lacks = np.minimum(np.maximum(-left, 0.0) + asked[:, i], HOLDS_MM)
    return surplus[:, at - begin :]
