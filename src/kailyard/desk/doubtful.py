"""Days of the weather that a rule is not sure of, for the gardener to look at: set aside, or left in use.

Until either is said they are used and asked about again. What was left is an entry too; withdrawn, they are asked about
anew.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from kailyard.desk import typed
from kailyard.desk.desk import Desk
from kailyard.desk.weather_aside import OWN_GAUGE, SHORT, kept_called, own_gauge, set_aside, used_of
from kailyard.documents.table import Table
from kailyard.errors import UsageError
from kailyard.garden.model import Entry, Garden
from kailyard.units import in_running_text
from kailyard.weather.garden import gauge_doubts
from kailyard.weather.judging import Doubt, doubts
from kailyard.weather.record import merge

LEFT = "weather-left"


@dataclass(frozen=True, slots=True)
class Asked:
    """Days that are asked about."""

    records: tuple[str, ...]
    """Identifiers of the records that have them, the latest read first: one made of two has the days of both."""
    name: str
    """Of the latest."""
    first: date
    last: date
    what: str
    """What is odd about them, in the garden's units."""
    rule: str

    @property
    def key(self) -> str:
        """The records as a form sends them."""
        return ",".join(self.records)

    @property
    def own(self) -> bool:
        """Whether it is the garden's own rain gauge that is asked about."""
        return self.records == (OWN_GAUGE,)


@dataclass(frozen=True, slots=True)
class Left:
    """Days that were looked at and left in use."""

    entry: str
    first: date
    last: date
    name: str
    who: str


def doubtful(desk: Desk) -> tuple[Asked, ...]:
    """Everything that is asked about, the latest days first; what is set aside or was left is not."""
    garden = desk.garden()
    return desk.kept(("doubtful", desk.today(garden)), lambda: _doubtful(desk, garden, desk.today(garden)))


def _doubtful(desk: Desk, garden: Garden, today: date) -> tuple[Asked, ...]:
    in_use = used_of(desk.store.kept_weather(), garden.entries)
    by_doubt: dict[Doubt, list[tuple[str, str]]] = {}
    for kept, record in reversed(in_use):
        for each in doubts(record, sure_too=True):
            by_doubt.setdefault(each, []).append((kept.id, kept.name or kept.record.source))
    if in_use:
        for each in gauge_doubts(merge([record for _, record in in_use]), own_gauge(garden.entries, today)):
            by_doubt[each] = [(OWN_GAUGE, "the garden's own rain gauge")]
    left = [e for e in garden.entries if e.kind == LEFT]
    found = [
        Asked(
            tuple(id_ for id_, _ in where),
            where[0][1],
            each.first,
            each.last,
            in_running_text(each.what, garden.units),
            each.rule,
        )
        for each, where in by_doubt.items()
        if not any(_covers(e, each, [id_ for id_, _ in where]) for e in left)
    ]
    return tuple(sorted(found, key=lambda a: (a.first, a.rule), reverse=True))


def _covers(entry: Entry, doubt: Doubt, records: Sequence[str]) -> bool:
    first, last = _span(entry)
    return entry.payload["record"] in records and first <= doubt.first and doubt.last <= last


def _span(entry: Entry) -> tuple[date, date]:
    first, last = (date.fromisoformat(str(entry.payload[name])) for name in ("first", "last"))
    return first, last


def asked_lines(asked: Sequence[Asked], most: int) -> list[str]:
    """The first of them as lines, each with what its record is called at the keyboard."""
    lines = [f"Please look at {a.first} of {a.records[0][: _shown(a)]}: {a.what} ({a.rule})." for a in asked[:most]]
    if asked:
        more = f" {len(asked) - most} more are not shown." if len(asked) > most else ""
        lines.append(
            f"{len(asked)} to look at: kept and used.{more} `kailyard weather --aside RECORD --first DAY --last DAY` "
            "leaves days out; `--leave` in its place says that they are right."
        )
    return lines


def _shown(asked: Asked) -> int | None:
    return None if asked.own else SHORT


def leave(desk: Desk, record: str, *, first: str = "", last: str = "", why: str = "", id_: str | None = None) -> Table:
    """Say that doubtful days are right: they stay in use and are not asked about again.

    `record`: its identifier or how that begins, or `OWN_GAUGE`. Raises NotFound, UsageError.
    """
    garden = desk.garden()
    today = desk.today(garden)
    kept = kept_called(desk, garden, record)
    if not first or kept.whole:
        raise UsageError("Which days are right? Say them: --first DAY, and --last DAY where there are several.")
    days = typed.day(first, today, "first"), typed.day(last or first, today, "last")
    if not (kept.first <= days[0] <= days[1] <= kept.last):
        raise UsageError(f"first {days[0]}, last {days[1]}: {kept.name} has the days {kept.first} to {kept.last}.")
    payload = {"record": kept.id, "first": days[0], "last": days[1]}
    if id_ is None or id_ not in desk.store.known([id_]):
        desk.keep([desk.entry(LEFT, happened=today, text=why.strip(), payload=payload, id_=id_)])
    what = f"{days[0]} to {days[1]}" if days[0] != days[1] else f"{days[0]}"
    note = "It stays in use and is not asked about again, until the entry is withdrawn."
    return Table(f"Left in use of {kept.name}: {what}", notes=(note,))


def settle(desk: Desk, records: str, *, first: str, last: str, leaving: bool, id_: str) -> str:
    """Set doubtful days aside in every record that has them, or leave them in use; a sentence of what was done.

    `records`: as `Asked.key`. `id_`: made with the form.
    """
    do = leave if leaving else set_aside
    for n, record in enumerate(records.split(",")):
        done = do(desk, record, first=first, last=last, id_=id_ if n == 0 else f"{id_}-{n}")
    return f"{done.title}. {'It is not asked about again.' if leaving else 'It stays kept and is not used.'}"


def left_in_use(desk: Desk) -> tuple[Left, ...]:
    """What was looked at and left, the latest days first."""
    names = {each.id: each.name or each.record.source for each in desk.store.kept_weather()}
    names[OWN_GAUGE] = "the garden's own rain gauge"
    found = [
        Left(e.id, *_span(e), names.get(str(e.payload["record"]), "a record that is gone"), e.who)
        for e in desk.garden().entries
        if e.kind == LEFT
    ]
    return tuple(sorted(found, key=lambda one: one.first, reverse=True))
