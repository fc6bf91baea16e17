"""What a planting may be picked for, as forms offer it; and what a weight or a use makes one ask as it is entered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from difflib import get_close_matches

from kailyard.care.yields import ABSURD_FOLD, published, range_kg
from kailyard.desk.desk import Desk
from kailyard.desk.form_field import FormField
from kailyard.desk.shelf import handbook
from kailyard.garden.model import Entry, Garden
from kailyard.handbook.types import Handbook
from kailyard.publish.units import figure
from kailyard.publish.words import day
from kailyard.season.sightings import sight
from kailyard.season.uses import recognised, use_of_pick, use_said, uses_of


def uses_offered(garden: Garden, book: Handbook, target: str) -> tuple[str, ...]:
    """The uses that the handbook has of a planting's crop; () where it has but one."""
    planting = garden.plantings.get(target)
    return () if planting is None else uses_of(book, planting.crop)


def use_now(garden: Garden, book: Handbook, target: str) -> str:
    """What a planting is picked for as said last, or as it was picked last; '' where nobody said."""
    planting = garden.plantings.get(target)
    return "" if planting is None else use_said(book, planting, garden.entries_of(target))


def with_uses(
    fields: Sequence[FormField], garden: Garden, book: Handbook, *, kind: str, target: str
) -> tuple[FormField, ...]:
    """The fields of a form: the use a choice where the crop has several, what is wanted one of the garden's crops."""
    offered = [(use, use) for use in uses_offered(garden, book, target)]
    crops = [(crop, crop_name(book, crop)) for crop in {p.crop for p in garden.plantings.values()}]
    choices = {"use": offered, "crop": sorted(crops, key=lambda one: one[1]) if kind == "want" else []}
    return tuple(_chosen(f, choices[f.name]) if choices.get(f.name) else f for f in fields)


def crop_name(book: Handbook, crop: str) -> str:
    """A crop as it is called in running text: 'snap beans'."""
    return (book.text(crop, "plain_name") or book.text(crop, "common_name") or crop).lower()


def _chosen(field: FormField, offered: Sequence[tuple[str, str]]) -> FormField:
    own = [] if field.value in ("", *(value for value, _ in offered)) else [(field.value, field.value)]
    return replace(field, choices=(*offered, *own), blank=field.blank or ("choose" if field.needed else "not said"))


def pick_questions(desk: Desk, entry: Entry) -> tuple[str, ...]:
    """What is odd about a picking, a use or a want as it is entered; it is kept whatever the answer."""
    garden, book = desk.garden(), handbook(desk)
    if entry.kind == "want":
        crop = str(entry.payload.get("crop"))
        return () if crop in book.crops else (f"The handbook has no crop ‘{crop}’.{_near(crop, book.crops)}",)
    planting = garden.plantings.get(entry.target)
    if planting is None or entry.kind not in ("pick", "use"):
        return ()
    out = []
    use, known = str(entry.payload.get("use") or ""), uses_of(book, planting.crop)
    if use and not recognised(book, planting.crop, use) and (known or entry.kind == "use"):
        names = f"it knows {', '.join(known)} of this crop" if known else "it knows but one of this crop"
        out.append(
            f"‘{use}’ is none of the uses in the handbook: {names}. It is kept as your own word and moves no forecast."
            f"{_near(use, known)}"
        )
    mine = garden.entries_of(entry.target)
    ended = sight(planting, (e for e in mine if e.id != entry.id), entry.happened).ended
    if entry.kind == "pick" and ended is not None and ended < entry.happened:
        out.append(
            f"{planting.id} was over on {day(ended, entry.happened)}. The picking is kept, and its weight counts for "
            "it. Was it of another planting? Then put the entry right."
        )
    bed = garden.beds.get(planting.bed)
    found = range_kg(published(planting, bed, book, use_of_pick(book, planting, mine, entry)))
    if entry.kind == "pick" and entry.unit == "kg" and found and (entry.quantity or 0.0) > ABSURD_FOLD * found[1]:
        weight, most = (figure(kg, "kg", garden.units, 1) for kg in (entry.quantity or 0.0, found[1]))
        out.append(
            f"{weight} at once? The most published for such a planting is {most} in a whole season. "
            "It is kept, but nothing is learned from it: put the entry right if the pen slipped."
        )
    return tuple(out)


def _near(word: str, known: Sequence[str]) -> str:
    near = get_close_matches(word, known, n=1)
    return f" Did you mean ‘{near[0]}’?" if near else ""
