"""The handbook at the desk: checked, shown, and those of its facts that are most worth finding."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from datetime import date, timedelta
from functools import lru_cache

from kailyard.desk.desk import FACTS_FILE, Desk
from kailyard.desk.shelf import handbook
from kailyard.desk.typed import shown
from kailyard.desk.view import season_view
from kailyard.documents._parts import Reason
from kailyard.documents.sheet import Line, Sheet
from kailyard.documents.table import Table
from kailyard.errors import FactError, NotFound
from kailyard.handbook.load import check_handbook, fingerprint
from kailyard.handbook.names import crosses_with, name_problems, sold_as
from kailyard.handbook.quantities import quantities
from kailyard.handbook.shaky import Shaky, shakiest
from kailyard.handbook.types import Fact, Handbook, Leg
from kailyard.publish.codec import from_json
from kailyard.publish.units import number
from kailyard.season.sheet import compose
from kailyard.season.view import SeasonView

MOST_GAPS = 20


def check(desk: Desk) -> Table:
    """Judge every row, the garden's own included; FactError names every bad one by file and line."""
    own = desk.own_facts()
    problems = check_handbook(None, own)
    if problems:
        raise FactError(problems)
    book = handbook(desk)
    problems = name_problems(book)
    if problems:
        raise FactError(problems)
    facts = sum(len(those) for those in book.facts.values())
    legs = sum(len(those) for those in book.legs.values())
    mine = f"Your own {own.name} is among them." if own else "You have no facts of your own (facts.csv) here."
    note = f"{facts} facts and {legs} stretches of development of {len(book.crops)} crops. {mine}"
    return Table("Every row of the handbook keeps its rules", notes=(note,))


def crops(desk: Desk) -> Table:
    """Every crop with its name and how much is known of it."""
    book = handbook(desk)
    rows = tuple(
        (crop, book.text(crop, "common_name"), f"{len(book.facts.get(crop, {}))}", f"{len(book.legs.get(crop, ()))}")
        for crop in book.crops
    )
    return Table(
        "Crops of the handbook", ("crop", "name", "facts", "stretches"), rows, ("`kailyard handbook show pea`.",)
    )


def show(desk: Desk, crop: str, quantity: str | None = None) -> Table:
    """What is known of a crop, or of all that begin so ('tomato'): each value with its status and source.

    With `quantity`: those values alone, their citations, cautions and notes written out.
    """
    book = handbook(desk)
    found = _family(book, crop)
    every = [(subject, name, fact) for subject in found for name, fact in _facts_of(book, subject)]
    if quantity is None:
        rows = tuple(
            ((subject.removeprefix(f"{crop}-"),) if len(found) > 1 else ())
            + (name, _value(fact), fact.status, _place(fact))
            for subject, name, fact in every
        )
        columns = (("crop",) if len(found) > 1 else ()) + ("quantity", "value", "status", "source")
        note = f"Citations and notes of one: `kailyard handbook show {found[0]} QUANTITY`."
        crosses = crosses_with(found[0], book).says if len(found) == 1 else ()
        return Table(", ".join(_name(book, subject) for subject in found), columns, rows, (*crosses, note))
    asked = [(subject, name, fact) for subject, name, fact in every if quantity in (fact.quantity, name)]
    asked = asked or [(s, n, f) for s, n, f in every if f.quantity.startswith(quantity)]
    if not asked:
        there = sorted({fact.quantity for _, _, fact in every})
        raise NotFound(f"The handbook says nothing of {shown(quantity)} of {crop}. It knows: {', '.join(there)}.")
    rows = tuple(
        (subject, name, _value(fact), fact.status, f"{fact.file}:{fact.line}") for subject, name, fact in asked
    )
    notes = dict.fromkeys(note for _, _, fact in asked for note in _ground(book, fact))
    return Table(f"{crop}: {quantity}", ("crop", "quantity", "value", "status", "stands in"), rows, tuple(notes))


def gaps(desk: Desk, *, on: date | None = None) -> Table:
    """The facts most worth finding: weak ground times lines of sheets that lean on it times its spread.

    Counted are the lines of the sheet of that day, and of every sheet issued in the year before it from the same facts.
    """
    view = season_view(desk, on=on)
    leaning = lines_leaning(view, compose(view))
    sheets = issued_sheets(desk, view.today)
    for sheet in sheets:
        leaning.update(_rested_on(view.handbook, sheet))
    stretches = {
        (fact.file, fact.line): f"{_stretch(leg)}: "
        for crop in sorted({fact.subject for fact in leaning})
        for leg in view.handbook.legs.get(crop, ())
        for fact in leg.facts.values()
    }
    rows = tuple(_gap_row(shaky, stretches) for shaky in shakiest(leaning)[:MOST_GAPS])
    also = f" and {len(sheets)} issued before it" if sheets else ""
    notes = (
        f"{len(leaning)} facts carry the sheet of {view.today}{also}. First stands what is most worth finding: weak "
        "ground, many lines, a wide span.",
        "Know one better? Write it into facts.csv in the garden's folder: subject,quantity,value,unit. Yours wins.",
    )
    return Table("Facts most worth finding", ("crop", "quantity", "value", "ground", "lines", "worth"), rows, notes)


