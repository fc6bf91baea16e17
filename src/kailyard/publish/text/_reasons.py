"""Reasons as numbered steps, each with its figure and what it rests on."""

from __future__ import annotations

from collections.abc import Sequence

from kailyard.documents._parts import Reason
from kailyard.publish import plain
from kailyard.publish.say import ground, statement
from kailyard.publish.units import Units

_DEEPEST = 6
"""Steps below this one are numbered on but no longer indented further."""


def reason_rows(
    reasons: Sequence[Reason], units: Units, width: int, *, number: str = "", depth: int = 0, deepest: int | None = None
) -> list[str]:
    """Rows for the whole tree, numbered 1, 1.1, 1.2 ...; `deepest` cuts it after that many levels."""
    rows: list[str] = []
    indent = "  " * min(depth, _DEEPEST)
    for i, reason in enumerate(reasons, 1):
        mine = f"{number}{i}"
        head = f"{indent}{mine}  " if depth else f"{indent}{mine}. "
        rows += plain.block(statement(reason, units), width, first=head)
        if reason.rests_on is not None:
            rows += plain.block(ground(reason.rests_on), width, first=" " * len(head) + "– ")
        if deepest is None or depth + 1 < deepest:
            rows += reason_rows(reason.because, units, width, number=f"{mine}.", depth=depth + 1, deepest=deepest)
    return rows
