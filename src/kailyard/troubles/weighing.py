"""From answers to chances: Bayes on the words of the table, at the middle of their ranges and all through them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from kailyard.troubles.leanings import Setting, weights
from kailyard.troubles.likelihood import OTHER, columns, middle, rows, walked

FloatArray = NDArray[np.float64]
Answer = Literal["yes", "no", "can't tell"]

RANGE = (0.1, 0.9)
"""Of the ranges walked through, the part that a chance's own range covers."""

LOOKED_AT = 6
"""Causes among which pairs are tried."""

SECOND = 2.0
"""Two causes at once are this many times likelier than if one knew nothing of the other: hurt plants draw trouble."""

CLEARLY = 10.0
"""Two at once is said when it explains so many times more than one cause does."""

SURELY = 0.8
"""And does more in so much of the ranges."""


@dataclass(frozen=True, slots=True, eq=False)
class Weighed:
    """Chances of every row (causes, then 'other'). They sum to 1."""

    middle: FloatArray
    """At the middle of all ranges; (rows,)."""
    walk: FloatArray
    """Over the design; (DESIGN, rows)."""
    before: FloatArray
    """At the middle before any sign; (rows,)."""
    told: tuple[str, ...]
    """Signs answered with yes or no, in the table's order."""

    @property
    def low(self) -> FloatArray:
        """Low end of each chance; never above the middle. (rows,)"""
        return np.minimum(np.quantile(self.walk, RANGE[0], axis=0), self.middle)

    @property
    def high(self) -> FloatArray:
        """High end of each chance; never below the middle. (rows,)"""
        return np.maximum(np.quantile(self.walk, RANGE[1], axis=0), self.middle)

    @property
    def order(self) -> tuple[str, ...]:
        """Rows, likeliest first; equals by name."""
        return tuple(sorted(rows(), key=lambda id_: (-self.middle[rows().index(id_)], id_)))

    def of(self, cause: str) -> tuple[float, float, float]:
        """Low, middle and high chance of one row."""
        at = rows().index(cause)
        return float(self.low[at]), float(self.middle[at]), float(self.high[at])


@dataclass(frozen=True, slots=True)
class Pair:
    """Two causes that together explain clearly more than any one."""

    first: str
    second: str
    times: float
    """So many times more."""


def told(answers: Mapping[str, Answer]) -> tuple[str, ...]:
    """Signs answered with yes or no, in the table's order. 'Can't tell' says nothing."""
    return tuple(sorted((s for s, a in answers.items() if a != "can't tell"), key=columns().__getitem__))


def weigh(answers: Mapping[str, Answer], setting: Setting) -> Weighed:
    """Chances of all causes, from the answers by sign and what was known before them."""
    signs = told(answers)
    best, walk = weights(setting, signs)
    return Weighed(
        middle=_shares(best * np.prod(_likely(answers, signs), axis=1)),
        walk=_shares(walk * np.prod([_walked(answers[s], s) for s in signs], axis=0) if signs else walk),
        before=best,
        told=signs,
    )


def _likely(answers: Mapping[str, Answer], signs: tuple[str, ...]) -> FloatArray:
    """Chance of each answer under each row, at the middle; (rows, signs)."""
    yes = middle()[:, [columns()[s] for s in signs]]
    said = np.array([answers[s] == "yes" for s in signs], dtype=bool)
    return np.where(said, yes, 1.0 - yes)


def _walked(answer: Answer, sign: str) -> FloatArray:
    return walked(sign) if answer == "yes" else 1.0 - walked(sign)


def _shares(weight: FloatArray) -> FloatArray:
    return np.asarray(weight / weight.sum(axis=-1, keepdims=True))


def ratios(answers: Mapping[str, Answer], weighed: Weighed, cause: str) -> dict[str, float]:
    """By sign: how many times likelier its answer is under `cause` than under its rivals, as the others weigh them."""
    at = rows().index(cause)
    likely = _likely(answers, weighed.told)
    found = {}
    for n, sign in enumerate(weighed.told):
        rivals = weighed.middle / likely[:, n]
        rivals[at] = 0.0
        found[sign] = float(likely[at, n] * rivals.sum() / (rivals @ likely[:, n]))
    return found


