"""A line of the sheet answered: done, not yet, leave it. Which entries that makes is said in `season.fitting`."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from uuid import uuid4

from kailyard.desk.desk import Desk
from kailyard.desk.fill import fields_of
from kailyard.desk.take import Written, take
from kailyard.garden.kinds import kind
from kailyard.season.done import Fitting
from kailyard.season.fitting import Verdict, comes_back, fitting


def once() -> str:
    """A mark for a form that is about to be shown: what is sent from it twice is kept once."""
    return uuid4().hex[:20]


@dataclass(frozen=True, slots=True)
class Answered:
    """An answer to a line, as a form sends it."""

    id: str
    """Made with the form."""
    line: str
    verdict: Verdict
    of: tuple[str, ...] = ()
    """Plantings that the line speaks of."""
    until: date | None = None
    """None: as usual for the verdict."""
    amount: str = ""
    unit: str = ""
    text: str = ""
    sound: str = ""
    """'yes', 'no', '' for not said."""
    feel: str = ""
    """How a squeezed handful holds; '' for not said."""
    minutes: str = ""
    """How long a picking took; '' for not said."""
    use: str = ""
    """What a picking is for; '' for not said."""


def answer_line(desk: Desk, answered: Answered) -> tuple[str, ...]:
    """Keep the entries that the answer comes to; their identifiers."""
    garden = desk.garden()
    today = desk.today(garden)
    until = answered.until or comes_back(answered.verdict, today)
    found = fitting(answered.line, answered.of, answered.verdict, garden, until=until)
    return tuple(
        take(
            desk,
            Written(
                id=answered.id if n == 0 else f"{answered.id}-{n}",
                kind=fit.kind,
                target=fit.target,
                amount=answered.amount if fit.asks == "amount" and not _counted_by(fit.kind, answered.unit) else "",
                unit=answered.unit if fit.asks == "amount" and not _counted_by(fit.kind, answered.unit) else "",
                text="" if fit.asks == "found" else answered.text,
                fields=_fields({**fit.payload, **_asked(answered, fit)}),
            ),
        )
        for n, fit in enumerate(found)
    )


def _asked(answered: Answered, fit: Fitting) -> dict[str, str]:
    if fit.asks == "found":
        return {"found": answered.text, "sound": answered.sound}
    if fit.asks == "feel":
        return {"feel": answered.feel}
    if fit.kind == "pick":
        return {"minutes": answered.minutes, "use": answered.use}
    return {answered.unit: answered.amount} if fit.asks == "amount" and _counted_by(fit.kind, answered.unit) else {}


def _counted_by(kind_name: str, unit: str) -> bool:
    """Whether what was typed as a unit is a field of the entry: 20 minutes, 6 cans."""
    return unit in (f.name for f in fields_of(kind(kind_name)))


def _fields(payload: Mapping[str, object]) -> dict[str, str]:
    """A payload in the words of a form."""
    return {
        name: {True: "yes", False: "no"}.get(value, "") if isinstance(value, bool) else str(value)
        for name, value in payload.items()
    }
