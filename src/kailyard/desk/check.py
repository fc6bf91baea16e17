"""May this be put on? A label record against a planting, the weather by the hour and what was done before."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta

from kailyard.desk import typed
from kailyard.desk.desk import Desk, zone
from kailyard.desk.handles import handles, undo
from kailyard.desk.labels import FIELDS, known_label
from kailyard.desk.plantings import known_planting
from kailyard.desk.shelf import handbook
from kailyard.desk.spray_case import case_of, last_found, view_of
from kailyard.documents._parts import Reason, RestsOn
from kailyard.documents.check import Check, DayHours, Found, ToSee
from kailyard.documents.table import Table
from kailyard.errors import UsageError
from kailyard.garden.model import Garden, Planting
from kailyard.season.measures import day_words
from kailyard.season.view import area_m2
from kailyard.season.windows import Hold
from kailyard.season.work import treated
from kailyard.troubles.amounts import amount, walked_ml_m2
from kailyard.troubles.case import QUESTIONS
from kailyard.troubles.cautions import cautions
from kailyard.troubles.checking import check as check_case
from kailyard.troubles.label import picking_days, records, rules_of, trouble_words
from kailyard.troubles.spray_hours import SprayHour, by_day, spray_hours
from kailyard.troubles.verdict import STERNNESS, Finding
from kailyard.units import Units, in_running_text


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
        What was seen on the spot: 'leaf-dry=yes'. It tells of the next two hours; without `at` of this hour.
    walk
        The gardener's own walk with the sprayer: '4.2 L on 100 m²'.
    """
    garden = desk.garden()
    one, today = known_planting(garden, planting), desk.today(garden)
    day = today if on is None else typed.day(on, today, "--on")
    if day < today:
        raise UsageError(f"--on {day}: that day is over. What was done then is entered: `kailyard enter treat`.")
    if label.casefold() not in records(garden.entries):
        return _no_label(desk, garden, label, one, today, day)
    spot, hour = read_seen(seen), _hour(at)
    if hour is None and spot and day == today:  # whoever answers stands there now
        hour = desk.now().astimezone(zone(garden.site.timezone)).time().replace(minute=0, second=0, microsecond=0)
    made = case_of(desk, garden, label, one, day, hour=hour, against=against, spot=spot)
    found = check_case(made)
    looked_at = replace(made, hour=found.hour)
    ahead = [h for h in sorted(made.weather.hours) if h + timedelta(hours=1) > made.now]
    told = spray_hours(made, ahead)
    fit = next((h.begins for h in told if h.answer == "may"), None)
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
        against_what=trouble_words(made.trouble),
        day=day,
        hour=f"{found.hour:%H:%M}" if found.hour else "",
        answer=found.answer,
        until=_moment(found.until) if found.until else "",
        against=tuple(_found(f, units) for f in found.against),
        agrees=tuple(_found(f, units) for f in found.findings if not f.beside and f.answer == "may"),
        beside=tuple(_found(f, units) for f in found.beside),
        to_see=tuple(ToSee(key, QUESTIONS[key]) for key in QUESTIONS if looked_at.seen(key) is None),
        questions=tuple(ToSee(key, words) for key, words in QUESTIONS.items()),
        days=_days(told, today, units),
        held=held_now(desk, one),
        next_chance=_moment(fit) if fit else "",
        amount=amount(made.label, _area(garden, one), read_walk(walk, units)).says,
        cautions=cautions(one.crop, made.trouble, sprayed=True, children=made.rules.children),
    )


def _no_label(desk: Desk, garden: Garden, label: str, one: Planting, today: date, day: date) -> Check:
    """Without a label record nothing is allowed: what has to be read first."""
    book = handbook(desk)
    there = ", ".join(r.label.name for r in records(garden.entries).values()) or "none"
    wanted = ", ".join(called for key, (called, _) in FIELDS.items() if key != "photograph")
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
        against_what="",
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
        held=held_now(desk, one),
        next_chance="",
        amount="Read the label for the rate; it is not typed yet.",
        cautions=cautions(one.crop, "", sprayed=True, children=rules_of(garden.entries).children),
    )


def held_now(desk: Desk, one: Planting) -> tuple[Reason, ...]:
    """What was put on before holds picking and going in: as on the sheet."""
    view = view_of(desk)
    life = view.lives.get(one.id) if view else None
    if view is None or life is None:
        return ()
    holds = [h for h in treated.windows(view, life) if isinstance(h, Hold)]
    return tuple(Reason(f"{h.says}, {h.where}: {h.detail}.", because=h.reasons) for h in holds)


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
    book = handbook(desk)
    names = (book.text(one.crop, "plain_name").lower(), book.text(one.crop, "common_name").lower())
    then = {"days_to_picking": picking_days(record.label, one.crop, names), "entry_hours": record.label.entry_hours}
    payload |= {key: value for key, value in then.items() if value is not None}
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


def _hour(at: str | None) -> time | None:
    if at is None or not at.strip():
        return None
    try:
        return time.fromisoformat(at.strip()).replace(minute=0, second=0)
    except ValueError:
        raise UsageError(f"--at {typed.shown(at)} is no time of day. Write it like 19:00.") from None


def _area(garden: Garden, one: Planting) -> float:
    return area_m2(one, garden.beds.get(one.bed))


def _found(f: Finding, units: Units) -> Found:
    ask = f.ask if f.answer == "unknown" else ""
    return Found(f.check, f.answer, Reason(in_running_text(f.says, units), rests_on=f.rests_on), ask)


def _moment(when: datetime) -> str:
    whole = when.hour == 0 and when.minute == 0
    return day_words(when.date()) if whole else f"{day_words(when.date())}, {when:%H:%M}"


def _days(told: Sequence[SprayHour], today: date, units: Units) -> tuple[DayHours, ...]:
    out = []
    for day, those in by_day(told).items():
        fit = [h for h in those if h.answer == "may"]
        why = ""
        if not fit:
            best = min(those, key=lambda h: (-STERNNESS[h.answer], h.hindrances))
            unknown = best.answer == "unknown"
            why = "unknown: " if unknown else ""
            why += in_running_text(best.why, units)
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
