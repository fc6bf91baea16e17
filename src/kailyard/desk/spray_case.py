"""Everything that the check of a spraying looks at, gathered: label, planting, weather, what was done before."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from datetime import date, datetime, time, timedelta
from types import MappingProxyType
from zoneinfo import ZoneInfo

from kailyard.care.picking import lost_if_not_picked
from kailyard.care.water import water_of
from kailyard.desk.ahead import known_forecasts
from kailyard.desk.desk import Desk, zone
from kailyard.desk.hours import hours
from kailyard.desk.labels import known_label
from kailyard.desk.shelf import handbook
from kailyard.desk.view import season_view
from kailyard.errors import DataError
from kailyard.garden.model import Garden, Planting
from kailyard.handbook.remedies import bloom_of
from kailyard.handbook.troubles import trouble as known_trouble
from kailyard.handbook.types import Handbook
from kailyard.science.sun_position import sun_times
from kailyard.season.life import Life
from kailyard.season.sightings import as_day
from kailyard.season.view import SeasonView
from kailyard.troubles.case import Case, Coming, Cost, Hour, Sun, Weather
from kailyard.troubles.checks.young import SET_OUT_DAYS, SPROUTED_DAYS
from kailyard.troubles.label import records, rules_of, treatments
from kailyard.weather.forecast import latest_by_day
from kailyard.weather.known_hours import STATES, UNKNOWN

AHEAD_DAYS = 10
"""So far ahead hours are looked at; farther no forecast by the hour is worth anything."""
STALE_H = 24
"""A forecast older than this counts as none: wind and rain of an hour are told anew several times a day."""
STALE_DAYS = 1
"""The same of forecasts by the day, which name no hour of issue."""
FLOWERS_CHANCE = 0.05
"""Chance of being in flower about the day from which the planting counts as in flower."""
ABOUT_DAYS = 3
SETTLED_CHANCE = 0.95
"""So sure it must be that seedlings are up before their soft days are counted."""
WILTED_DAYS = 7
"""So long a word of wilting counts, where nobody has watered or looked since."""
_BEGINNINGS = frozenset({"sow", "plant", "set-out"})
_COLUMNS = ("temp_c", "humidity_pct", "wind_m_s", "rain_mm")


def case_of(
    desk: Desk,
    garden: Garden,
    label: str,
    one: Planting,
    day: date,
    *,
    hour: time | None = None,
    against: str | None = None,
    spot: Mapping[str, bool] = MappingProxyType({}),
) -> Case:
    """Everything the checks look at, gathered."""
    book, place = handbook(desk), zone(garden.site.timezone)
    record = known_label(records(garden.entries), label)
    every = records(garden.entries, removed=True)
    view = view_of(desk)
    life = view.lives.get(one.id) if view else None
    plants = (book.text(one.crop, "plain_name") or book.text(one.crop, "common_name") or one.crop).lower()
    bed = garden.beds.get(one.bed)

    def alike(same_bed: bool) -> tuple[str, ...]:
        others = (p for p in garden.plantings.values() if p.id != one.id and p.crop == one.crop)
        return tuple(p.id for p in others if (p.bed == one.bed) is same_bed)

    return Case(
        record=record,
        planting=one.id,
        crop=one.crop,
        bed_id=one.bed,
        crop_names=(plants, book.text(one.crop, "produce"), book.text(one.crop, "common_name").lower()),
        plants=plants,
        bed=bed.name if bed else one.bed,
        day=day,
        now=desk.now().astimezone(place),
        hour=datetime.combine(day, hour, place) if hour is not None else None,
        trouble=known_trouble(against).id if against else last_found(garden, one),
        weather=weather_of(desk, garden, place),
        treatments=treatments(garden.entries, (one.id, one.bed), every, until=day),
        beside=treatments(garden.entries, alike(True), every, until=day),
        elsewhere=treatments(garden.entries, alike(False), every, until=day),
        in_bloom=in_bloom(view, life, day),
        flowers_in_bed=_names(view, flowering := _flowering(view, one, day, same_bed=True)),
        flowers_all_day=any(bloom_of(p.crop) is None for p in flowering),
        flowers_near=_names(view, _flowering(view, one, day, same_bed=False), where=True),
        host_of_butterflies=_feeds_caterpillars(book, one.crop),
        hosts_in_bed=_hosts(garden, book, one, same_bed=True),
        hosts_near=_hosts(garden, book, one, same_bed=False),
        begun=one.since is not None or any(e.kind in _BEGINNINGS for e in garden.entries_of(one.id)),
        cleared=max((e.happened for e in garden.entries_of(one.id) if e.kind == "clear"), default=None),
        settled=_settled(view, life),
        thirsty=_thirsty(view, life),
        wilted=_wilted(garden, one, day),
        edible=one.crop not in book.plants,
        next_picking=_next_picking(life, day),
        cost=_cost(view, life),
        coming=_coming(garden, day),
        rules=rules_of(garden.entries),
        spot=spot,
    )


def weather_of(desk: Desk, garden: Garden, place: ZoneInfo) -> Weather:
    """Days and hours of today and on, each as well as it is known. What is unknown or too old is not there."""
    now, today = desk.now(), desk.today(garden)
    start = min(datetime.combine(today, time(), place), now - timedelta(hours=WET_HOURS))
    first = start.replace(minute=0, second=0, microsecond=0)
    ahead = now.replace(minute=0, second=0, microsecond=0) + timedelta(days=AHEAD_DAYS)
    known = hours(desk, first, ahead, issued_since=now - timedelta(hours=STALE_H))
    told: dict[datetime, Hour] = {}
    for n in range(len(known.record)):
        states = [int(known.states[c][n]) for c in _COLUMNS]
        if all(s == UNKNOWN for s in states):
            continue
        begins = (known.record.first + timedelta(hours=n)).astimezone(place)
        temp, humidity, wind, rain = (float(known.record.columns[c][n]) for c in _COLUMNS)
        made = Hour(begins, _known(temp), _known(humidity), _known(wind), _known(rain), STATES[min(states)])
        told[begins] = _both(told[begins], made) if begins in told else made
    fresh = (d for d in known_forecasts(desk, garden, None, today) if (today - d.issued).days <= STALE_DAYS)
    days = latest_by_day(fresh, today)
    suns = {d: _sun(garden, d, place) for n in range(AHEAD_DAYS + 2) for d in (today + timedelta(days=n),)}
    return Weather(
        tmax_c=_highest({d.day: d.tmax_c for d in days if not math.isnan(d.tmax_c)}, told.values()),
        tmin_c={d.day: d.tmin_c for d in days if not math.isnan(d.tmin_c)},
        hours=told,
        sun={d: s for d, s in suns.items() if s is not None},
        wind_height_m=known.record.wind_height_m,
        source="forecasts kept, and hours observed",
    )


WET_HOURS = 3
"""So many hours before now are looked at too: rain in them wets the leaves."""


def _both(one: Hour, other: Hour) -> Hour:
    """An hour that the clock shows twice, when it is set back: the rain of both, and nothing else of it is known."""
    rain = None if one.rain_mm is None or other.rain_mm is None else one.rain_mm + other.rain_mm
    return Hour(one.begins, None, None, None, rain, one.state)


def _highest(days: Mapping[date, float], hours: Iterable[Hour]) -> dict[date, float]:
    """Each day's highest: what its forecast says, or more where an hour of it, observed or forecast, is hotter."""
    found = dict(days)
    for hour in hours:
        day = hour.begins.date()
        if day in found and hour.temp_c is not None:
            found[day] = max(found[day], hour.temp_c)
    return found


