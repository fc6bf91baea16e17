"""A verdict: may, not now, never or unknown, with every finding that it rests on. Unknown is never yes."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from kailyard.documents._parts import RestsOn

Answer = Literal["may", "not now", "never", "unknown"]
STERNNESS: dict[Answer, int] = {"never": 0, "not now": 1, "unknown": 2, "may": 3}
"""Of several findings the one with the least of these holds: nothing that is for it outweighs what is against it."""


@dataclass(frozen=True, slots=True)
class Finding:
    """What one check found. `beside`: a word that stands beside the verdict and has no say in it."""

    check: str
    answer: Answer
    says: str
    rests_on: RestsOn
    until: datetime | None = None
    """Of 'not now': the first moment at which this reason is gone; None where nobody can tell."""
    ask: str = ""
    """Of 'unknown': the question that only somebody on the spot can answer, by its key; ''."""
    beside: bool = False


@dataclass(frozen=True, slots=True)
class Verdict:
    """The answer, and why."""

    answer: Answer
    findings: tuple[Finding, ...]
    """The sternest first."""
    until: datetime | None = None
    """Of 'not now': when to look again. It promises nothing of what the answer will be then."""
    hour: datetime | None = None
    """The hour that was looked at."""

    @property
    def asks(self) -> tuple[str, ...]:
        """Questions to be answered on the spot, each once."""
        return tuple(dict.fromkeys(f.ask for f in self.findings if f.ask))

    @property
    def against(self) -> tuple[Finding, ...]:
        """Findings that stand in the way."""
        return tuple(f for f in self.findings if not f.beside and f.answer != "may")

    @property
    def beside(self) -> tuple[Finding, ...]:
        """Words of warning that stand beside."""
        return tuple(f for f in self.findings if f.beside)


def verdict(findings: Iterable[Finding], *, hour: datetime | None = None) -> Verdict:
    """What all findings come to: the sternest holds. No finding at all is 'unknown'."""
    ordered = tuple(sorted(findings, key=lambda f: (f.beside, STERNNESS[f.answer], f.check)))
    counted = [f for f in ordered if not f.beside]
    if not counted:
        return Verdict("unknown", ordered, hour=hour)
    answer = counted[0].answer
    until = None
    if answer == "not now":
        ends = [f.until for f in counted if f.answer == "not now"]
        until = max(e for e in ends if e is not None) if all(e is not None for e in ends) else None
    return Verdict(answer, ordered, until, hour)
