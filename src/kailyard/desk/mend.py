"""An entry opened in the daybook: whether a form of ours can put it right, and withdrawing it with a word why."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.desk.desk import Desk
from kailyard.desk.record import COMMAND_OF
from kailyard.desk.withdraw import withdraw
from kailyard.errors import Conflict
from kailyard.garden.kinds import is_known
from kailyard.garden.model import Entry


@dataclass(frozen=True, slots=True)
class Opened:
    """One entry that stands."""

    id: str
    kind: str
    by_entering: bool
    """A form can put it right; else it is only withdrawn: what it defines is changed at its own page."""
    may_go: bool
    """It can be withdrawn."""


def opened(desk: Desk, id_: str) -> Opened | None:
    """The entry, to be put right or withdrawn; None where it no longer stands or is itself a withdrawal."""
    garden = desk.garden()
    found = next((e for e in garden.entries if e.id == id_), None)
    if found is None:
        return None
    by_entering = is_known(found.kind) and found.kind not in COMMAND_OF
    only = found.kind == "garden" and sum(e.kind == "garden" for e in garden.entries) == 1
    return Opened(found.id, found.kind, by_entering, not only)


def take_out(desk: Desk, id_: str, *, text: str) -> str:
    """Withdraw an entry; a sentence that says so."""
    found = _standing(desk, id_)
    withdraw(desk, id_, text=text.strip())
    return f"{found.kind} of {found.happened} withdrawn. It stays in the daybook, marked, and no longer counts."


def _standing(desk: Desk, id_: str) -> Entry:
    found = next((e for e in desk.garden().entries if e.id == id_), None)
    if found is None:
        raise Conflict("That entry is put right or withdrawn already. Nothing was changed.")
    return found