def information(weighed: Weighed, apart: int | None = None) -> FloatArray:
    """What an answer to each sign is expected to tell, in bits (Shannon 1948); (signs,).

    Parameters
    ----------
    apart
        Told apart are so many of the likeliest, and all others as one; None: every cause from every other.
    """
    p, yes = weighed.middle, middle()
    if apart is not None and apart < p.size - 1:
        order = np.argsort(-p, kind="stable")
        top, rest = order[:apart], order[apart:]
        share = p[rest].sum()
        yes = np.vstack([yes[top], (p[rest] / share) @ yes[rest]])
        p = np.append(p[top], share)
    joint = np.stack([p[:, None] * yes, p[:, None] * (1.0 - yes)])
    given = joint / joint.sum(axis=1, keepdims=True)
    left = -(joint * np.log2(np.maximum(given, 1e-300))).sum(axis=(0, 1))
    now = -(p * np.log2(np.maximum(p, 1e-300))).sum()
    return np.asarray(now - left)


def if_answered(weighed: Weighed, sign: str, answer: Literal["yes", "no"]) -> FloatArray:
    """Chances of every row after one more answer, at the middle; (rows,)."""
    yes = middle()[:, columns()[sign]]
    return _shares(weighed.middle * (yes if answer == "yes" else 1.0 - yes))


def two_at_once(answers: Mapping[str, Answer], setting: Setting, weighed: Weighed) -> Pair | None:
    """The pair among the likeliest that explains clearly more than the best single cause; None where none does.

    A sign shows if either cause shows it.
    """
    signs = weighed.told
    if not signs:
        return None
    best, walk = weights(setting, signs)
    yes = middle()[:, [columns()[s] for s in signs]]
    all_yes = np.stack([walked(s) for s in signs], axis=2)
    said = np.array([answers[s] == "yes" for s in signs], dtype=bool)
    one = best * np.prod(np.where(said, yes, 1.0 - yes), axis=1)
    one_walk = walk * np.prod(np.where(said, all_yes, 1.0 - all_yes), axis=2)
    top = [rows().index(id_) for id_ in _candidates(answers, weighed)]
    found: list[tuple[float, int, int]] = []
    for n, a in enumerate(top):
        for b in top[n + 1 :]:
            both = 1.0 - (1.0 - yes[a]) * (1.0 - yes[b])
            worth = SECOND * best[a] * best[b] * np.prod(np.where(said, both, 1.0 - both)) / one.max()
            found.append((float(worth), a, b))
    times, a, b = max(found, default=(0.0, 0, 0))
    if times < CLEARLY:
        return None
    both_walk = 1.0 - (1.0 - all_yes[:, a]) * (1.0 - all_yes[:, b])
    worth_walk = SECOND * walk[:, a] * walk[:, b] * np.prod(np.where(said, both_walk, 1.0 - both_walk), axis=1)
    if np.mean(worth_walk > one_walk.max(axis=1)) < SURELY:
        return None
    first, second = sorted((a, b), key=lambda at: -weighed.middle[at])
    return Pair(rows()[first], rows()[second], times)


def _candidates(answers: Mapping[str, Answer], weighed: Weighed) -> tuple[str, ...]:
    """The likeliest causes, and the likeliest for each sign seen that the first of them hardly ever shows."""
    known = [id_ for id_ in weighed.order if id_ != OTHER]
    top = known[:LOOKED_AT]
    for sign in weighed.told:
        if answers[sign] == "yes":
            shows = weighed.before * middle()[:, columns()[sign]]
            top.append(max(known, key=lambda id_: shows[rows().index(id_)]))
    return tuple(dict.fromkeys(top))


def hangs_on(answers: Mapping[str, Answer], setting: Setting, weighed: Weighed) -> tuple[str, ...]:
    """Signs each of which, left out, puts another cause first."""
    first = weighed.order[0]
    return tuple(
        s for s in weighed.told if weigh({k: a for k, a in answers.items() if k != s}, setting).order[0] != first
    )


def holds(weighed: Weighed) -> float:
    """Share of the ranges in which the cause that stands first does so. [0 to 1]"""
    return float(np.mean(weighed.walk.argmax(axis=1) == rows().index(weighed.order[0])))
