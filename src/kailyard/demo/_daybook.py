"""Short words for writing the story down: a `Line` is an entry before it has an identifier and an hour."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import MISSING, dataclass, field, fields
from datetime import UTC, date, datetime, timedelta
from typing import Any, Final

from kailyard.garden.model import Bed, Cultivar, Entry, Planting

IDONY: Final = "Idony"
PERRIN: Final = "Perrin"
WENNA: Final = "Wenna"

MORNING: Final = timedelta(hours=8, minutes=40)
EVENING: Final = timedelta(hours=21, minutes=10)
"""Twenty to seven and ten past seven on Merrowsay, in UTC: when the forecast is copied and the daybook written up."""


@dataclass(frozen=True, slots=True)
class Line:
    """What happened, as told. `late`: days between the doing and the writing; `morning`: written before work."""

    day: date
    kind: str
    target: str = ""
    text: str = ""
    who: str = PERRIN
    quantity: float | None = None
    unit: str = ""
    payload: Mapping[str, Any] = field(default_factory=dict)
    supersedes: str = ""
    late: int = 0
    morning: bool = False


def written_up(lines: Iterable[Line]) -> tuple[Entry, ...]:
    """The lines as entries, in order of writing: readable identifiers, two minutes a line of one evening."""
    ordered = sorted(lines, key=lambda line: (line.day + timedelta(days=line.late), not line.morning))
    entries: list[Entry] = []
    of_evening: dict[date, int] = {}
    alike: dict[str, int] = {}
    for line in ordered:
        evening = line.day + timedelta(days=line.late)
        place = of_evening[evening] = of_evening.get(evening, -1) + 1
        stem = "-".join(part for part in (line.day.isoformat(), line.kind, line.target) if part)
        alike[stem] = alike.get(stem, 0) + 1
        midnight = datetime(evening.year, evening.month, evening.day, tzinfo=UTC)
        entries.append(
            Entry(
                id=stem if alike[stem] == 1 else f"{stem}-no{alike[stem]}",
                kind=line.kind,
                version=1,
                happened=line.day,
                written=midnight + (MORNING if line.morning else EVENING) + timedelta(minutes=2 * place),
                who=line.who,
                target=line.target,
                quantity=line.quantity,
                unit=line.unit,
                text=line.text,
                supersedes=line.supersedes,
                payload=line.payload,
            )
        )
    return tuple(entries)


def said(thing: Bed | Cultivar | Planting) -> dict[str, Any]:
    """The fields that differ from their defaults, without the identifier, as JSON holds them."""
    out: dict[str, Any] = {}
    for f in fields(thing):
        value = getattr(thing, f.name)
        if f.name == "id" or (f.default is not MISSING and value == f.default):
            continue
        out[f.name] = value.isoformat() if isinstance(value, date) else list(value) if f.name == "resistance" else value
    return out


def on(month: int, day: int, year: int = 2026) -> date:
    """A day of the story's year, or of the autumn before it."""
    return date(year, month, day)


def sow(
    day: date,
    planting: str,
    seeds: float,
    unit: str = "seeds",
    *,
    under_cover: bool = False,
    text: str = "",
    who: str = PERRIN,
    late: int = 0,
) -> Line:
    """Seed in the ground, or in cells under cover."""
    payload = {"under_cover": True} if under_cover else {}
    return Line(day, "sow", planting, text, who, seeds, unit, payload, late=late)


def plant(day: date, planting: str, pieces: float, text: str = "", *, who: str = PERRIN) -> Line:
    """Cloves, sets, tubers or crowns put in."""
    return Line(day, "plant", planting, text, who, pieces, "pieces")


def set_out(day: date, planting: str, plants: float, text: str = "", *, hardened: bool | None = True) -> Line:
    """Plants put where they stay."""
    payload = {} if hardened is None else {"hardened": hardened}
    return Line(day, "set-out", planting, text, PERRIN, plants, "plants", payload)


def harden(day: date, planting: str, text: str = "") -> Line:
    """Hardening begun."""
    return Line(day, "harden", planting, text, WENNA)


def seen(day: date, planting: str, stage: str, share: float | None = None, text: str = "", *, who: str = IDONY) -> Line:
    """A stage seen, on a share of the plants."""
    payload: dict[str, Any] = {"stage": stage}
    if share is not None:
        payload["share"] = share
    return Line(day, "stage", planting, text, who, payload=payload)


def not_yet(day: date, planting: str, stage: str, text: str = "", *, who: str = IDONY) -> Line:
    """Looked for and not there yet."""
    return Line(day, "stage", planting, text, who, payload={"stage": stage, "state": "not yet"})


def pick(
    day: date,
    planting: str,
    quantity: float,
    unit: str = "kg",
    text: str = "",
    *,
    last: bool = False,
    minutes: float | None = None,
) -> Line:
    """Something carried to the kitchen."""
    more = {**({"last": True} if last else {}), **({"minutes": minutes} if minutes else {})}
    return Line(day, "pick", planting, text, PERRIN, quantity, unit, more)


def picked_for(day: date, planting: str, use: str, text: str = "") -> Line:
    """What it is picked for from then on."""
    return Line(day, "use", planting, text, IDONY, payload={"use": use})


def look(
    day: date, target: str, found: str, *, sound: bool | None = None, next_look: date | None = None, who: str = WENNA
) -> Line:
    """A look, with or without a finding."""
    payload: dict[str, Any] = {"found": found} if found else {}
    if sound is not None:
        payload["sound"] = sound
    if next_look is not None:
        payload["next_look"] = next_look.isoformat()
    return Line(day, "look", target, "" if found else "Nothing to report.", who, payload=payload)


def support(day: date, planting: str, what: str, text: str = "") -> Line:
    """Something to climb or lean on put up."""
    return Line(day, "support", planting, text, payload={"what": what})


def protect(day: date, target: str, what: str, until: date | None = None, text: str = "") -> Line:
    """A cover put on."""
    payload = {"what": what} if until is None else {"what": what, "until": until.isoformat()}
    return Line(day, "protect", target, text, payload=payload)


def hurt(day: date, planting: str, cause: str, share: float, killed: float = 0.0, text: str = "") -> Line:
    """Harm seen: the share of all plants that is hurt, and the share of all that is killed."""
    payload: dict[str, Any] = {"cause": cause, "share": share}
    if killed:
        payload["killed"] = killed
    return Line(day, "hurt", planting, text, IDONY, payload=payload)


def work(day: date, target: str, what: str, text: str = "", *, who: str = PERRIN) -> Line:
    """Work done that no other kind names."""
    return Line(day, "work", target, text, who, payload={"what": what})


def clear(day: date, planting: str, reason: str, text: str = "") -> Line:
    """The planting is over."""
    return Line(day, "clear", planting, text, payload={"reason": reason})


def note(day: date, target: str, text: str, *, who: str = IDONY, late: int = 0) -> Line:
    """Words."""
    return Line(day, "note", target, text, who, late=late)


def withdraw(day: date, target: str, entry: str, text: str) -> Line:
    """An entry that was a mistake, with nothing in its place."""
    return Line(day, "withdraw", target, text, IDONY, supersedes=entry)
