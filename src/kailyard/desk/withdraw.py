"""Withdrawing what was entered by mistake."""

from __future__ import annotations

from collections.abc import Sequence

from kailyard.desk.daybook import what_it_says
from kailyard.desk.desk import Desk
from kailyard.desk.handles import Handles
from kailyard.documents.table import Table
from kailyard.errors import Conflict, UsageError
from kailyard.garden.model import Entry


def withdraw(desk: Desk, handle: str, *, text: str = "", id_: str | None = None) -> Table:
    """Mark an entry as a mistake: from now on the garden is as if it had never been written.

    `id_`: of the withdrawal, where it was made elsewhere.
    """
    garden, entries = desk.garden(), desk.store.entries()
    by_handle = Handles(entries)
    wrong = by_handle.find(handle)
    refuse_if_out(wrong, entries, by_handle)
    if wrong.kind == "withdraw":
        raise UsageError("A withdrawal cannot be withdrawn. Enter anew what should stand after all.")
    if wrong.kind == "garden" and sum(e.kind == "garden" for e in garden.entries) == 1:
        raise Conflict("That entry alone says the garden's name and place. Put it right: `kailyard garden --help`.")
    there = wrong.target in garden.beds or wrong.target in garden.plantings
    entry = desk.entry(
        "withdraw",
        happened=desk.today(garden),
        target=wrong.target if there else "",
        text=text,
        supersedes=wrong.id,
        id_=id_,
    )
    desk.keep([entry])
    now = desk.garden()
    notes = []
    gone = wrong.kind in ("bed", "planting") and wrong.target not in now.beds and wrong.target not in now.plantings
    if gone and (left := [e for e in now.entries_of(wrong.target) if e.kind != wrong.kind]):
        notes.append(f"{len(left)} entries still speak of '{wrong.target}', which is no longer there.")
    stand = [p.id for p in now.plantings.values() if p.bed == wrong.target] if gone and wrong.kind == "bed" else []
    if stand:
        notes.append(f"Plantings without a bed now: {', '.join(stand)}.")
    notes.append("It stays in the daybook, marked, and no longer counts. What should stand after all is entered anew.")
    said = (str(wrong.happened), wrong.kind, wrong.target, what_it_says(wrong, garden.units))
    return Table(f"Entry {by_handle.of(wrong)} is withdrawn", ("day", "kind", "of", "what"), (said,), tuple(notes))


def refuse_if_out(wrong: Entry, entries: Sequence[Entry], by_handle: Handles) -> None:
    """A clear no where an entry counts no longer already."""
    by = next((e for e in entries if e.supersedes == wrong.id), None)
    if by is not None:
        how = "withdrawn" if by.kind == "withdraw" else "put right"
        raise Conflict(
            f"Entry {by_handle.of(wrong)} is {how} already, by {by_handle.of(by)} on {by.happened}. "
            "Nothing was changed."
        )
