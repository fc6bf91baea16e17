"""A line of the sheet answered: done, not yet, leave it."""

from __future__ import annotations

from hashlib import sha256
from typing import Literal
from uuid import uuid4

from kailyard.desk.desk import Desk
from kailyard.desk.receive import Sent, receive
from kailyard.errors import Conflict, DataError

Verdict = Literal["done", "not yet", "leave it"]


def once() -> str:
    """A mark for a page that is about to be shown: what is sent from it twice is kept once."""
    return uuid4().hex[:20]


def answer_line(desk: Desk, line: str, verdict: Verdict, *, mark: str) -> str:
    """Keep the answer to a line of the sheet; a sentence that says so."""
    garden = desk.garden()
    about = line.split("/")[1] if "/" in line else ""
    sent = Sent(
        id=f"{mark}-{sha256(f'{line} {verdict}'.encode()).hexdigest()[:12]}",
        kind="decide",
        happened=desk.today(garden),
        target=about if about in garden.plantings else "",
        payload={"line": line, "verdict": verdict},
    )
    answer = receive(desk, [sent])[0]
    if answer.answer == "conflict":
        raise Conflict(answer.reason)
    if answer.answer == "refused":
        raise DataError(answer.reason)
    return f"Kept: {line}, {verdict}."
