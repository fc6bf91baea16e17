"""Ask every kind of work of everything it is about."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from types import ModuleType

from kailyard.discover import modules
from kailyard.season.view import SeasonView
from kailyard.season.windows import Answer

REGISTER = "kailyard.season.work"


def kinds() -> tuple[ModuleType, ...]:
    """Every kind of work, by file name."""
    return modules(REGISTER)


def answers(view: SeasonView, *, of: Iterable[ModuleType] | None = None) -> tuple[Answer, ...]:
    """What all kinds of work have to say of this season, in the order of the register and of the targets."""
    return tuple(answer for kind in (kinds() if of is None else of) for answer in _ask(kind, view))


def _ask(kind: ModuleType, view: SeasonView) -> Iterator[Answer]:
    if kind.SCOPE == "garden":
        yield from kind.windows(view, view.garden)
    elif kind.SCOPE == "bed":
        for bed in sorted(view.garden.beds):
            yield from kind.windows(view, view.garden.beds[bed])
    else:
        for life in view.lives.values():
            if not life.over:  # years of past plantings lie in an old garden's daybook; nothing is asked of them
                yield from kind.windows(view, life)
