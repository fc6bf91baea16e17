"""One line of the sheet, opened."""

from __future__ import annotations

from datetime import timedelta
from difflib import get_close_matches

from kailyard.documents.why import Why
from kailyard.errors import NotFound
from kailyard.season.answers import answers
from kailyard.season.changes import changes
from kailyard.season.sheet import DRAWN_BEFORE_DAYS, open_reasons
from kailyard.season.view import SeasonView
from kailyard.season.windows import Said, Window

DRAWN_DAYS = 63


def why_of(view: SeasonView, name: str) -> Why:
    """The answer called `name` with all its reasons, on the sheet or not; NotFound names the nearest."""
    said: dict[str, Said] = {answer.name: answer for answer in answers(view)}
    changed = {line.name: line for line in changes(view)}
    found = said.get(name) or changed.get(name)
    if found is None:
        near = get_close_matches(name, [*said, *changed], n=3, cutoff=0.4)
        hint = f" Nearest: {', '.join(near)}." if near else ""
        raise NotFound(f"No line is called '{name}' on {view.today.isoformat()}.{hint}")
    odds, reasons = None, found.reasons
    if isinstance(found, Window):
        start = view.today - timedelta(days=DRAWN_BEFORE_DAYS)
        odds, reasons = found.span(start, start + timedelta(days=DRAWN_DAYS - 1)), open_reasons(view, found)
    return Why(
        garden=view.garden.name,
        on=view.today,
        units=view.garden.units,
        name=name,
        says=found.says,
        where=found.where,
        detail=found.detail,
        odds=odds,
        reasons=reasons,
    )
