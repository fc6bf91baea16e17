"""The 20 lookalike cases: tuned on one half and tried on the other, spoilt; and cases made from the ranges."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise, product
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from kailyard.handbook.signs import HOW_OFTEN, causes, how_often, signs
from kailyard.troubles.leanings import Setting, weights
from kailyard.troubles.likelihood import MISSED, MISTAKEN, FloatArray, columns, ends, rows
from kailyard.troubles.weighing import Answer, Weighed, weigh

TITLE = """\
What is it?: the 20 worked lookalike cases of the reference. 'first': the cause stands first; 'in three': among the
first three. Cases and table of signs were written by one hand (the reference says so): they agree, which proves
neither right."""

EDGES = (0.0, 0.05, 0.2, 0.4, 0.6, 0.8, 0.95, 1.01)
"""Bins of stated chance."""

_CROPS = {
    "bean, tomato, pea": "bean-bush", "tomato": "tomato-determinate", "pepper": "pepper-sweet",
    "cucumber": "cucumber-slicing", "summer squash": "squash-yellow-straightneck", "pepper seedlings": "pepper-sweet",
}  # fmt: skip


@dataclass(frozen=True)
class Case:
    """One worked case."""

    id: str
    crop: str
    seen: tuple[str, ...]
    absent: tuple[str, ...]
    cause: str

    @property
    def answers(self) -> dict[str, Answer]:
        """By sign."""
        yes: Answer = "yes"
        no: Answer = "no"
        return {**dict.fromkeys(self.seen, yes), **dict.fromkeys(self.absent, no)}


def cases(shared: Path) -> tuple[Case, ...]:
    """All of them, in order."""
    with (shared / "reference" / "troubles" / "lookalike-cases.csv").open(encoding="utf-8") as lines:
        return tuple(
            Case(
                row["case_id"],
                _CROPS.get(row["crop"], row["crop"]),
                tuple(row["signs_present"].split()),
                tuple(row["signs_absent"].split()),
                row["expected_cause"],
            )
            for row in csv.DictReader(lines)
        )


def halves(shared: Path) -> tuple[tuple[Case, ...], tuple[Case, ...]]:
    """Odd and even numbers of the cases: fixed before anything was tried, and blind to what the cases hold."""
    every = cases(shared)
    return every[0::2], every[1::2]


def rank(weighed: Weighed, cause: str) -> int:
    """1 for the cause that stands first."""
    return weighed.order.index(cause) + 1


def hits(tried: list[int], within: int) -> float:
    """Share of ranks that are `within` or better."""
    return sum(r <= within for r in tried) / len(tried)


def spoilt(answers: dict[str, Answer], rng: np.random.Generator, how: str) -> dict[str, Answer]:
    """One answer in five turned round ('flipped') or not given ('missing')."""
    n = max(1, round(len(answers) / 5))
    hit = set(rng.choice(sorted(answers), n, replace=False))
    if how == "missing":
        return {s: a for s, a in answers.items() if s not in hit}
    return {s: (("no" if a == "yes" else "yes") if s in hit else a) for s, a in answers.items()}


def spoilt_ranks(shared: Path, how: str) -> list[int]:
    """Ranks of the true cause, each case spoilt ten times."""
    rng = np.random.default_rng(20260518)
    return [
        rank(weigh(spoilt(case.answers, rng, how), Setting(case.crop)), case.cause)
        for case in cases(shared)
        for _ in range(10)
    ]


@dataclass(frozen=True)
class Made:
    """Cases drawn from the ranges themselves: what was true, and what the program made of the answers."""

    truth: NDArray[np.int64]
    """(n,) rows."""
    chances: FloatArray
    """(n, rows)"""


def made(crop: str, n: int, asked: int, seed: int) -> Made:
    """A cause by its weight on this crop; every chance somewhere in its range; signs, slips, answers by lot."""
    rng = np.random.default_rng(seed)
    prior, _ = weights(Setting(crop))
    low, high = ends()
    truth = rng.choice(len(rows()), n, p=prior)
    names = list(columns())
    chances = np.empty((n, len(rows())))
    for i, row in enumerate(truth):
        at = rng.choice(len(names), asked, replace=False)
        there = rng.random(asked) < rng.uniform(low[row, at], high[row, at])
        slips = np.where(there, rng.uniform(*MISSED, asked), rng.uniform(*MISTAKEN, asked))
        said = there ^ (rng.random(asked) < slips)
        answers: dict[str, Answer] = {names[k]: "yes" if yes else "no" for k, yes in zip(at, said, strict=True)}
        chances[i] = weigh(answers, Setting(crop)).middle
    return Made(truth, chances)


def brier(of: Made) -> float:
    """Brier (1950), Mon. Wea. Rev. 78:1-3: mean over cases of the squared errors over all causes; 0 best, 2 worst."""
    hit = np.zeros_like(of.chances)
    hit[np.arange(of.truth.size), of.truth] = 1.0
    return float(np.mean(((of.chances - hit) ** 2).sum(axis=1)))


def expected_brier(of: Made) -> float:
    """What the score comes to on average where the chances mean what they say."""
    return float(np.mean(1.0 - (of.chances**2).sum(axis=1)))


def reliability(of: Made, edges: tuple[float, ...]) -> list[tuple[float, float, int]]:
    """By bin of stated chance: mean stated, share that came true, how many."""
    hit = np.zeros_like(of.chances)
    hit[np.arange(of.truth.size), of.truth] = 1.0
    out = []
    for low, high in pairwise(edges):
        inside = (of.chances >= low) & (of.chances < high)
        if inside.any():
            out.append((float(of.chances[inside].mean()), float(hit[inside].mean()), int(inside.sum())))
    return out


WORDS = ((0.9, 0.6, 0.3, 0.05, 0.005), (0.95, 0.7, 0.35, 0.085, 0.01), (0.98, 0.8, 0.4, 0.12, 0.02))
"""Candidate readings of always, often, sometimes, rarely, never."""
SLIPS = ((0.02, 0.01), (0.1, 0.035), (0.2, 0.08))
"""Candidate chances of missing a sign, and of seeing one that is not there."""
SPREAD = (0.0, 0.5, 1.0)
"""Candidate powers on the weights before any sign; 0: all causes alike."""


class Reading:
    """One candidate, worked out beside the program's own way, for its own rows only."""

    def __init__(self, words: tuple[float, ...], slips: tuple[float, float], spread: float) -> None:
        at = np.array([[HOW_OFTEN.index(how_often(c, s)) for s in signs()] for c in causes()])
        shown = np.array(words)[at]
        self.yes = shown * (1 - slips[0]) + (1 - shown) * slips[1]
        self.spread = spread

    def chances(self, case: Case) -> FloatArray:
        """Of each cause; (causes,)."""
        log = self.spread * np.log(weights(Setting(case.crop))[0][:-1])
        for sign, answer in case.answers.items():
            p = self.yes[:, columns()[sign]]
            log = log + np.log(p if answer == "yes" else 1 - p)
        p = np.exp(log - log.max())
        return np.asarray(p / p.sum())

    def rank(self, case: Case) -> int:
        """1 where the true cause stands first."""
        chances = self.chances(case)
        return 1 + int((chances > chances[causes().index(case.cause)]).sum())


