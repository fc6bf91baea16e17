"""What is held back after an injury, said where an entry stands against it, makes it or lets it go."""

from __future__ import annotations

from datetime import date

from kailyard.desk.desk import Desk
from kailyard.garden.model import Entry, Garden
from kailyard.publish.words import day as day_words
from kailyard.publish.words import joined
from kailyard.troubles.injury import held_back, injuries, is_injury, released


def is_held(desk: Desk, planting: str) -> bool:
    """Whether an injury holds a planting back."""
    garden = desk.garden()
    return held_back(garden, planting, desk.today(garden)) is not None


def held_words(desk: Desk, planting: str, on: date | None = None) -> str:
    """Since when and why a planting is not to be picked or eaten; '' where nothing holds it back."""
    garden = desk.garden()
    today = desk.today(garden)
    found = held_back(garden, planting, on or today)
    if found is None:
        return ""
    seen = day_words(found.first_seen, today)
    return f"held back since {seen}, perhaps hit by a herbicide: do not eat it until a release is entered"


def after_entry(desk: Desk, entry: Entry) -> str:
    """What an entry that was just made comes to where plants are held back; '' where it is no matter of that."""
    garden = desk.garden()
    today = desk.today(garden)
    if entry.kind == "pick" and entry.target in garden.plantings:
        said = held_words(desk, entry.target, entry.happened) or held_words(desk, entry.target)
        return f"{entry.target} is {said}. The picking stands in the daybook." if said else ""
    if is_injury(entry):
        mine = next((one for one in injuries(garden, today) if one.entry.id == entry.id), None)
        if mine is None:
            return "Nothing stood there then, so nothing is held back. Look at the day and at what it is said of."
        names = joined([p.id for p in mine.plantings])
        return f"Not to be picked or eaten until a release is entered: {names}. Is more hit? Say its beds too."
    if entry.kind == "release":
        return _after_release(garden, entry, today)
    return ""


def _after_release(garden: Garden, entry: Entry, today: date) -> str:
    every = injuries(garden, today)
    mine = [
        p.id
        for one in every
        for p in one.plantings
        if (by := released(garden, p, one.entry, today)) is not None and by.id == entry.id
    ]
    still = [p.id for p in dict.fromkeys(p for one in every for p in one.plantings) if held_back(garden, p.id, today)]
    let = f"No longer held back: {joined(list(dict.fromkeys(mine)))}." if mine else "It lets nothing go."
    return f"{let} Still held back: {joined(still)}." if still else let
