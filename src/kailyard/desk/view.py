"""From a garden's folder to the season as foreseen on a day."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

from kailyard.desk.ahead import known_forecasts
from kailyard.desk.desk import Desk
from kailyard.desk.shelf import handbook
from kailyard.desk.station_record import station_record, with_own_rain
from kailyard.garden.model import Garden
from kailyard.season.clock import Clocks
from kailyard.season.view import DRAWS, SeasonView, foresee
from kailyard.units import in_running_text
from kailyard.weather.ensemble import Ensemble, ForecastDay, build_ensemble
from kailyard.weather.garden import SiteOffset, nightly_offsets, teach_site
from kailyard.weather.record import DailyRecord, FloatArray, read_only
from kailyard.weather.skill import learn

OBSERVED_DAYS = 420
"""So many observed days go before the possible seasons: autumn-planted bulbs began in them."""


def season_view(
    desk: Desk, *, on: date | None = None, as_known: date | None = None, use_trend: bool = True
) -> SeasonView:
    """The season as foreseen on a day, from what was known at the end of `as_known` (None: all that is known)."""
    garden = desk.garden(as_known=as_known)
    today = on or desk.today(garden)
    what = ("season view", today, as_known, use_trend)
    return desk.kept(what, lambda: _season_view(desk, garden, today, as_known, use_trend))


def _season_view(desk: Desk, garden: Garden, today: date, as_known: date | None, use_trend: bool) -> SeasonView:
    told = tuple(e.id for e in garden.entries if e.kind in TELL_OF_WEATHER)
    kept = (desk.store.weather_ids(), desk.store.weather_marks())
    what = ("weather ahead", today, as_known, use_trend, garden.site, garden.units, kept, told)
    ahead = desk.lasting(what, lambda: _weather_ahead(desk, garden, today, as_known, use_trend))
    return foresee(
        garden, ahead.ensemble, handbook(desk), minimum_offset_c=ahead.offsets_c, draws=DRAWS, clocks=ahead.clocks
    )


TELL_OF_WEATHER = ("rain", "air-temperature", "forecast", "weather-aside")
"""Kinds of entry that change the weather foreseen; all others leave it as it is."""


@dataclass(frozen=True, slots=True, eq=False)
class _Ahead:
    """The possible seasons of one day as the garden has them."""

    ensemble: Ensemble
    offsets_c: FloatArray
    clocks: Clocks


def _weather_ahead(desk: Desk, garden: Garden, today: date, as_known: date | None, use_trend: bool) -> _Ahead:
    record, note = station_record(desk, garden, as_known)
    record, rain_note = with_own_rain(record, garden.entries, today)
    site = garden_nights(record, garden, today)
    forecast = known_forecasts(desk, garden, as_known, today)
    ensemble = possible_seasons(record, garden, today, forecast=forecast, use_trend=use_trend)
    notes = (*ensemble.notes, *(n for n in (note, rain_note) if n))
    ensemble = replace(ensemble, notes=tuple(in_running_text(n, garden.units) for n in notes))
    offsets_c = nightly_offsets(site, ensemble)
    return _Ahead(ensemble, offsets_c, Clocks(ensemble, garden_tmin_c=ensemble.tmin_c + offsets_c))


def garden_nights(record: DailyRecord, garden: Garden, today: date) -> SiteOffset:
    """How the garden's minimum differs from the station's, from paired readings, drawn towards what the site says."""
    readings = {
        e.happened: float(e.payload["tmin_c"])
        for e in garden.entries
        if e.kind == "air-temperature" and e.payload.get("tmin_c") is not None and e.happened < today
    }
    n = max((today - record.first).days, 0)
    low, high, rain = (read_only(c[:n]) for c in (record.tmin_c, record.tmax_c, record.rain_mm))
    known = DailyRecord(record.first, low, high, rain)
    return teach_site(known, readings, stated_c=garden.site.minimum_offset_c)


def possible_seasons(
    record: DailyRecord,
    garden: Garden,
    today: date,
    *,
    forecast: tuple[ForecastDay, ...] = (),
    use_trend: bool = True,
) -> Ensemble:
    """Observed days, forecasts as issued and as far as they have proved right here, and runs of past years."""
    start = max(today - timedelta(days=OBSERVED_DAYS), record.first)
    beliefs = {source: each.belief for source, each in learn(forecast, record, today=today).items()}
    return build_ensemble(record, today=today, start=start, forecast=forecast, beliefs=beliefs, use_trend=use_trend)
