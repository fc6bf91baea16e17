"""One planting as its page shows it: its stages, what work asks of it, its entries."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.desk.ask import stages
from kailyard.desk.desk import Desk
from kailyard.desk.entry_words import entry_says
from kailyard.desk.forms import bed_name, planting_name
from kailyard.desk.plantings import doubts, how_it_stands, known_planting
from kailyard.desk.record import COMMAND_OF
from kailyard.desk.shelf import handbook
from kailyard.desk.view import season_view
from kailyard.documents.sheet import Sheet
from kailyard.documents.stages import Stages
from kailyard.errors import DataError
from kailyard.garden.kinds import is_known
from kailyard.garden.model import Entry
from kailyard.season.about import about


@dataclass(frozen=True, slots=True)
class OwnEntry:
    """One entry of the planting."""

    entry: Entry
    says: str
    of: str
    """The bed, where it was said of that; ''."""
    out: str
    """'put right' or 'withdrawn' by a later one; ''."""
    form: bool
    """A form of ours can put it right."""


@dataclass(frozen=True, slots=True)
class LifeOf:
    """A planting's page."""

    name: str
    bed: str
    how: str
    """'sown 3 May, first flower 11 June'."""
    note: str
    doubts: tuple[str, ...]
    stages: Stages | None
    """None without weather."""
    work: Sheet | None
    why_not: str
    """Why nothing is foreseen; ''."""
    entries: tuple[OwnEntry, ...]
    """Newest first."""


def life_of(desk: Desk, id_: str) -> LifeOf:
    """The planting called `id_`; NotFound names those spelt nearly alike."""
    garden, book = desk.garden(), handbook(desk)
    planting = known_planting(garden, id_)
    today = desk.today(garden)
    seen, work, why_not = None, None, ""
    try:
        seen = stages(desk, id_)
        view = season_view(desk)
        work = desk.kept(("about", id_, today), lambda: about(view, view.lives[id_]))
    except DataError as err:
        why_not = str(err)
    return LifeOf(
        name=planting_name(planting, book),
        bed=bed_name(garden, planting),
        how=how_it_stands(garden, planting, today),
        note=planting.note,
        doubts=doubts(garden, planting, today),
        stages=seen,
        work=work,
        why_not=why_not,
        entries=_entries(desk, id_, planting.bed),
    )


def _entries(desk: Desk, id_: str, bed: str) -> tuple[OwnEntry, ...]:
    """Those of the planting, and the covers over its bed."""
    every = desk.entries()
    units = desk.garden().units
    out = {e.supersedes: "withdrawn" if e.kind == "withdraw" else "put right" for e in every if e.supersedes}
    mine = [e for e in every if e.kind != "withdraw" and (e.target == id_ or (e.target == bed and e.kind == "protect"))]
    return tuple(
        OwnEntry(
            e,
            entry_says(e, units) if e.kind != "planting" else "planned or changed",
            e.target if e.target != id_ else "",
            out.get(e.id, ""),
            is_known(e.kind) and e.kind not in COMMAND_OF,
        )
        for e in reversed(mine)
    )
