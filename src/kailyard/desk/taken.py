"""What was just entered, as it is said back, and taken back again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from hashlib import sha256

from kailyard.desk.desk import Desk
from kailyard.desk.entry_words import entry_says
from kailyard.desk.gauge_asked import gauge_question
from kailyard.desk.held import after_entry
from kailyard.desk.uses import pick_questions
from kailyard.desk.withdraw import withdraw
from kailyard.errors import NotFound
from kailyard.garden.model import Entry

MOST = 60
"""So many entries at most are said back or taken back at once."""


@dataclass(frozen=True, slots=True)
class Taken:
    """Entries that were made together."""

    ids: tuple[str, ...]
    says: tuple[tuple[str, str], ...]
    """(what, of) of each: ('picked 1.2 kg', 'pea-6')."""
    out: bool
    """They were taken back or put right since."""
    planting: str
    """The planting that they speak of, where it is one."""
    ails: bool = False
    """They say that something may ail it."""
    asks: tuple[str, ...] = ()
    """What is odd about them and should be looked at; what they hold back, let go, or stand against."""

    @property
    def joined(self) -> str:
        """The identifiers as an address or a form carries them."""
        return ",".join(self.ids)


def taken(desk: Desk, joined: str) -> Taken | None:
    """The entries called in `joined`, parted by commas; None where none of them is known."""
    known = _known(desk, joined)
    if not known:
        return None
    garden = desk.garden()
    out = {e.supersedes for e in desk.entries() if e.supersedes}
    targets = {e.target for e in known}
    planting = next(iter(targets)) if len(targets) == 1 else ""
    return Taken(
        ids=tuple(e.id for e in known),
        says=tuple((entry_says(e, garden.units), e.target or "the garden") for e in known),
        out=all(e.id in out for e in known),
        planting=planting if planting in garden.plantings else "",
        ails=any(_ails(e) for e in known),
        asks=tuple(said for e in known if e.id not in out for said in _asks(desk, e)),
    )


def _ails(entry: Entry) -> bool:
    """A look that did not find all well, a count that found something, plants hurt."""
    said = entry.payload
    if entry.kind == "look":
        return said.get("sound") is False or bool(said.get("found") and said.get("sound") is not True)
    return entry.kind == "hurt" or (entry.kind == "count" and bool(said.get("total") or said.get("found_on")))


def _asks(desk: Desk, entry: Entry) -> tuple[str, ...]:
    said = gauge_question(desk, entry.happened) if entry.kind == "rain" else after_entry(desk, entry)
    return (*([said] if said else []), *pick_questions(desk, entry))


def take_back(desk: Desk, joined: str) -> str:
    """Withdraw the entries called in `joined`; a sentence that says so. Those that are out already stay out."""
    known = _known(desk, joined)
    if not known:
        raise NotFound("That entry is not in the daybook, so there is nothing to take back.")
    units = desk.garden().units
    out = {e.supersedes for e in desk.entries() if e.supersedes}
    for entry in known:
        if entry.id not in out:
            withdraw(desk, entry.id, id_=f"undo-{sha256(entry.id.encode()).hexdigest()[:24]}")
    said = "; ".join(f"{entry_says(e, units)}, {e.target or 'the garden'}" for e in known)
    return f"Taken back: {said}."


def _known(desk: Desk, joined: str) -> Sequence[Entry]:
    ids = list(dict.fromkeys(part for part in joined.split(",") if part))[:MOST]
    found = desk.store.known(ids)
    return [found[id_] for id_ in ids if id_ in found]