def last_found(garden: Garden, one: Planting) -> str:
    """The trouble found last on a planting or its bed; ''."""
    found = [e for e in garden.entries if e.kind == "found" and e.target in (one.id, one.bed)]
    return str(found[-1].payload.get("trouble", "")).replace("-", "_") if found else ""


def view_of(desk: Desk) -> SeasonView | None:
    """The season foreseen; None without weather."""
    try:
        return season_view(desk)
    except DataError:
        return None


def _known(value: float) -> float | None:
    return None if math.isnan(value) else value


def _sun(garden: Garden, day: date, place: ZoneInfo) -> Sun | None:
    noon = datetime.combine(day, time(12), place)
    offset = noon.utcoffset() or timedelta(0)
    times = sun_times(
        garden.site.latitude,
        garden.site.longitude,
        year=day.year,
        day_of_year=day.timetuple().tm_yday,
        utc_offset_h=offset.total_seconds() / 3600,
    )
    if not (math.isfinite(float(times.sunrise)) and math.isfinite(float(times.sunset))):
        return None
    midnight = datetime.combine(day, time(), place)
    return Sun(*(midnight + timedelta(hours=float(t)) for t in (times.sunrise, times.sunset)))


def in_bloom(view: SeasonView | None, life: Life | None, day: date) -> bool | None:
    """Whether it flowers about the day: from the first flower until the last picking; None: not foreseen."""
    if view is None or life is None:
        return None
    first, last = life.stage("first-flower"), life.stage("last-harvest")
    if first is None:
        months = [view.handbook.number(life.planting.crop, f"bloom_month_{end}") for end in ("first", "last")]
        if months[0] is None or months[1] is None:
            return None
        about = (day + timedelta(days=n) for n in (-ABOUT_DAYS, 0, ABOUT_DAYS))
        return any(months[0] <= d.month <= months[1] for d in about)
    if first.by(day + timedelta(days=ABOUT_DAYS)) < FLOWERS_CHANCE:
        return False
    return last is None or last.by(day - timedelta(days=ABOUT_DAYS)) <= 1.0 - FLOWERS_CHANCE


