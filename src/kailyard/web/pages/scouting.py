"""Scouting: one round in walking order, to tick and count on in place; when weather favours diseases under it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from kailyard.desk.answer import once
from kailyard.desk.desk import Desk
from kailyard.desk.new import settings
from kailyard.desk.people import Visitor
from kailyard.desk.risk import risks
from kailyard.desk.scout import keep_count, round_of
from kailyard.desk.taken import Taken, taken
from kailyard.documents.scout import Lookout
from kailyard.publish import body
from kailyard.publish.html.scout import done, lookout, under
from kailyard.publish.markup import Markup, together
from kailyard.publish.say_scout import closely, main, passing, usual
from kailyard.web.register import Moved

PATH = "/scouting"
TITLE = "Scouting"
MENU = (4, 1)
TEMPLATE = "scouting.html"
FORESEES = True
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
    passing: str
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
            tuple(OneOf(one, lookout(one, made)) for one in closely(stop)),
            tuple(OneOf(one, lookout(one, made)) for one in usual(stop)),
            ", ".join(one.name for one in usual(stop)),
            done(stop),
            passing(stop),
            tuple(one for one in stop.lookouts if one not in main(stop)),
        )
        for stop in made.stops
    )
    drawn = desk.kept(("risk body", made.on), lambda: together(*body(weather).parts[1:]))
    return Page(made.on, made.garden, stops, under(made), drawn, taken(desk, query.kept) if query.kept else None)


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
