"""An entry as a form of ours sends it: read by the words of its kind, kept once, or put in another's place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from kailyard.desk import typed
from kailyard.desk.desk import Desk
from kailyard.desk.fill import fields_of, fill
from kailyard.desk.receive import Sent, receive
from kailyard.desk.record import COMMAND_OF
from kailyard.errors import Conflict, DataError, NotFound, UsageError
from kailyard.garden.kinds import kind


@dataclass(frozen=True, slots=True)
class Written:
    """What was typed. Every part is text, in the garden's units."""

    id: str
    """Made with the form, so that the form sent twice is one entry."""
    kind: str
    target: str = ""
    happened: str = ""
    """'' is today."""
    amount: str = ""
    unit: str = ""
    """Counts where the amount names no unit of its own."""
    text: str = ""
    puts_right: str = ""
    """Identifier of the entry that this one takes the place of."""
    fields: Mapping[str, str] = field(default_factory=dict)
    """By name; those that the kind does not have are passed over. A bare number for a share is in the hundred; what
    is blank is not said."""


def take(desk: Desk, written: Written) -> str:
    """Keep the entry; its identifier. Raises UsageError, DataError, NotFound, Conflict; then nothing is kept."""
    if written.kind in COMMAND_OF:
        raise UsageError(f"Entries of kind '{written.kind}' are made on a page of their own.")
    garden, known = desk.garden(), kind(written.kind)
    today = desk.today(garden)
    filled = fill(known, _words(written), units=garden.units, today=today)
    text = written.text.replace("\r\n", "\n").strip()
    sent = Sent(
        id=written.id,
        kind=written.kind,
        happened=typed.past_day(written.happened or None, today, "day"),
        target=written.target,
        quantity=filled.quantity,
        unit=filled.unit,
        text="; ".join(part for part in (filled.counted, text) if part),
        payload={name: v.isoformat() if isinstance(v, date) else v for name, v in filled.payload.items()},
        supersedes=written.puts_right,
    )
    if written.puts_right:
        _may_put_right(desk, written)
    keep_sent(desk, sent)
    return sent.id


def keep_sent(desk: Desk, sent: Sent) -> None:
    """Keep one entry, or raise what stands in its way; one that is known already is well."""
    answer = receive(desk, [sent])[0]
    if answer.answer == "conflict":
        raise Conflict(f"{answer.reason} That one stands and nothing was changed; put it right in the daybook.")
    if answer.answer == "refused":
        raise DataError(answer.reason)


def _words(written: Written) -> list[str]:
    """The words of the form as they would be typed behind the kind's name."""
    words = []
    shares = {f.name for f in fields_of(kind(written.kind)) if f.takes == "share"}
    if amount := written.amount.strip():
        parts = typed.split_number(amount)
        bare = parts is not None and not parts[1]
        unit = "count" if written.kind == "pick" and written.unit == "pieces" else written.unit
        words.append(f"quantity={amount} {unit}".rstrip() if bare else f"quantity={amount}")
    own = {f.name for f in fields_of(kind(written.kind))}
    for name, value in written.fields.items():
        if name not in own:
            continue
        value = " ".join(value.split())
        if not value:
            continue
        parts = typed.split_number(value)
        words.append(f"{name}={value}%" if name in shares and parts and not parts[1] else f"{name}={value}")
    return words


def _may_put_right(desk: Desk, written: Written) -> None:
    wrong = desk.store.known([written.puts_right]).get(written.puts_right)
    if wrong is None:
        raise NotFound("The entry that was to be put right is not in the daybook.")
    if wrong.kind != written.kind:
        raise UsageError(f"An entry of kind '{wrong.kind}' is put right by one of its own kind, or withdrawn.")
    by = next((e for e in desk.entries() if e.supersedes == wrong.id), None)
    if by is not None and by.id != written.id:
        how = "withdrawn" if by.kind == "withdraw" else "put right"
        raise Conflict(f"That entry was {how} meanwhile, on {by.written.date()}. Nothing was changed.")