def tuned_on(half: tuple[Case, ...]) -> Reading:
    """The candidate that gives the causes of `half` the highest mean log chance."""
    readings = [Reading(w, s, p) for w, s, p in product(WORDS, SLIPS, SPREAD)]
    return max(readings, key=lambda r: sum(np.log(r.chances(c)[causes().index(c.cause)]) for c in half))


def lines(shared: Path) -> Iterator[str]:
    """The table."""
    both = halves(shared)
    yield f"{'':44}  cases  first  in three"
    for tuned, name in (
        (0, "best reading of the odd cases, on the even"),
        (1, "best reading of the even cases, on the odd"),
    ):
        reading = tuned_on(both[tuned])
        yield _row(name, [reading.rank(case) for case in both[1 - tuned]])
    for half, name in zip(both, ("as shipped, odd cases", "as shipped, even cases"), strict=True):
        yield _row(name, [rank(weigh(case.answers, Setting(case.crop)), case.cause) for case in half])
    for how in ("flipped", "missing"):
        yield _row(f"as shipped, one answer in five {how}", spoilt_ranks(shared, how))
    for asked in (8, 40):
        of = made("tomato-determinate", 2500, asked, seed=asked)
        yield ""
        holds = f"{expected_brier(of):.3f} if the chances hold"
        yield f"2500 made cases, {asked} signs: Brier score {brier(of):.3f}, {holds}"
        yield f"{'stated':>8} {'came':>8} {'count':>8}"
        for stated, came, count in reliability(of, EDGES):
            yield f"{stated:8.3f} {came:8.3f} {count:8d}"


def _row(name: str, ranks: list[int]) -> str:
    return f"{name:44}  {len(ranks):5d}  {hits(ranks, 1):5.2f}  {hits(ranks, 3):8.2f}"
