"""Entering: the likeliest plantings first, two taps and a number for the usual; any kind by its whole form."""

from __future__ import annotations

from dataclasses import dataclass, fields, make_dataclass
from datetime import date
from typing import Any, Literal

from kailyard.desk.answer import once
from kailyard.desk.desk import Desk
from kailyard.desk.forms import EntryForm, empty_form, field_names, filled_form, kinds_to_enter, pick_units
from kailyard.desk.likely import Offer, everything, likeliest, offer_of
from kailyard.desk.narrowed import foreseen, narrowed
from kailyard.desk.people import Visitor
from kailyard.desk.take import Written, take
from kailyard.desk.taken import Taken, take_back, taken
from kailyard.web.register import Moved

PATH = "/enter"
TITLE = "Enter"
MENU = (1, 2)
TEMPLATE = "enter.html"
KEEPS = True
WAITS = True
FORESEES = True
MOST_BYTES = 60_000
ON_PAGES = {
    "bed": "/beds",
    "cultivar": "/cultivars",
    "forecast": "/forecast#typed",
    "planting": "/plantings",
    "weather-aside": "/weather",
    "weather-left": "/weather",
}
"""Kinds whose entries are made on a page of their own."""
Back = Literal["enter", "sheet", "planting", "daybook", "pickings"]
INSTRUMENTS = ("rain", "soil-temperature", "air-temperature")
"""What is read off and entered of the whole garden."""


@dataclass(frozen=True, slots=True)
class Query:
    """`of`: one planting; `kind`: a kind's whole form; `right`: an entry to be put right; `kept`: entries just made."""

    of: str = ""
    kind: str = ""
    right: str = ""
    kept: str = ""
    back: Back = "enter"


@dataclass(frozen=True)
class Said:
    """What every form says."""

    wish: Literal["keep", "undo"] = "keep"
    back: Back = "enter"
    of: str = ""
    """The planting whose page is gone back to after an undo."""
    kept: str = ""
    """Entries to be taken back, parted by commas."""
    id: str = ""
    kind: str = ""
    target: str = ""
    happened: str = ""
    amount: str = ""
    unit: str = ""
    text: str = ""
    puts_right: str = ""


_OWN = tuple(f.name for f in fields(Said))
_KINDS_FIELDS = tuple(name for name in field_names() if name not in _OWN)
Form: type[Any] = make_dataclass("Form", [(name, str, "") for name in _KINDS_FIELDS], bases=(Said,), frozen=True)
"""`Said`, and every field that a kind of entry has, as text."""


@dataclass(frozen=True, slots=True)
class Page:
    """What can be entered."""

    today: date
    taken: Taken | None
    form: EntryForm | None
    back: Back
    of: str
    offers: tuple[Offer, ...]
    everything: tuple[tuple[str, str], ...]
    kinds: tuple[tuple[str, str], ...]
    instruments: tuple[EntryForm, ...]
    pick_units: tuple[str, ...]

    def fresh(self) -> str:
        """An identifier for one more form."""
        return once()


QUERY = Query
FORM = Form


def page(desk: Desk, query: Query, person: Visitor) -> Page | Moved:
    """The lists; or one form, where a kind or an entry to be put right is named."""
    if not query.right and query.kind in ON_PAGES:
        return Moved(ON_PAGES[query.kind])
    garden = desk.garden()
    form = None
    if query.right:
        form = filled_form(desk, query.right)
    elif query.kind:
        form = empty_form(desk, query.kind, query.of)
    one = query.of in garden.plantings and form is None
    offers = (offer_of(desk, query.of),) if one else likeliest(desk) if form is None else ()
    return Page(
        today=desk.today(garden),
        taken=taken(desk, query.kept) if query.kept else None,
        form=form,
        back=query.back,
        of=query.of,
        offers=offers,
        everything=everything(desk) if form is None else (),
        kinds=kinds_to_enter(),
        instruments=() if form or one else tuple(empty_form(desk, name) for name in INSTRUMENTS),
        pick_units=pick_units(desk),
    )


def post(desk: Desk, form: Any, person: Visitor) -> Moved:
    """Keep the entry, or take entries back."""
    if form.wish == "undo":
        says = take_back(desk, form.kept)
        return Moved(_way_back(desk, form.back, form.of), says)
    written = Written(
        id=form.id or once(),
        kind=form.kind,
        target=form.target,
        happened=form.happened,
        amount=form.amount,
        unit=form.unit,
        text=form.text,
        puts_right=form.puts_right,
        fields={name: getattr(form, name) for name in _KINDS_FIELDS},
    )
    before = foreseen(desk, form.target, form.kind)
    kept = take(desk, written)
    way = _way_back(desk, form.back, form.target)
    return Moved(f"{way}?kept={kept}", narrowed(before, foreseen(desk, form.target, form.kind)))


def _way_back(desk: Desk, back: Back, planting: str) -> str:
    if back == "planting" and planting in desk.garden().plantings:
        return f"/planting/{planting}"
    return {"sheet": "/", "daybook": "/daybook", "pickings": "/pickings"}.get(back, PATH)
