"""Scouting: one round in walking order, to tick and count on in place; when weather favours diseases under it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from urllib.parse import quote

from kailyard.desk.answer import once
from kailyard.desk.desk import Desk
from kailyard.desk.new import settings
from kailyard.desk.people import Visitor
from kailyard.desk.risk import risks
from kailyard.desk.scout import keep_count, round_of
from kailyard.desk.taken import Taken, taken
from kailyard.documents.scout import Lookout, Stop
from kailyard.publish import body
from kailyard.publish.html.scout import done, lookout, under
from kailyard.publish.markup import Markup, el, spaced, together
from kailyard.publish.say_scout import again, closely, glance, glances, main, usual
from kailyard.web.register import Moved

PATH = "/scouting"
TITLE = "Scouting"
MENU = (4, 1)
TEMPLATE = "scouting.html"
KEEPS = True
FORESEES = True
WAITS = True
MOST_BYTES = 20_000


@dataclass(frozen=True, slots=True)
class Query:
    """`kept`: the count just entered."""

    kept: str = ""


@dataclass(frozen=True, slots=True)
class Form:
    """One count, as typed."""

    trouble: str
    target: str
    id: str = ""
    looked_at: str = ""
    found_on: str = ""
    total: str = ""
    measure: str = ""
    enemies: str = ""
    none: str = ""
    """Not empty: none was found."""
    bed: str = ""


@dataclass(frozen=True, slots=True)
class OneOf:
    """One lookout with what its form needs."""

    of: Lookout
    said: Markup
    targets: tuple[tuple[str, str], ...]
    """(what it is entered on, what that is called): all of them first, where there are several."""


@dataclass(frozen=True, slots=True)
class StopOf:
    """One bed."""

    bed: str
    name: str
    closely: tuple[OneOf, ...]
    usual: tuple[OneOf, ...]
    names: str
    """Of those that are looked for as usual."""
    done: Markup
    glances: tuple[str, ...]
    """What needs no more than a glance, each with where on the plant."""
    again: str
    """What was looked for and is not due yet."""
    others: tuple[Lookout, ...]
    """Those that are looked for in passing, or not yet again."""


@dataclass(frozen=True, slots=True)
class Page:
    """The round; `on` is None where there is no record to make it from."""

    on: date | None
    garden: str
    stops: tuple[StopOf, ...]
    under: Markup
    risk: Markup
    taken: Taken | None

    def fresh(self) -> str:
        """An identifier for one more form."""
        return once()


QUERY = Query
FORM = Form


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """The round of today."""
    found = settings(desk)
    if found and not found.weather:
        return Page(None, "", (), Markup(), Markup(), None)
    made, weather = round_of(desk), risks(desk)
    stops = tuple(
        StopOf(
            stop.bed,
            stop.name,
            tuple(OneOf(one, lookout(one, made, leads=leads), _targets(stop, one)) for one in closely(stop)),
            tuple(OneOf(one, lookout(one, made, leads=leads), _targets(stop, one)) for one in usual(stop)),
            ", ".join(one.name for one in usual(stop)),
            done(stop, leads=leads),
            tuple(map(glance, glances(stop))),
            again(stop),
            tuple(one for one in stop.lookouts if one not in main(stop)),
        )
        for stop in made.stops
    )
    drawn = desk.kept(("risk body", made.on), lambda: together(*body(weather).parts[1:]))
    return Page(made.on, made.garden, stops, under(made), drawn, taken(desk, query.kept) if query.kept else None)


def leads(one: Lookout) -> Markup:
    """The way from a count to what may be done about it, planting by planting."""
    several = len(one.act) > 1
    names = dict(zip(one.plantings, one.names, strict=True))
    links = [
        el(
            "a",
            f"What may be done on {names[act.planting]}" if several else "What may be done",
            href=f"/options/{quote(act.planting)}?trouble={quote(one.trouble)}",
        )
        for act in one.act
    ]
    return el("p", spaced(*links), class_="actions screen")


def _targets(stop: Stop, one: Lookout) -> tuple[tuple[str, str], ...]:
    """A name that two plantings bear is told apart by what they are entered as."""
    pairs = list(zip(one.plantings, one.names, strict=True))
    named = [(id_, name if one.names.count(name) == 1 else f"{name} ({id_})") for id_, name in pairs]
    return ((stop.bed, "all of them"), *named) if len(named) > 1 else tuple(named)


def post(desk: Desk, form: Form, person: Visitor) -> Moved:
    """Keep one count."""
    kept = keep_count(
        desk,
        id_=form.id or once(),
        target=form.target,
        trouble=form.trouble,
        looked_at=form.looked_at,
        found_on=form.found_on,
        total=form.total,
        measure=form.measure,
        enemies=form.enemies,
        none=bool(form.none),
    )
    return Moved(f"{PATH}?kept={kept}#{form.bed}", "Kept.")
