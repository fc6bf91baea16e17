"""Cases of trouble written afresh after fact sheets and textbooks: a half to mend by, a half only to look at."""

from __future__ import annotations

import csv
import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from kailyard.handbook.signs import causes
from kailyard.troubles.leanings import Setting
from kailyard.troubles.likelihood import rows
from kailyard.troubles.weighing import Weighed, weigh
from tools.validation.lookalikes import Case as _Case
from tools.validation.lookalikes import hits, rank, spoilt

TITLE = """\
What is it?: cases after fact sheets and textbooks, beside those of the reference. The half (by a hash of the case's
name) that is called 'mended by' was looked at while tables and sums were mended; the half 'kept' was not."""

FILE = Path(__file__).with_name("published_cases.csv")
LETTERS = Path(__file__).with_name("letters.csv")


@dataclass(frozen=True)
class Case(_Case):
    """One case, with where it comes from."""

    status: str
    """'published': the signs are those a named source gives; 'memory': a textbook's description as recalled."""
    source: str
    locator: str

    @property
    def kept(self) -> bool:
        """Whether it lies in the half that nothing was mended by."""
        return int(hashlib.sha256(self.id.encode()).hexdigest(), 16) % 2 == 1


def cases() -> tuple[Case, ...]:
    """All of them, by name."""
    return _read(FILE)


def letters() -> tuple[Case, ...]:
    """What gardeners wrote to newspapers, clinics and extension offices, with the cause that the answer named."""
    return _read(LETTERS)


def _read(file: Path) -> tuple[Case, ...]:
    with file.open(encoding="utf-8") as lines:
        return tuple(
            Case(
                row["case"],
                row["crop"],
                tuple(row["seen"].split()),
                tuple(row["absent"].split()),
                row["cause"],
                row["status"],
                row["source"],
                row["locator"],
            )
            for row in csv.DictReader(lines)
        )


def half(*, kept: bool) -> tuple[Case, ...]:
    """The cases of one half."""
    return tuple(case for case in cases() if case.kept == kept)


def weighed(case: _Case) -> Weighed:
    """What the program makes of a case."""
    return weigh(case.answers, Setting(case.crop))


def score(case: _Case) -> float:
    """Brier (1950) score of one case over all causes: 0 best, 2 worst."""
    chances = weighed(case).middle.copy()
    if case.cause in rows():
        chances[rows().index(case.cause)] -= 1.0
        return float(chances @ chances)
    return float(chances @ chances) + 1.0


def lead_reliability(those: tuple[Case, ...], edges: tuple[float, ...]) -> list[tuple[float, float, int]]:
    """Of the first cause of each case, by bin of its stated chance: mean stated, share right, how many."""
    leads = [(w.of(w.order[0])[1], w.order[0] == c.cause) for c in those for w in [weighed(c)]]
    out = []
    for n, low in enumerate(edges[:-1]):
        inside = [(stated, right) for stated, right in leads if low <= stated < edges[n + 1]]
        if inside:
            stated = float(np.mean([s for s, _ in inside]))
            out.append((stated, float(np.mean([r for _, r in inside])), len(inside)))
    return out


def spoilt_ranks(those: tuple[Case, ...], how: str, times: int = 5) -> list[int]:
    """Ranks of the true cause, each case spoilt as often as said."""
    rng = np.random.default_rng(20260518)
    return [
        rank(weigh(spoilt(case.answers, rng, how), Setting(case.crop)), case.cause)
        for case in those
        if case.cause in causes()
        for _ in range(times)
    ]


def ranks(those: tuple[Case, ...]) -> list[int]:
    """Rank of the true cause of each case that the table can name."""
    return [rank(weighed(case), case.cause) for case in those if case.cause in causes()]


def lines(_shared: Path) -> Iterator[str]:
    """The table."""
    yield f"{'':36}  cases  first  in three  in six  Brier"
    for kept, name in ((False, "half mended by"), (True, "half kept")):
        those = half(kept=kept)
        brier = float(np.mean([score(case) for case in those]))
        yield f"{_row(name, ranks(those))}  {brier:5.2f}"
        for how in ("flipped", "missing"):
            yield _row(f"  one answer in five {how}", spoilt_ranks(those, how))
        for stated, right, count in lead_reliability(those, (0.0, 0.3, 0.5, 0.7, 0.85, 0.95, 1.01)):
            yield f"    first cause said at {stated:4.2f}: right {right:4.2f} of {count}"
    brier = float(np.mean([score(case) for case in letters()]))
    yield f"{_row('letters of gardeners', ranks(letters()))}  {brier:5.2f}"


def _row(name: str, tried: list[int]) -> str:
    return f"{name:36}  {len(tried):5d}  {hits(tried, 1):5.2f}  {hits(tried, 3):8.2f}  {hits(tried, 6):6.2f}"
