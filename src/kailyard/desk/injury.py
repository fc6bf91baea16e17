"""The record of an injury by what may be a herbicide: what was entered, beside what the weather record has."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time, timedelta

import numpy as np

from kailyard.desk.desk import Desk, zone
from kailyard.desk.hours import hours
from kailyard.desk.station_record import station_record
from kailyard.desk.view import season_view
from kailyard.documents.table import Table
from kailyard.errors import DataError
from kailyard.garden.model import Garden
from kailyard.handbook.signs import herbicide_facts
from kailyard.publish.units import figure
from kailyard.publish.words import day as day_words
from kailyard.publish.words import joined
from kailyard.season.view import SeasonView
from kailyard.troubles.injury import DAYS_BEFORE, NO_PROOF, Held, added, choice, days_before, held, sensitive, windows
from kailyard.weather.known_hours import OBSERVED
from kailyard.weather.record import DailyRecord

COLUMNS = ("day", "lowest", "highest", "rain", "strongest wind of an hour")
_SAID = (
    ("kinds", "Hit"), ("spared", "Not hit"), ("edge", "Worst"), ("amendments", "Brought onto the beds"),
    ("sprayed", "Sprayed near by"), ("wind", "Wind as it was felt"), ("photographs", "Photographs"),
)  # fmt: skip


def injury(desk: Desk, of: str | None = None) -> Table:
    """The record of what is held back: of a planting, a bed, or (None) the last there is."""
    garden = desk.garden()
    today = desk.today(garden)
    found = [h for h in held(garden, today) if of is None or _is_of(h, of)]
    if not found:
        whose = f" of '{of}'" if of else ""
        how = f"No injury{whose} is held back. Enter one: `kailyard enter injury tomato-1 kinds=...`."
        return Table("Injury", (), (), (how,))
    return _record(desk, garden, found[-1], today)


def open_injury(desk: Desk, planting: str) -> Table | None:
    """The record of what holds a planting back; None where nothing does."""
    garden = desk.garden()
    today = desk.today(garden)
    found = [h for h in held(garden, today) if planting in {p.id for p in h.plantings}]
    return _record(desk, garden, found[-1], today) if found else None


def _is_of(one: Held, of: str) -> bool:
    return one.entry.target == of or any(of in (p.id, p.bed) for p in one.plantings)


def _record(desk: Desk, garden: Garden, one: Held, today: date) -> Table:
    station, view = _station(desk, garden), _view(desk)
    days = days_before(station, one.first_seen, _wind(desk, garden, one.first_seen))
    units = garden.units
    rows = tuple(
        (
            day_words(d.day, today),
            *(
                "" if value is None else figure(value, unit, units)
                for value, unit in ((d.tmin_c, "°C"), (d.tmax_c, "°C"), (d.rain_mm, "mm"), (d.wind_m_s, "m/s"))
            ),
        )
        for d in days
    )
    title = f"Injury of {joined([p.id for p in one.plantings])}, first seen {day_words(one.first_seen, today)}"
    return Table(title, COLUMNS, rows, tuple(_notes(garden, one, today, station, view)))


def _notes(
    garden: Garden, one: Held, today: date, station: DailyRecord | None, view: SeasonView | None
) -> Iterator[str]:
    said = one.entry.payload
    for name, label in _SAID:
        if said.get(name):
            yield f"{label}: {said[name]}."
    yield "Plants set out later, and kinds beside them that stay sound, are evidence too: enter them as spared."
    if one.entry.text:
        yield one.entry.text
    for e in added(garden, one):
        more = f" ({e.text})" if e.text else ""
        yield f"The daybook has on {day_words(e.happened, today)}: {e.payload.get('what')}{more}."
    source = station.source if station is not None and station.source else "no weather record"
    yield f"Temperature and rain: {source}. Symptoms come a few days to two weeks after exposure. {NO_PROOF}"
    for p in one.plantings:
        rows = [s for s in sensitive(p.crop) if s.status == "published" and s.group == "growth regulator"]
        known = list(dict.fromkeys(f"{s.herbicide} ({s.sensitivity})" for s in rows))
        if known:
            yield f"{p.id} is published as hurt by {joined(known)}."
        if view is not None and p.id in view.lives and view.lives[p.id].standing:
            yield f"{p.id}: {choice(view, view.lives[p.id], one).says} What may be eaten is another question."
    for window, done in zip(windows(one), ("reported", "sample_sent"), strict=True):
        if said.get(done):
            yield f"Done on {said[done]}: {window.what}."
        else:
            late = "; that day is past, ask whether it is still worth it" if window.last < today else ""
            yield f"By {day_words(window.last, today)}: {window.what}{late}. {window.ground.says}"
    facts = herbicide_facts()
    for topic in ("test", "evidence", "eating"):
        yield f"{facts[topic].fact[0].upper()}{facts[topic].fact[1:]} ({facts[topic].status}: {facts[topic].source})."
    yield (
        "This record accuses nobody. All stays held back until `kailyard enter release` says who released it, "
        "and on what finding."
    )


def _wind(desk: Desk, garden: Garden, first_seen: date) -> dict[date, float]:
    """The strongest observed wind of each day, where hours were observed. [m/s]"""
    place = zone(garden.site.timezone)
    first = first_seen - timedelta(days=DAYS_BEFORE)
    start = datetime.combine(first, time(), place)
    known = hours(desk, start, datetime.combine(first_seen, time(23), place))
    out: dict[date, float] = {}
    seen = known.states["wind_m_s"] == OBSERVED
    for n in np.flatnonzero(seen):
        day = (known.record.first + timedelta(hours=int(n))).astimezone(place).date()
        out[day] = max(out.get(day, 0.0), float(known.record.wind_m_s[n]))
    return out


def _station(desk: Desk, garden: Garden) -> DailyRecord | None:
    try:
        return station_record(desk, garden, None)[0]
    except DataError:
        return None


def _view(desk: Desk) -> SeasonView | None:
    try:
        return season_view(desk)
    except DataError:
        return None
