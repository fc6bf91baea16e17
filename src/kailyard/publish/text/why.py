"""A line of the sheet, opened down to its sources."""

from __future__ import annotations

from kailyard.documents.why import Why
from kailyard.publish import plain, words
from kailyard.publish.axis import axis_over
from kailyard.publish.text._reasons import reason_rows


def render(document: Why, *, width: int = 80, ascii_only: bool = False) -> str:
    """The line, its odds, then every reason with what it rests on."""
    garden = f"{words.clean(document.garden)}, {words.full_day(document.on)}"
    rows = plain.block(garden, width)
    rows += plain.with_end(
        plain.block(words.sentence(words.named(document.says, document.where)), width),
        words.clean(document.name),
        width,
    )
    if document.detail:
        rows += plain.block(words.sentence(document.detail), width)
    if document.odds is not None:
        rows += ["", *plain.block(words.sentence(words.odds(document.odds, document.on)), width)]
        axis = axis_over(document.on, [document.odds])
        columns = min(axis.days, width - 4)
        rows += [
            "  " + plain.ruler(axis, columns),
            "  " + plain.heights(axis, axis.chances(document.odds), columns),
        ]
    if document.reasons:
        rows += ["", "Why", *reason_rows(document.reasons, document.units, width)]
    return plain.finish(rows, ascii_only=ascii_only)