def issued_sheets(desk: Desk, today: date) -> tuple[Sheet, ...]:
    """Sheets issued in the year before `today` from the facts as they are now, the last of each day."""
    now = fingerprint(desk.own_facts())
    by_day = {
        kept.on: kept
        for kept in desk.store.issued(schema=Sheet.schema)
        if kept.facts == now and today - timedelta(days=365) <= kept.on < today
    }
    return tuple(from_json(by_day[day].body.encode()) for day in sorted(by_day))


def lines_leaning(view: SeasonView, sheet: Sheet) -> Counter[Fact]:
    """Every fact that a line's reasons or its planting's stages rest on, with the number of such lines."""
    found: Counter[Fact] = Counter()
    for line in _lines(sheet):
        used = _named(view.handbook, line)
        life = view.lives.get(line.name.split("/")[1] if "/" in line.name else "")
        if life is not None and life.timeline is not None:
            used.update(life.timeline.facts)
        found.update(used)
    return found


def _rested_on(book: Handbook, sheet: Sheet) -> Counter[Fact]:
    """Every fact that the reasons of a kept sheet name, with the number of such lines."""
    found: Counter[Fact] = Counter()
    for line in _lines(sheet):
        found.update(_named(book, line))
    return found


def _named(book: Handbook, line: Line) -> set[Fact]:
    return {fact for place in _places(line.reasons) if (fact := _at(book, place)) is not None}


def _at(book: Handbook, place: str) -> Fact | None:
    """The fact that stands at 'crops/pea.csv:12'; the file's name says which subject to open."""
    file = place.rpartition(":")[0]
    subject = file.rpartition("/")[2].removesuffix(".csv")
    if subject in book.facts:
        return _by_place(book, subject).get(place)
    subjects = book.crops if file == FACTS_FILE else (s for s in book.facts if s not in book.crops)
    return next((fact for each in subjects if (fact := _by_place(book, each).get(place)) is not None), None)


@lru_cache(maxsize=256)
def _by_place(book: Handbook, subject: str) -> Mapping[str, Fact]:
    facts = (*book.facts[subject].values(), *(f for leg in book.legs.get(subject, ()) for f in leg.facts.values()))
    return {f"{fact.file}:{fact.line}": fact for fact in facts}


def _lines(sheet: Sheet) -> Iterator[Line]:
    for part in (sheet.holds, sheet.near, sheet.work, sheet.look, sheet.leave, sheet.changed, sheet.next):
        yield from part


def _places(reasons: Iterable[Reason]) -> Iterator[str]:
    """'file:line' of every handbook value under some reasons: the last part of its locator."""
    for reason in reasons:
        if reason.rests_on is not None and reason.rests_on.locator:
            yield reason.rests_on.locator.rpartition(", ")[2]
        yield from _places(reason.because)


def _family(book: Handbook, crop: str) -> tuple[str, ...]:
    """The crop, or every crop whose key begins with that word."""
    if crop not in book.crops:
        family = tuple(key for key in book.crops if key.startswith(f"{crop}-"))
        if family:
            return family
        traded = sold_as(crop, book)
        if traded:
            botanical = ", ".join(f"{key} ({book.text(key, 'botanical_name')})" for key in traded)
            raise NotFound(f"{shown(crop)} is a name of the trade for {botanical}. Ask for that.")
    return (book.crop(crop),)


def _facts_of(book: Handbook, crop: str) -> Iterator[tuple[str, Fact]]:
    """Every fact of a crop with its name; those of development carry their stretch."""
    for name, fact in sorted(book.facts[crop].items()):
        yield name, fact
    for leg in book.legs.get(crop, ()):
        for name, fact in leg.facts.items():
            yield f"{_stretch(leg)}: {name}", fact


def _stretch(leg: Leg) -> str:
    rank = f" (choice {leg.order})" if leg.order > 1 else ""
    return f"{leg.from_stage} to {leg.to_stage}{rank}"


def _name(book: Handbook, crop: str) -> str:
    return book.text(crop, "common_name") or crop


def _value(fact: Fact) -> str:
    return fact.value if isinstance(fact.value, str) else f"{number(fact.value, 4)} {fact.unit}".rstrip()


def _place(fact: Fact) -> str:
    return ", ".join(part for part in (fact.source, fact.locator) if part)


def _ground(book: Handbook, fact: Fact) -> Iterator[str]:
    """What a value rests on, written out."""
    for id_ in filter(None, (part.strip() for part in fact.source.split(";"))):
        cited = book.citations.get(id_)
        yield f"{id_}: {cited.text}" if cited else id_
        if cited and cited.caution:
            yield f"Caution on {id_}: {cited.caution}"
    if fact.locator:
        yield f"{fact.quantity} of {fact.subject}: {fact.locator}."
    if fact.note:
        yield f"Note: {fact.note}"
    meaning = next((rows[fact.quantity].meaning for rows in quantities().values() if fact.quantity in rows), "")
    if meaning:
        yield f"{fact.quantity} means: {meaning}"


def _gap_row(shaky: Shaky, stretches: Mapping[tuple[str, int], str]) -> tuple[str, ...]:
    fact, upper = shaky.fact, shaky.upper
    value = (
        _value(fact) if upper is None or upper.value == fact.value else f"{number(fact.number, 4)} to {_value(upper)}"
    )
    ground = ": ".join(part for part in (shaky.status, _place(fact)) if part)
    name = stretches.get((fact.file, fact.line), "") + fact.quantity
    return (fact.subject, name, value, ground, f"{shaky.lines}", number(shaky.worth, 1))
