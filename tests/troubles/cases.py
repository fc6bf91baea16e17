"""The lookalike cases of the reference, and ways to spoil or to make answers."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

import numpy as np

from kailyard.troubles.leanings import Setting, weights
from kailyard.troubles.likelihood import MISSED, MISTAKEN, columns, ends, rows
from kailyard.troubles.weighing import Answer, Weighed, weigh

_CROPS = {
    "bean, tomato, pea": "bean-bush", "tomato": "tomato-determinate", "pepper": "pepper-sweet",
    "cucumber": "cucumber-slicing", "summer squash": "squash-yellow-straightneck", "pepper seedlings": "pepper-sweet",
}  # fmt: skip


@dataclass(frozen=True)
class Case:
    id: str
    crop: str
    seen: tuple[str, ...]
    absent: tuple[str, ...]
    cause: str

    @property
    def answers(self) -> dict[str, Answer]:
        return {**dict.fromkeys(self.seen, "yes"), **dict.fromkeys(self.absent, "no")}


def cases(shared: Path) -> tuple[Case, ...]:
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
    return sum(r <= within for r in tried) / len(tried)


def spoilt(answers: dict[str, Answer], rng: np.random.Generator, how: str) -> dict[str, Answer]:
    """One answer in five turned round ('flipped') or not given ('missing')."""
    n = max(1, round(len(answers) / 5))
    hit = set(rng.choice(sorted(answers), n, replace=False))
    if how == "missing":
        return {s: a for s, a in answers.items() if s not in hit}
    return {s: (("no" if a == "yes" else "yes") if s in hit else a) for s, a in answers.items()}


@dataclass(frozen=True)
class Made:
    """Cases drawn from the ranges themselves: what was true, and what the program made of the answers."""

    truth: np.ndarray
    """(n,) rows."""
    chances: np.ndarray
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


__all__ = ["Case", "Made", "brier", "cases", "expected_brier", "halves", "hits", "made", "rank",
           "reliability", "spoilt"]  # fmt: skip
