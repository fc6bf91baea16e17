"""Facts with their ground: what the loader makes of the tables, and what every other part asks."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from kailyard.errors import NotFound

FactStatus = Literal["published", "common practice", "memory", "yours"]
Response = Literal["linear", "capped", "trapezoid", "beta", "max-foldback", "none"]


@dataclass(frozen=True, slots=True)
class Citation:
    """One source of `sources.toml`."""

    id: str
    text: str
    """Authors, year, title, place: as a reader needs it to find it."""
    caution: str = ""


@dataclass(frozen=True, slots=True)
class Fact:
    """One value about one subject (a crop key, or a kind of work)."""

    subject: str
    quantity: str
    value: float | str
    unit: str
    """'' for text and pure numbers."""
    status: FactStatus
    source: str
    """Identifiers of `sources.toml`, '; ' between; '' for common practice and memory without one."""
    locator: str
    note: str
    file: str
    line: int

    @property
    def number(self) -> float:
        """The value as a number; TypeError where it is text."""
        if isinstance(self.value, str):
            raise TypeError(f"{self.file}:{self.line}: {self.subject} {self.quantity} is text")
        return self.value


@dataclass(frozen=True, slots=True)
class Leg:
    """Development from one stage to another: response to temperature and what is required. `facts` are its values.

    Rival legs of one stretch stand side by side; `order` (1 first) is our choice among them, said in the note.
    """

    crop: str
    from_stage: str
    to_stage: str
    order: int
    response: Response
    base_c: float | None
    opt_low_c: float | None
    opt_high_c: float | None
    ceiling_c: float | None
    degree_days: tuple[float, float] | None
    """Low and high of the published range. [°C·d above base, from daily means]"""
    days: tuple[float, float] | None
    reference_mean_c: float | None
    """Mean temperature at which `days` hold. [°C]"""
    soil: bool
    """Driven by soil temperature at seed depth (emergence), else by air."""
    facts: Mapping[str, Fact]
    """By quantity: 'base_c', 'opt_low_c', 'opt_high_c', 'ceiling_c', 'degree_days_low', ..., 'reference_mean_c'."""
    note: str


@dataclass(frozen=True, slots=True, eq=False)
class Handbook:
    """All facts, own ones winning. Immutable."""

    facts: Mapping[str, Mapping[str, Fact]]
    """subject -> quantity -> fact."""
    legs: Mapping[str, tuple[Leg, ...]]
    """crop -> legs, by (from_stage, to_stage, order)."""
    citations: Mapping[str, Citation]
    crops: tuple[str, ...]
    """Keys of all that a planting may name, sorted."""
    plants: tuple[str, ...] = ()
    """Those of them that stand there for bees and butterflies, sorted."""

    def get(self, subject: str, quantity: str) -> Fact | None:
        """The fact, or None where nothing is known."""
        return self.facts.get(subject, {}).get(quantity)

    def number(self, subject: str, quantity: str, default: float | None = None) -> float | None:
        """The fact's number, or `default`."""
        fact = self.get(subject, quantity)
        return default if fact is None else fact.number

    def text(self, subject: str, quantity: str, default: str = "") -> str:
        """The fact's text, or `default`."""
        fact = self.get(subject, quantity)
        return default if fact is None else str(fact.value)

    def crop(self, key: str) -> str:
        """The crop key meant by `key`: itself, or NotFound naming the ones that begin alike."""
        if key in self.facts and key in self.crops:
            return key
        near = [c for c in self.crops if c.startswith(key[:3])]
        hint = f" Did you mean {', '.join(near)}?" if near else " `kailyard handbook show` lists them."
        raise NotFound(f"The handbook has no crop '{key}'.{hint}")
