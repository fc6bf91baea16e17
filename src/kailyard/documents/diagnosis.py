"""What a trouble may be: causes in words with ranges, what speaks for and against each, and what to look at next."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar, Literal

from kailyard.documents._parts import Reason, RestsOn

Answer = Literal["yes", "no", "can't tell"]


@dataclass(frozen=True, slots=True)
class Asked:
    """A sign that was answered."""

    sign: str
    """As typed: 'edge-gradient'."""
    group: str
    question: str
    answer: Answer
    proposed: str
    """Why the record itself gives this answer; '' where the gardener gave it."""


@dataclass(frozen=True, slots=True)
class Speaks:
    """One answer that speaks for a cause, or against it."""

    sign: str
    says: str
    """'Seen: white powder on the leaf that rubs off', 'Not there: fine webbing'."""
    how_often: str
    """How often the cause shows the sign, in the table's word."""
    strength: Literal["strongly", "somewhat"]
    rests_on: RestsOn
    """'published' where a guide names the sign for the cause; the word itself is our reading."""


@dataclass(frozen=True, slots=True)
class Settling:
    """A small test that decides."""

    how: str
    """rub, cut, bag, lens, tap, dig, look, watch, night, bioassay, lab."""
    what: str
    rests_on: RestsOn


@dataclass(frozen=True, slots=True)
class Cause:
    """One cause, with what speaks for it and against it."""

    id: str
    """As typed: 'late-blight'; 'other' is none of the table."""
    name: str
    category: str
    harmless: bool
    says: str
    """'very likely', 'likely', 'possible', 'unlikely'."""
    span: str
    """The same over the ranges: 'possible to likely'."""
    telling_sign: str
    speaks_for: tuple[Speaks, ...]
    speaks_against: tuple[Speaks, ...]
    before: tuple[Reason, ...]
    """What leaned towards it or away before any sign."""
    settles: tuple[Settling, ...]
    do_now: str
    eat: str
    eat_rests_on: RestsOn | None
    report: str
    """Who hears of it first; ''."""
    rests_on: RestsOn


@dataclass(frozen=True, slots=True)
class NextSign:
    """A sign worth checking next."""

    sign: str
    group: str
    question: str
    how: str
    """A small way to find out; ''."""
    if_yes: str
    """What a 'yes' would point to."""
    if_no: str


@dataclass(frozen=True, slots=True)
class ToSend:
    """A sample for a diagnostic laboratory."""

    what: str
    by: date | None
    """Last day on which it is worth taking; None where the day of the first sight is not known."""
    says: str


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """`kailyard.diagnosis/1`"""

    schema: ClassVar[str] = "kailyard.diagnosis/1"

    garden: str
    on: date
    units: Literal["metric", "us"]
    planting: str
    plants: str
    where: str
    first_seen: date | None
    answered: tuple[Asked, ...]
    causes: tuple[Cause, ...]
    two: str
    """Two causes at once, in one sentence; ''."""
    firm: str
    """Whether the order holds across the ranges, or which sign it hangs on."""
    next: tuple[NextSign, ...]
    stop: str
    """Whether to go on asking, and why not."""
    sample: ToSend | None
    cautions: tuple[str, ...]


DOCUMENT = Diagnosis
