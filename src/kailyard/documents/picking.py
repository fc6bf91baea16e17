"""What will be picked week by week, what is wanted, and what was weighed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import ClassVar, Literal

from kailyard.documents._parts import Reason

Word = Literal["", "little", "some", "plenty"]


@dataclass(frozen=True, slots=True)
class Band:
    """One in ten lies below `low`, half below `middle`, nine in ten below `high`."""

    low: float
    middle: float
    high: float


@dataclass(frozen=True, slots=True)
class Week:
    """Seven days of picking."""

    first: date
    chance: float
    """That there is anything to pick. 0 to 1"""
    word: Word
    """Where there is anything, beside this crop's best week; '' where the chance is too small to tell."""
    ink: Band
    """Parts of the tallest band of the crop, for the drawing. 0 to 1"""
    kg: Band | None
    """Where there is anything to pick; None until the garden's own weights carry kilograms."""


@dataclass(frozen=True, slots=True)
class PlantingAhead:
    """One planting that bears, or will."""

    planting: str
    says: str
    """Plants and cultivar."""
    where: str
    when: str
    """First and last picking, in words with odds."""
    so_far: str
    """'1.2 kg in 3 pickings'; '' where none."""
    left: str
    """'about half of it is still to come'; '' before the first is picked."""
    standing: float
    """Share of the full stand's crop that the plants left give. 0 to 1"""
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class CropAhead:
    """A crop's picking for one use, all its plantings for it together."""

    crop: str
    use: str
    """What it is picked for; '' where the crop has but one use."""
    produce: str
    how: tuple[str, ...]
    """How often, by what sign and size, at what hour: a sentence each."""
    uses: tuple[str, ...]
    """The crop's other uses, a sentence each: when, by what sign."""
    weeks: tuple[Week, ...]
    carried: bool
    """Kilograms are told."""
    carried_words: str
    """Why it is words, or what carries the kilograms."""
    published: str
    """What is published of such plantings, a season; '' where nothing is."""
    wanted_kg: float | None
    """A week; None where nothing was said. [kg]"""
    wanted_of: str
    """'of all uses together' where the want is of the whole crop and this is a part of it; else ''."""
    balance: tuple[str, ...]
    """Surplus and shortfall ahead."""
    plantings: tuple[PlantingAhead, ...]
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class WeighedPlanting:
    """One planting's season for one use as weighed. None where it cannot be told."""

    planting: str
    cultivar: str
    use: str
    """'' where it was the crop's usual."""
    started: str
    begun: date | None
    year: int
    kg: float
    per_m2: float | None
    """[kg/m²]"""
    per_row_m: float | None
    """[kg/m]"""
    per_plant: float | None
    """[kg]"""
    per_hour: float | None
    """Of picking. [kg/h]"""
    note: str
    """'2 of 5 pickings without a weight', 'still bearing'."""


@dataclass(frozen=True, slots=True)
class WeighedCrop:
    """What was weighed of a crop, and what may be said of it."""

    produce: str
    plantings: tuple[WeighedPlanting, ...]
    says: tuple[str, ...]
    """Comparisons, each with what else differed."""


@dataclass(frozen=True, slots=True)
class Picking:
    """`kailyard.picking/1`"""

    schema: ClassVar[str] = "kailyard.picking/1"

    garden: str
    on: date
    units: Literal["metric", "us"]
    crops: tuple[CropAhead, ...]
    """Those with something to come, the soonest first."""
    unknown: tuple[str, ...]
    """Plantings of which nobody can foresee when they bear."""
    weighed: tuple[WeighedCrop, ...]
    questions: tuple[str, ...]
    """Weights that look like slips of the pen."""
    held: tuple[str, ...] = ()
    """What is not to be picked whatever is ripe, after an injury or a treatment, and until when."""


DOCUMENT = Picking
