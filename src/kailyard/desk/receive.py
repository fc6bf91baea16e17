"""Entries sent from elsewhere, perhaps twice, perhaps late: each is kept once and answered on its own.

The identifier is made where the entry is written, and is what makes it one entry. `written` is the moment it came in:
that is when the garden came to know it, and what a sheet 'as known' on a day may rest on.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, fields, replace
from datetime import date
from typing import Any, Literal

from kailyard.desk.desk import Desk
from kailyard.errors import Conflict, DataError, NotFound, UsageError
from kailyard.garden.kinds import make_payload
from kailyard.garden.model import Entry

MOST_ENTRIES = 500
Answer = Literal["recorded", "known already", "conflict", "refused"]


@dataclass(frozen=True, slots=True)
class Sent:
    """One entry as a page or a telephone sends it. SI units, as the daybook keeps them."""

    id: str
    kind: str
    happened: date
    target: str = ""
    quantity: float | None = None
    unit: str = ""
    text: str = ""
    payload: dict[str, Any] = field(default_factory=dict)
    supersedes: str = ""


@dataclass(frozen=True, slots=True)
class Answered:
    """What became of one sent entry."""

    id: str
    answer: Answer
    reason: str = ""
    """Why it was refused, or how it differs from the one that is known."""
    kept: Sent | None = None
    """On a conflict: the one that is known under that identifier."""


def receive(desk: Desk, sent: Sequence[Sent]) -> tuple[Answered, ...]:
    """Keep each entry, or say why not. An answer 'recorded' or 'known already' means that it survives a crash."""
    return tuple(_receive(desk, one) for one in sent)


def _receive(desk: Desk, sent: Sent) -> Answered:
    if known := _known(desk, sent.id):
        return _compared(sent, known)
    try:
        made = desk.entry(
            sent.kind,
            happened=sent.happened,
            target=sent.target,
            quantity=sent.quantity,
            unit=sent.unit,
            text=sent.text,
            supersedes=sent.supersedes,
            payload=sent.payload,
            id_=sent.id,
        )
        if made.happened > (today := desk.today(desk.garden())):
            raise UsageError(f"It happened {made.happened}, which lies after today, {today}.")
        new = desk.keep([made])
    except Conflict:
        # Another sending of the same identifier was quicker by a moment.
        return _compared(sent, _known(desk, sent.id))
    except (DataError, NotFound, UsageError) as err:
        return Answered(sent.id, "refused", str(err))
    return Answered(sent.id, "recorded" if new else "known already")


def _known(desk: Desk, id_: str) -> Entry | None:
    return desk.store.known([id_]).get(id_)


def _compared(sent: Sent, known: Entry | None) -> Answered:
    assert known is not None
    kept = Sent(
        known.id,
        known.kind,
        known.happened,
        known.target,
        known.quantity,
        known.unit,
        known.text,
        dict(known.payload),
        known.supersedes,
    )
    differ = [f.name for f in fields(Sent) if getattr(_plain(sent), f.name) != getattr(kept, f.name)]
    if not differ:
        return Answered(sent.id, "known already")
    said = f"An entry is known under this identifier with another {', '.join(differ)}."
    return Answered(sent.id, "conflict", said, kept)


def _plain(sent: Sent) -> Sent:
    """With its payload as the daybook writes it: 1 may come back as 1.0."""
    try:
        return replace(sent, payload=make_payload(sent.kind, **sent.payload))
    except (DataError, NotFound, TypeError):
        return sent