def _next_picking(life: Life | None, day: date) -> date | None:
    if life is None or life.timeline is None:
        return None
    ready = life.stage(life.timeline.harvest)
    middle = ready.quantile(0.5) if ready else None
    return None if middle is None else max(middle, day)


def _cost(view: SeasonView | None, life: Life | None) -> Callable[[date, date], Cost]:
    def cost(first: date, last: date) -> Cost:
        if view is None or life is None:
            return Cost("", False)
        lost = lost_if_not_picked(view, life, first, last)
        return Cost(lost.words, lost.known)

    return cost


def _coming(garden: Garden, day: date) -> tuple[Coming, ...]:
    found = [
        Coming(when, str(e.payload.get("what") or ""))
        for e in garden.entries
        if e.kind == "visit" and (when := as_day(e.payload.get("day"))) is not None and when >= day
    ]
    return tuple(sorted(found, key=lambda c: (c.day, c.what)))


def _flowering(view: SeasonView | None, one: Planting, day: date, *, same_bed: bool) -> tuple[Planting, ...]:
    """Other plantings that may be in flower about the day."""
    if view is None:
        return ()
    others = (x for x in view.lives.values() if x.standing and x.planting.id != one.id)
    return tuple(x.planting for x in others if (x.planting.bed == one.bed) is same_bed and in_bloom(view, x, day))


def _names(view: SeasonView | None, those: Iterable[Planting], *, where: bool = False) -> tuple[str, ...]:
    if view is None:
        return ()
    return tuple(dict.fromkeys(f"{view.plants(p)} in {view.where(p)}" if where else view.plants(p) for p in those))


def _feeds_caterpillars(book: Handbook, crop: str) -> bool:
    feeds = book.text(crop, "feeds").lower()
    return "asclepias" in book.text(crop, "botanical_name").lower() or "caterpillar" in feeds


def _hosts(garden: Garden, book: Handbook, one: Planting, *, same_bed: bool) -> tuple[str, ...]:
    """Other plantings that are grown for caterpillars to eat."""
    gone = {e.target for e in garden.entries if e.kind == "clear"}
    found = []
    for p in garden.plantings.values():
        if p.id != one.id and p.id not in gone and (p.bed == one.bed) is same_bed and _feeds_caterpillars(book, p.crop):
            bed = garden.beds.get(p.bed)
            name = (book.text(p.crop, "plain_name") or p.crop).lower()
            found.append(name if same_bed else f"{name} in {bed.name if bed else p.bed}")
    return tuple(dict.fromkeys(found))


def _settled(view: SeasonView | None, life: Life | None) -> date | None:
    """From when its plants are no longer soft; None where nobody has written when they began."""
    if view is None or life is None:
        return None
    seen = life.sightings
    if life.planting.since is not None and life.planting.since < view.today - timedelta(days=365):
        return life.planting.since + timedelta(days=365)
    if (put := seen.set_out or seen.planted) is not None:
        return put + timedelta(days=SET_OUT_DAYS)
    up = life.stage("emerged")
    if seen.sown is None or up is None:
        return None
    sprouted = up.quantile(SETTLED_CHANCE)
    return None if sprouted is None else sprouted + timedelta(days=SPROUTED_DAYS)


def _thirsty(view: SeasonView | None, life: Life | None) -> bool | None:
    """Whether the bed's water is more likely than not past the time at which it should be watered."""
    water = water_of(view) if view is not None and life is not None else None
    if water is None or life is None or life.planting.id not in {x.planting.id for x in water.stand.lives}:
        return None
    mine = [w for w in water.waterings if life.planting.id in {water.stand.lives[i].planting.id for i in w.at}]
    return any(w.short for w in mine)


def _wilted(garden: Garden, one: Planting, day: date) -> date | None:
    """The last day on which somebody wrote of wilting; a watering or another look since takes it off."""
    last: date | None = None
    mine = (e for e in garden.entries if e.target in (one.id, one.bed) and e.kind in ("look", "found", "water", "note"))
    for e in sorted(mine, key=lambda e: (e.happened, e.written)):
        words = f"{e.payload.get('found', '')} {e.payload.get('signs', '')} {e.text}".lower()
        if "wilt" in words and "no wilt" not in words and "not wilt" not in words and "wilted=no" not in words:
            last = e.happened
        elif e.kind in ("water", "look"):
            last = None
    return last if last is not None and 0 <= (day - last).days <= WILTED_DAYS else None
