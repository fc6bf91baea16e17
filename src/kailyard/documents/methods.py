"""What can be reckoned: every method with inputs, units, ranges and source; or one of them, opened."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from kailyard.documents._parts import Status


@dataclass(frozen=True, slots=True)
class MethodInput:
    """One input: a number with unit and range, or one word of a few."""

    name: str
    unit: str
    """'' for a pure number or a word."""
    low: float | None
    high: float | None
    """The range, both ends included; None where words are to choose from."""
    words: tuple[str, ...]
    """The words to choose from; () for a number."""
    run: bool
    """It wants a run of days, hours or years, not one value."""
    required: bool
    default: float | str | None
    """What holds where nothing is given; None where `required`, or where it may simply be left out."""
    title: str
    """The name in plain words, without its unit: 'vapour pressure'."""
    means: str
    """What it is, in a sentence."""
    off_label: bool
    """It is read off a product's label: nothing but what the user types may stand there."""


@dataclass(frozen=True, slots=True)
class MethodResult:
    """What comes out, with its unit ('' for a pure number)."""

    name: str
    unit: str


@dataclass(frozen=True, slots=True)
class Method:
    """One method of the science."""

    name: str
    title: str
    """The name in plain words, without its unit: 'Product for a tank'."""
    short: tuple[str, ...]
    """Shorter names that mean it too."""
    subject: str
    """'degree days', 'soil water': the chapter it stands in."""
    says: str
    inputs: tuple[MethodInput, ...]
    gives: tuple[MethodResult, ...]
    formula: str
    """The equation as printed, or the steps, line by line."""
    source: str
    status: Status
    example: str
    """Words that compute something: 'kailyard reckon day_length_h latitude_deg=45 day_of_year=172'."""


@dataclass(frozen=True, slots=True)
class Methods:
    """`kailyard.methods/1`"""

    schema: ClassVar[str] = "kailyard.methods/1"

    methods: tuple[Method, ...]


DOCUMENT = Methods
