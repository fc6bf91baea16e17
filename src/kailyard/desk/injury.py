"""The record of an injury by what may be a herbicide: what was entered, beside what the weather record has."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime, time, timedelta

import numpy as np

from kailyard.desk.desk import Desk, zone
from kailyard.desk.entry_words import entry_says
from kailyard.desk.forms import bed_name, planting_name
from kailyard.desk.hours import hours
from kailyard.desk.plantings import how_it_stands
from kailyard.desk.shelf import handbook
from kailyard.desk.station_record import station_record
from kailyard.desk.view import season_view
from kailyard.documents.injury import Brought, Injury, Plants, Said, Seen, ToDo, WeatherBefore
from kailyard.errors import DataError, NotFound
from kailyard.garden.model import Entry, Garden, Planting
from kailyard.handbook.signs import herbicide_facts
from kailyard.publish.units import figure
from kailyard.publish.words import day as day_words
from kailyard.publish.words import joined
from kailyard.season.sightings import as_day
from kailyard.season.view import SeasonView
from kailyard.troubles.injury import (
    DAYS_BEFORE,
    NO_PROOF,
    Added,
    Held,
    added,
    choice,
    days_before,
    from_herbicide,
    held_back,
    looks,
    released,
    sensitive,
    sprayed,
    windows,
    written_down,
)
from kailyard.weather.known_hours import OBSERVED
from kailyard.weather.record import DailyRecord

_SAID = (
    ("kinds", "Kinds hit"), ("share", "Part of the plants"), ("beds", "Other beds hit"), ("spared", "Not hit"),
    ("edge", "Where it is worst"), ("amendments", "Brought onto the beds"), ("sprayed", "Sprayed near by"),
    ("wind", "Wind as it was felt"), ("photographs", "Photographs"),
)  # fmt: skip
_KNOWN = ("onset", "travel", "test", "evidence", "recovery", "eating", "residue_soil")


def any_injury(desk: Desk) -> bool:
    """Whether any injury is written down."""
    garden = desk.garden()
    return written_down(garden, "", desk.today(garden)) is not None


def injury(desk: Desk, of: str | None = None) -> Injury:
    """The record of a planting or bed, or (None) the last there is; released since or not.

    Raises
    ------
    NotFound
        Where no injury of it was written down.
    """
    garden = desk.garden()
    today = desk.today(garden)
    found = written_down(garden, of or "", today)
    if found is None:
        whose = f" of '{of}'" if of else ""
        raise NotFound(f"No injury{whose} is written down. Enter one: `kailyard enter injury tomato-1 kinds=...`.")
    return _record(desk, garden, found, today)


def _record(desk: Desk, garden: Garden, one: Held, today: date) -> Injury:
    station, view, facts = _station(desk, garden), _view(desk), herbicide_facts()
    days = days_before(station, one.first_seen, _wind(desk, garden, one.first_seen))
    said = {name: one.said(name) for name, _ in _SAID}
    brought = sorted(added(garden, one), key=lambda a: not a.hit)
    to_do = tuple(_to_do(one, today))
    site = garden.site
    return Injury(
        garden=garden.name,
        place=f"{abs(site.latitude):.4f}° {'north' if site.latitude >= 0 else 'south'}, "
        f"{abs(site.longitude):.4f}° {'east' if site.longitude >= 0 else 'west'}, "
        f"{figure(site.elevation_m, 'm', garden.units, 0)} above the sea",
        on=today,
        units=garden.units,
        entry=one.entries[-1].id,
        target=one.entries[-1].target,
        first_seen=one.first_seen,
        written=_written(desk, one, today),
        plants=tuple(_plants(desk, garden, p, one, view) for p in one.plantings),
        said=tuple(Said(label, _said(name, said[name])) for name, label in _SAID if said[name] is not None),
        unsaid=tuple(label[:1].lower() + label[1:] for name, label in _SAID if said[name] is None and name != "beds"),
        words=tuple(e.text for e in one.entries if e.text),
        brought=tuple(Brought(a.entry.happened, _where(garden, a.bed), a.what, a.hit) for a in brought),
        sprayed=tuple(_sprayed(garden, e, one) for e in sprayed(garden, one)),
        seen=tuple(Seen(e.happened, _where(garden, e.target), entry_says(e, garden.units)) for e in looks(garden, one)),
        weather=tuple(WeatherBefore(d.day, d.tmin_c, d.tmax_c, d.rain_mm, d.wind_m_s) for d in days),
        weather_source=_source(station),
        no_proof=NO_PROOF,
        to_do=to_do,
        first=tuple(_first(garden, to_do, brought)),
        known=tuple(from_herbicide(facts[topic]) for topic in _KNOWN),
        held=any(held_back(garden, p.id, today) for p in one.plantings),
    )


def _said(name: str, value: object) -> str:
    return f"{float(str(value)):.0%}".replace("%", " %") if name == "share" else str(value)


def _written(desk: Desk, one: Held, today: date) -> str:
    """When and by whom, and when it was put right: an earlier wording stays in the daybook."""
    by_id = {e.id: e for e in desk.entries()}
    parts = []
    for entry in one.entries:
        who = f" by {entry.who}" if entry.who else ""
        said = f"entered on {day_words(entry.written.date(), today)}{who}"
        said += f" as it was on {day_words(entry.happened, today)}" if entry.happened != entry.written.date() else ""
        if entry.supersedes in by_id:
            said += f", in place of an entry of {day_words(by_id[entry.supersedes].written.date(), today)}"
        parts.append(said)
    said = "; ".join(parts)
    return said[:1].upper() + said[1:]


def _plants(desk: Desk, garden: Garden, planting: Planting, one: Held, view: SeasonView | None) -> Plants:
    today = desk.today(garden)
    let = [released(garden, planting, e, today) for e in one.entries]
    last = None if None in let else let[-1]
    life = None if view is None else view.lives.get(planting.id)
    stands = view is not None and life is not None and life.standing
    rows = [s for s in sensitive(planting.crop) if s.status == "published" and s.group == "growth regulator"]
    known = list(dict.fromkeys(f"{s.herbicide} ({s.sensitivity})" for s in rows))
    said = "" if last is None else f"Released on {day_words(last.happened, today)} by {last.payload['by']}: "
    return Plants(
        planting=planting.id,
        says=planting_name(planting, handbook(desk)),
        where=bed_name(garden, planting),
        how=how_it_stands(garden, planting, today),
        released="" if last is None else said + str(last.payload["what"]),
        sensitive=f"Published as hurt by {joined(known)}" if known else "",
        choice=choice(view, life, one).says if view is not None and life is not None and stands else "",
    )


def _first(garden: Garden, to_do: Sequence[ToDo], brought: Sequence[Added]) -> Iterator[str]:
    """What comes before anything is pulled or sown anew."""
    if any(one.done is None and not one.late for one in to_do):
        yield "Pull nothing before it is photographed, reported and sampled."
    beds = joined(list(dict.fromkeys(_where(garden, a.bed) for a in brought if a.hit)))
    if beds:
        yield (
            f"Something was brought onto {beds}, where plants are hit: before anything is sown there, grow beans in "
            "this soil and beside it in clean mix, and compare their first true leaves."
        )


def _sprayed(garden: Garden, entry: Entry, one: Held) -> Brought:
    planting = garden.plantings.get(entry.target)
    bed = planting.bed if planting else entry.target
    what = str(entry.payload.get("label") or entry.payload.get("product") or "what it was is not entered")
    text = f", “{entry.text.rstrip('.')}”" if entry.text else ""
    return Brought(entry.happened, _where(garden, bed), what + text, bed in {p.bed for p in one.plantings})


def _where(garden: Garden, target: str) -> str:
    if target in garden.beds:
        return garden.beds[target].name
    planting = garden.plantings.get(target)
    return target if planting is None else f"{planting.id}, {bed_name(garden, planting)}"


def _source(station: DailyRecord | None) -> str:
    if station is None:
        return "No weather record is in use here"
    return f"Temperature and rain: {station.source or 'the daily record in use'}"


def _to_do(one: Held, today: date) -> Iterator[ToDo]:
    for window, name in zip(windows(one), ("reported", "sample_sent"), strict=True):
        done = as_day(one.said(name))
        yield ToDo(window.what, window.last, done, done is None and window.last < today, window.ground)


def _wind(desk: Desk, garden: Garden, first_seen: date) -> dict[date, float]:
    """The strongest observed wind of each day, where hours were observed. [m/s]"""
    place = zone(garden.site.timezone)
    first = first_seen - timedelta(days=DAYS_BEFORE)
    start = datetime.combine(first, time(), place)
    try:
        known = hours(desk, start, datetime.combine(first_seen, time(23), place))
    except DataError:
        return {}
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
