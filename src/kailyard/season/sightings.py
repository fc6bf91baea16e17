"""What the daybook says of a planting: when it was begun, and between which days each stage fell."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from kailyard.garden.model import Entry, Planting

ORDER = ("emerged", "first-flower", "first-harvest", "mature")
"""Stages of which a later one, seen, implies the earlier ones."""

SEEN_WITHIN_DAYS = 14
"""A stage entered as seen, with no 'not yet' before it, came within so many days: people write down what is new."""

ENOUGH = 0.5
"""A stage that at least this share of the plants shows counts as seen."""


@dataclass(frozen=True, slots=True)
class Between:
    """A stage fell after `not_yet` and by `seen`; None where no entry says so."""

    not_yet: date | None = None
    seen: date | None = None
    not_yet_entry: Entry | None = None
    seen_entry: Entry | None = None
    implied: bool = False
    """Known only because a later stage was seen."""

    @property
    def after(self) -> date | None:
        """The day after which it fell, as far as entries tell: the last 'not yet', or what 'seen' alone is worth."""
        alone = self.not_yet is None and self.seen is not None and not self.implied
        if alone and self.seen is not None and self.seen_entry is not None and self.seen_entry.kind == "stage":
            return self.seen - timedelta(days=SEEN_WITHIN_DAYS)
        return self.not_yet


@dataclass(frozen=True, slots=True)
class Sightings:
    """Everything that the entries of one planting fix. Days are None where nothing was entered."""

    sown: date | None
    under_cover: bool
    set_out: date | None
    planted: date | None
    ended: date | None
    stages: dict[str, Between]
    partial: tuple[Entry, ...]
    """Stage entries on ripeness with a share below one, in order: a bulb crop coming ripe."""
    alive: date | None
    """Last day on which an entry shows living plants."""
    covered: date | None
    """Last night for which it was protected."""
    entries: tuple[Entry, ...]

    def of(self, kind: str) -> tuple[Entry, ...]:
        """Entries of one kind, in order."""
        return tuple(e for e in self.entries if e.kind == kind)


def sight(
    planting: Planting,
    entries: Iterable[Entry],
    today: date,
    *,
    perennial: bool = False,
    early: Collection[str] = (),
) -> Sightings:
    """Read the entries of one planting that happened by `today`; a perennial's last picking ends only its year.

    `early` are the pickings, by identifier, for a use that comes before the crop's usual first picking: they show that
    the plants live, and no stage.
    """
    mine = tuple(e for e in entries if e.happened <= today)

    def last(kind: str) -> Entry | None:
        found = [e for e in mine if e.kind == kind]
        return found[-1] if found else None

    sown, out, put = last("sow"), last("set-out"), last("plant")
    cleared = last("clear")
    lasting = perennial or planting.since is not None
    finished = [e for e in mine if e.kind == "pick" and e.payload.get("last") and not lasting]
    ended = cleared.happened if cleared else (finished[-1].happened if finished else None)
    begun = max((e.happened for e in (sown, put) if e), default=date.min)
    living = [
        e
        for e in mine
        if e.target == planting.id
        and e.kind in ("stage", "pick", "look", "support", "work", "hurt")
        and e.payload.get("sound") is not False
        and float(e.payload.get("killed") or 0) < 1
    ]
    covers = [as_day(e.payload.get("until")) or e.happened for e in mine if e.kind == "protect"]
    return Sightings(
        sown=sown.happened if sown else None,
        under_cover=bool(sown and sown.payload.get("under_cover")),
        set_out=out.happened if out else None,
        planted=put.happened if put else (planting.since if planting.start == "planted" else None),
        ended=ended,
        stages=_stages([e for e in mine if e.happened >= begun and e.id not in early]),
        partial=tuple(
            e
            for e in mine
            if e.kind == "stage" and e.payload.get("stage") == "mature" and e.payload.get("share") is not None
        ),
        covered=max(covers, default=None),
        alive=max((e.happened for e in living), default=None),
        entries=mine,
    )


def as_day(value: object) -> date | None:
    """A day of an entry's payload, as a date or as ISO text; None where it is not given."""
    if isinstance(value, date):
        return value
    return date.fromisoformat(str(value)) if value else None


def _stages(entries: list[Entry]) -> dict[str, Between]:
    seen: dict[str, Entry] = {}
    unseen: dict[str, list[Entry]] = {}
    for e in entries:
        if e.kind == "pick":
            seen.setdefault("first-harvest", e)
        elif e.kind == "stage":
            stage = str(e.payload.get("stage"))
            share = e.payload.get("share")
            if e.payload.get("state", "seen") == "seen" and (share is None or float(share) >= ENOUGH):
                seen.setdefault(stage, e)
            else:
                unseen.setdefault(stage, []).append(e)
    out: dict[str, Between] = {}
    for stage in {*seen, *unseen, *ORDER}:
        first = seen.get(stage)
        before = [e for e in unseen.get(stage, ()) if first is None or e.happened < first.happened]
        latest = before[-1] if before else None
        implied = False
        if first is None and stage in ORDER:
            later = [seen[s] for s in ORDER[ORDER.index(stage) + 1 :] if s in seen]
            if later:
                first, implied = min(later, key=lambda e: (e.happened, e.written, e.id)), True
        if first is not None or latest is not None:
            out[stage] = Between(
                not_yet=latest.happened if latest else None,
                seen=first.happened if first else None,
                not_yet_entry=latest,
                seen_entry=first,
                implied=implied,
            )
    return out
