"""Whom the entering page lists first, and what it offers of each."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.desk.ask import sheet
from kailyard.desk.desk import Desk
from kailyard.desk.entry_words import DONE_WORDS
from kailyard.desk.forms import bed_name, planting_name, usual_unit
from kailyard.desk.shelf import handbook
from kailyard.desk.uses import use_now, uses_offered
from kailyard.desk.view import season_view
from kailyard.errors import DataError
from kailyard.season.done import Fitting
from kailyard.season.fitting import fitting
from kailyard.season.likely import Likely, likely, likely_of

MOST = 12


@dataclass(frozen=True, slots=True)
class Offer:
    """One planting with what is likely to be entered of it."""

    name: str
    """'Snap beans ‘Lantern’'."""
    bed: str
    unit: str
    """In which it was last picked; ''."""
    uses: tuple[str, ...]
    """What it may be picked for; () where there is no choice."""
    use: str
    """What it is picked for now; ''."""
    likely: Likely
    done: Fitting | None
    """The entry that today's work on it comes to, where it asks nothing more."""
    done_words: str
    """'sown', 'set out', 'weeded'."""


def likeliest(desk: Desk, *, most: int = MOST) -> tuple[Offer, ...]:
    """The likeliest plantings, windows open today and stages due first. Without weather, those last written of."""

    def make() -> tuple[Offer, ...]:
        try:
            found = likely(season_view(desk), sheet(desk))
        except DataError:
            found = _unforeseen(desk)
        return tuple(_offer(desk, one) for one in found[:most])

    return desk.kept(("likeliest", desk.today(desk.garden()), most), make)


def offer_of(desk: Desk, planting: str) -> Offer:
    """What is likely to be entered of one planting that is there."""
    try:
        view = season_view(desk)
        one = likely_of(view, view.lives[planting])
    except DataError:
        one = _unknown(planting)
    return _offer(desk, one)


def everything(desk: Desk) -> tuple[tuple[str, str], ...]:
    """(identifier, name) of every planting, by bed and name."""
    garden, book = desk.garden(), handbook(desk)
    named = [(bed_name(garden, p), planting_name(p, book), p.id) for p in garden.plantings.values()]
    named.sort(key=lambda one: ([int(t) if t.isdigit() else 0 for t in one[0].split()], *one))
    return tuple((id_, f"{name}, {bed} ({id_})") for bed, name, id_ in named)


def _offer(desk: Desk, one: Likely) -> Offer:
    garden = desk.garden()
    planting = garden.plantings[one.planting]
    found = fitting(one.line, (planting.id,), "done", garden)[0] if one.line else None
    done = found if found is not None and not found.asks and found.kind in DONE_WORDS else None
    return Offer(
        name=planting_name(planting, handbook(desk)),
        bed=bed_name(garden, planting),
        unit=usual_unit(garden, planting.id),
        uses=uses_offered(garden, handbook(desk), planting.id),
        use=use_now(garden, handbook(desk), planting.id),
        likely=one,
        done=done,
        done_words=(DONE_WORDS[done.kind] or str(done.payload["what"])) if done else "",
    )


def _unforeseen(desk: Desk) -> tuple[Likely, ...]:
    garden = desk.garden()
    last = {e.target: (e.happened, e.written) for e in garden.entries if e.target in garden.plantings}
    return tuple(_unknown(id_) for id_ in sorted(last, key=lambda id_: last[id_], reverse=True))


def _unknown(planting: str) -> Likely:
    return Likely(planting, "", standing=True, picks=True, stage="", stage_words="", sign="", tops=False)
