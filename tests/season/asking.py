"""Ask a made-up garden what its kinds of work have to say."""

from __future__ import annotations

from datetime import date

from gardens import look_ahead, plot

from kailyard.garden.model import Entry, Planting
from kailyard.season.answers import answers
from kailyard.season.sheet import compose
from kailyard.season.view import SeasonView
from kailyard.season.windows import Answer, Window


def season(today: date, *plantings: Planting, entries: tuple[Entry, ...] = (), **more: object) -> SeasonView:
    climate = more.pop("climate", None)
    garden = plot(*plantings, entries=entries, **more)  # type: ignore[arg-type]
    return look_ahead(garden, today) if climate is None else look_ahead(garden, today, climate=climate)  # type: ignore[arg-type]


def said(view: SeasonView) -> dict[str, Answer]:
    return {a.name: a for a in answers(view)}


def asked(view: SeasonView) -> set[str]:
    return {line.name for line in compose(view).work}


def open_on(view: SeasonView, name: str, day: date | None = None) -> float:
    answer = said(view).get(name)
    return answer.open_on(day or view.today) if isinstance(answer, Window) else 0.0
