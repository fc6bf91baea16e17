"""Amounts by week, in every possible season: of one planting, and of all plantings of a crop together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from kailyard.care.bearing import Bearing, FloatArray, Ledger, bearing, ledger
from kailyard.care.yields import Standing, current, rate_kg, standing_of
from kailyard.garden.model import Entry, Garden
from kailyard.season.life import Life
from kailyard.season.measures import in_ten, span_words
from kailyard.season.uses import meant, recognised
from kailyard.season.view import SeasonView

WEEKS_AHEAD = 26
"""Weeks that are looked ahead."""

ANYTHING = 0.01
"""A week with less than this share of a planting's season has nothing to pick."""

LIKELIER = 0.5
"""A surplus or a shortfall is named where it is likelier than not."""


@dataclass(frozen=True, slots=True, eq=False)
class Ahead:
    """What one planting is to give, by week from today on. Arrays are (weeks, traces, draws)."""

    life: Life
    bearing: Bearing
    ledger: Ledger
    garden: Standing
    shares: FloatArray
    """Shares of a full stand's full season, plants that are gone left out."""
    kg: FloatArray | None
    """None where nothing is published of the crop."""


def ahead(view: SeasonView, life: Life, garden: Standing, weeks: int = WEEKS_AHEAD) -> Ahead | None:
    """What a planting is to give if it is picked as it comes ready; None where nobody can foresee when it bears."""
    b = bearing(view, life)
    if b is None:
        return None
    book = ledger(b)
    until = max(b.today - 1.0, b.last_picked)
    ends = [float(b.today + 7 * (n + 1) - 1) for n in range(weeks)]
    edges = [b.ready(until), *(np.maximum(b.ready(end), b.ready(until)) for end in ends)]
    shares = np.diff(np.stack(edges), axis=0)
    shares[0] += book.waiting
    if b.finished:
        shares[:] = 0.0
    shares *= b.standing
    rate = rate_kg(view, life, b, garden, current(view, life))
    return Ahead(life, b, book, garden, shares, None if rate is None else shares * rate[None])


def together(view: SeasonView, of: Iterable[Ahead]) -> FloatArray | None:
    """Kilograms of several plantings, week by week: the same possible season means the same weather for all."""
    known = [one.kg for one in of if one.kg is not None]
    return None if not known else np.sum([np.broadcast_to(kg, (len(kg), *view.shape)) for kg in known], axis=0)


def wants(garden: Garden, today: date) -> Mapping[tuple[str, str], Entry]:
    """What is wanted a week, by crop and use ('': whatever it is picked for), as said last by `today`. [kg]"""
    said: dict[tuple[str, str], Entry] = {}
    for entry in garden.entries:
        if entry.kind == "want" and entry.quantity is not None and entry.happened <= today:
            said[str(entry.payload.get("crop")), str(entry.payload.get("use") or "")] = entry
    return {of: entry for of, entry in said.items() if entry.quantity}


@dataclass(frozen=True, slots=True)
class Span:
    """Weeks in which more, or less, than is wanted is likelier than not."""

    over: bool
    first: date
    last: date
    chance: float
    """Mean of the weeks' chances. 0 to 1"""

    @property
    def words(self) -> str:
        """'more than you want 3–16 July, 8 in 10'."""
        which = "more" if self.over else "less"
        return f"{which} than you want {span_words(self.first, self.last)}, {in_ten(self.chance)}"


def balance(view: SeasonView, kg: FloatArray, wanted_kg: float) -> tuple[Span, ...]:
    """Weeks of surplus and of shortfall ahead, from the first week with something to pick to the last.

    Parameters
    ----------
    kg
        Weight by week, (weeks, traces, draws). [kg]
    wanted_kg
        A week. [kg]
    """
    some = np.flatnonzero((kg > 0).mean(axis=(1, 2)) >= LIKELIER)
    if not some.size:
        return ()
    first, last = int(some[0]), int(some[-1])
    over = (kg > wanted_kg).mean(axis=(1, 2))
    out: list[Span] = []
    for is_over, chances in ((True, over), (False, 1.0 - over)):
        for run in _runs(chances[first : last + 1] > LIKELIER):
            begin, end = first + run[0], first + run[-1]
            mean = float(chances[begin : end + 1].mean())
            out.append(Span(is_over, _day(view, 7 * begin), _day(view, 7 * end + 6), mean))
    return tuple(sorted(out, key=lambda span: span.first))


def picked_for(view: SeasonView, crop: str, use: str) -> tuple[Life, ...]:
    """Plantings of a crop that are not over and are picked for a use; for any where `use` is ''."""
    lives = (life for life in view.lives.values() if life.planting.crop == crop and life.sightings.ended is None)
    mine = recognised(view.handbook, crop, use)
    return tuple(life for life in lives if not use or meant(view.handbook, crop, life.use) == mine)


def surplus(view: SeasonView, crop: str, use: str, wanted_kg: float, weeks: int) -> Span | None:
    """The first weeks of surplus of one crop picked for one use; None where none is likelier than not."""
    lives = picked_for(view, crop, use)
    if not lives:
        return None
    gardens = {u: standing_of(view, crop, u) for u in {life.use for life in lives}}
    found = [one for life in lives if (one := ahead(view, life, gardens[life.use], weeks)) is not None]
    kg = together(view, found)
    if kg is None:
        return None
    return next((span for span in balance(view, kg, wanted_kg) if span.over), None)


def _runs(yes: Sequence[bool] | FloatArray) -> list[list[int]]:
    """Places that follow each other where `yes` holds."""
    runs: list[list[int]] = []
    for n, holds in enumerate(yes):
        if holds and runs and runs[-1][-1] == n - 1:
            runs[-1].append(n)
        elif holds:
            runs.append([n])
    return runs


def _day(view: SeasonView, n: int) -> date:
    return view.today + timedelta(days=n)
