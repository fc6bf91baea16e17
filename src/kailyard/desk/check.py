"""May this be put on? A label record against a planting, the weather by the hour and what was done before."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from datetime import date, datetime, time, timedelta
from types import MappingProxyType
from zoneinfo import ZoneInfo

from kailyard.care.picking import lost_if_not_picked
from kailyard.desk import typed
from kailyard.desk.ahead import known_forecasts
from kailyard.desk.desk import Desk, zone
from kailyard.desk.handles import handles, undo
from kailyard.desk.hours import hours
from kailyard.desk.labels import FIELDS, known_label
from kailyard.desk.plantings import known_planting
from kailyard.desk.shelf import handbook
from kailyard.desk.view import season_view
from kailyard.documents._parts import Reason, RestsOn
from kailyard.documents.check import Check, DayHours, Found, ToSee
from kailyard.documents.table import Table
from kailyard.errors import DataError, UsageError
from kailyard.garden.model import Garden, Planting
from kailyard.handbook.troubles import trouble as known_trouble
from kailyard.handbook.types import Handbook
from kailyard.science.sun_position import sun_times
from kailyard.season.life import Life
from kailyard.season.measures import day_words
from kailyard.season.sightings import as_day
from kailyard.season.view import SeasonView, area_m2
from kailyard.troubles.amounts import amount, walked_ml_m2
from kailyard.troubles.case import QUESTIONS, Case, Coming, Cost, Hour, Sun, Weather
from kailyard.troubles.cautions import cautions
from kailyard.troubles.checking import check as check_case
from kailyard.troubles.label import records, rules_of, treatments
from kailyard.troubles.spray_hours import SprayHour, by_day, next_fit, spray_hours
from kailyard.troubles.verdict import Finding
from kailyard.units import Units, in_running_text
from kailyard.weather.forecast import latest_by_day
from kailyard.weather.known_hours import STATES, UNKNOWN

AHEAD_DAYS = 10
"""So far ahead hours are looked at; farther no forecast by the hour is worth anything."""
FLOWERS_CHANCE = 0.05
"""Chance of being in flower about the day from which the planting counts as in flower."""
ABOUT_DAYS = 3
_COLUMNS = ("temp_c", "humidity_pct", "wind_m_s", "rain_mm")


def check(
    desk: Desk,
    label: str,
    planting: str,
    *,
    on: str | None = None,
    at: str | None = None,
    against: str | None = None,
    seen: Sequence[str] = (),
    walk: str | None = None,
) -> Check:
    """The verdict of a day or hour, the hours ahead, and how much to mix.

    Parameters
    ----------
    against
        The trouble; None: the last that was found on the planting.
    seen
        What was seen on the spot: 'leaf-dry=yes'.
    walk
        The gardener's own walk with the sprayer: '4.2 L on 100 m²'.
    """
    garden = desk.garden()
    one, today = known_planting(garden, planting), desk.today(garden)
    day = today if on is None else typed.day(on, today, "--on")
    if day < today:
        raise UsageError(f"--on {day}: that day is over. What was done then is entered: `kailyard enter treat`.")
    if label.casefold() not in records(garden.entries):
        return _no_label(garden, label, one, today, day, handbook(desk))
    made = case_of(desk, garden, label, one, day, hour=_hour(at), against=against, spot=read_seen(seen))
    found = check_case(made)
    ahead = [h for h in sorted(made.weather.hours) if h + timedelta(hours=1) > made.now]
    told = spray_hours(made, ahead)
    fit = next_fit(made, ahead)
    units = garden.units
    return Check(
        garden=garden.name,
        on=today,
        units=units,
        label=made.label.name,
        planting=one.id,
        plants=made.plants,
        where=made.bed,
        trouble=made.trouble.replace("_", "-"),
        day=day,
        hour=f"{found.hour:%H:%M}" if found.hour else "",
        answer=found.answer,
        until=_moment(found.until) if found.until else "",
        against=tuple(_found(f, units) for f in found.against),
        agrees=tuple(_found(f, units) for f in found.findings if not f.beside and f.answer == "may"),
        beside=tuple(_found(f, units) for f in found.beside),
        to_see=tuple(ToSee(key, QUESTIONS[key]) for key in QUESTIONS if key not in made.spot),
        questions=tuple(ToSee(key, words) for key, words in QUESTIONS.items()),
        days=_days(told, today, units),
        next_chance=_moment(fit) if fit else "",
        amount=amount(made.label, _area(garden, one), read_walk(walk, units)).says,
        cautions=cautions(one.crop, made.trouble, sprayed=True, children=made.rules.children),
    )


def _no_label(garden: Garden, label: str, one: Planting, today: date, day: date, book: Handbook) -> Check:
    """Without a label record nothing is allowed: what has to be read first."""
    there = ", ".join(r.label.name for r in records(garden.entries).values()) or "none"
    wanted = ", ".join(called for key, (called, _) in FIELDS.items() if key not in ("sites", "photograph"))
    says = (
        f"There is no label record {typed.shown(label)}, and without one nothing is allowed. There are: {there}. "
        f"Read the label for {wanted}, and type it: `kailyard label NAME --active ... --crops ... --days ...`."
    )
    bed = garden.beds.get(one.bed)
    return Check(
        garden=garden.name,
        on=today,
        units=garden.units,
        label=label,
        planting=one.id,
        plants=(book.text(one.crop, "plain_name") or book.text(one.crop, "common_name") or one.crop).lower(),
        where=bed.name if bed else one.bed,
        trouble="",
        day=day,
        hour="",
        answer="unknown",
        until="",
        against=(Found("label", "unknown", Reason(says, rests_on=RestsOn("observed", "daybook", ""))),),
        agrees=(),
        beside=(),
        to_see=(),
        questions=(),
        days=(),
        next_chance="",
        amount="Read the label for the rate; it is not typed yet.",
        cautions=cautions(one.crop, "", sprayed=True, children=rules_of(garden.entries).children),
    )


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
    feeds = book.text(one.crop, "feeds").lower()
    return Case(
        record=record,
        planting=one.id,
        crop=one.crop,
        crop_names=(plants, book.text(one.crop, "produce"), book.text(one.crop, "common_name").lower()),
        plants=plants,
        bed=bed.name if bed else one.bed,
        day=day,
        now=desk.now().astimezone(place),
        hour=datetime.combine(day, hour, place) if hour is not None else None,
        trouble=known_trouble(against).id if against else last_found(garden, one),
        weather=weather_of(desk, garden, place),
        treatments=treatments(garden.entries, (one.id, one.bed), every, until=day),
        in_bloom=in_bloom(view, life, day),
        host_of_butterflies="asclepias" in book.text(one.crop, "botanical_name").lower() or "caterpillar" in feeds,
        edible=one.crop not in book.plants,
        next_picking=_next_picking(life, day),
        cost=_cost(view, life),
        coming=_coming(garden, day),
        rules=rules_of(garden.entries),
        spot=spot,
    )


def weather_of(desk: Desk, garden: Garden, place: ZoneInfo) -> Weather:
    """Days and hours from today on, each as well as it is known; what is not known is not there."""
    now, today = desk.now(), desk.today(garden)
    first = now.replace(minute=0, second=0, microsecond=0)
    known = hours(desk, first, first + timedelta(days=AHEAD_DAYS))
    told: dict[datetime, Hour] = {}
    for n in range(len(known.record)):
        states = [int(known.states[c][n]) for c in _COLUMNS]
        if all(s == UNKNOWN for s in states):
            continue
        begins = (known.record.first + timedelta(hours=n)).astimezone(place)
        temp, humidity, wind, rain = (float(known.record.columns[c][n]) for c in _COLUMNS)
        told[begins] = Hour(begins, _known(temp), _known(humidity), _known(wind), _known(rain), STATES[min(states)])
    days = latest_by_day(known_forecasts(desk, garden, None, today), today)
    return Weather(
        tmax_c={d.day: d.tmax_c for d in days if not math.isnan(d.tmax_c)},
        tmin_c={d.day: d.tmin_c for d in days if not math.isnan(d.tmin_c)},
        hours=told,
        sun={d: _sun(garden, d, place) for n in range(AHEAD_DAYS + 2) for d in (today + timedelta(days=n),)},
        wind_height_m=known.record.wind_height_m,
        source="forecasts kept, and hours observed",
    )


def read_seen(words: Sequence[str]) -> dict[str, bool]:
    """Answers to the questions on the spot: 'leaf-dry=yes'; a bare key says yes; '?' says nothing."""
    found: dict[str, bool] = {}
    for word in words:
        key, equals, value = word.partition("=")
        if key not in QUESTIONS:
            raise UsageError(f"--seen {typed.shown(key)}: there is none. There are: {', '.join(QUESTIONS)}.")
        if value.strip() in ("?", "unknown") or (equals and not value.strip()):
            continue
        found[key] = typed.yes_or_no(value.strip(), f"--seen {key}") if equals else True
    return found


def read_walk(text: str | None, units: Units) -> float | None:
    """'4.2 L on 100 m²' as what the sprayer lays down; None where nothing is said. [mL/m²]"""
    if not text or not text.strip():
        return None
    used, on, plot = text.partition(" on ")
    if not on:
        raise UsageError(f"--walk {typed.shown(text)}: write what went out and on how much ground: 4.2 L on 100 m².")
    litres = typed.quantity(used.strip(), "L", units, "--walk")
    return walked_ml_m2(litres, typed.quantity(plot.strip().replace("m2", "m²"), "m²", units, "--walk"))


def last_found(garden: Garden, one: Planting) -> str:
    """The trouble found last on a planting or its bed; ''."""
    found = [e for e in garden.entries if e.kind == "found" and e.target in (one.id, one.bed)]
    return str(found[-1].payload.get("trouble", "")).replace("-", "_") if found else ""


def found_on(desk: Desk, planting: str) -> str:
    """The trouble found last on a planting, as typed; ''."""
    garden = desk.garden()
    return last_found(garden, known_planting(garden, planting)).replace("_", "-")


def label_names(desk: Desk) -> tuple[str, ...]:
    """Names of the label records."""
    return tuple(r.label.name for _, r in sorted(records(desk.garden().entries).items()))


def keep_treated(
    desk: Desk, planting: str, label: str, given: Mapping[str, str], *, text: str = "", id_: str | None = None
) -> Table:
    """Keep what was put on: it becomes holds, a next look, and 'what came of it'."""
    garden = desk.garden()
    one, today = known_planting(garden, planting), desk.today(garden)
    record = known_label(records(garden.entries), label)
    payload: dict[str, object] = {"label": record.label.name}
    payload |= {key: given[key] for key in ("product", "hour", "trouble") if given.get(key)}
    if given.get("flowers_open"):
        payload["flowers_open"] = typed.yes_or_no(given["flowers_open"], "flowers open")
    mix = given.get("mix", "").strip()
    litres = typed.quantity(mix, "L", garden.units, "how much") if mix else None
    entry = desk.entry(
        "treat",
        happened=today,
        target=one.id,
        quantity=litres,
        unit="L" if litres is not None else "",
        text=text,
        payload=payload,
        id_=id_,
    )
    desk.keep([entry])
    row = (str(today), "treat", one.id, record.label.name)
    return Table("Entered", ("day", "kind", "of", "what"), (row,), (undo(handles(desk).of(entry)),))


def view_of(desk: Desk) -> SeasonView | None:
    """The season foreseen; None without weather."""
    try:
        return season_view(desk)
    except DataError:
        return None


def _known(value: float) -> float | None:
    return None if math.isnan(value) else value


def _hour(at: str | None) -> time | None:
    if at is None or not at.strip():
        return None
    try:
        return time.fromisoformat(at.strip()).replace(minute=0, second=0)
    except ValueError:
        raise UsageError(f"--at {typed.shown(at)} is no time of day. Write it like 19:00.") from None


def _sun(garden: Garden, day: date, place: ZoneInfo) -> Sun:
    noon = datetime.combine(day, time(12), place)
    offset = noon.utcoffset() or timedelta(0)
    times = sun_times(
        garden.site.latitude,
        garden.site.longitude,
        year=day.year,
        day_of_year=day.timetuple().tm_yday,
        utc_offset_h=offset.total_seconds() / 3600,
    )
    midnight = datetime.combine(day, time(), place)
    return Sun(*(midnight + timedelta(hours=float(t)) for t in (times.sunrise, times.sunset)))


def in_bloom(view: SeasonView | None, life: Life | None, day: date) -> bool | None:
    """Whether it flowers about the day: from the first flower until the last picking; None: not foreseen."""
    if view is None or life is None:
        return None
    first, last = life.stage("first-flower"), life.stage("last-harvest")
    if first is None:
        return None
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


def _area(garden: Garden, one: Planting) -> float:
    return area_m2(one, garden.beds.get(one.bed))


def _found(f: Finding, units: Units) -> Found:
    return Found(f.check, f.answer, Reason(in_running_text(f.says, units), rests_on=f.rests_on))


def _moment(when: datetime) -> str:
    whole = when.hour == 0 and when.minute == 0
    return day_words(when.date()) if whole else f"{day_words(when.date())}, {when:%H:%M}"


def _days(told: Sequence[SprayHour], today: date, units: Units) -> tuple[DayHours, ...]:
    out = []
    for day, those in by_day(told).items():
        fit = [h for h in those if h.answer == "may"]
        why = ""
        if not fit:
            reasons = [h.why for h in those if h.why]
            unknown = all(h.answer == "unknown" for h in those)
            why = "unknown: " if unknown else ""
            why += in_running_text(max(dict.fromkeys(reasons), key=reasons.count), units) if reasons else ""
        out.append(DayHours(day, _spans(fit), why))
    return tuple(out)


def _spans(fit: Sequence[SprayHour]) -> str:
    """'9:00 to 11:00, 15:00 to 18:00'."""
    spans: list[list[datetime]] = []
    for h in fit:
        if spans and spans[-1][1] == h.begins:
            spans[-1][1] = h.begins + timedelta(hours=1)
        else:
            spans.append([h.begins, h.begins + timedelta(hours=1)])
    return ", ".join(f"{a:%H:%M} to {b:%H:%M}" for a, b in spans)
