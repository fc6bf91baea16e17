"""What a count of some plants says of them all: exact intervals, and whether a threshold is passed.

Plants that were all looked at leave no error of sampling. Fewer leave one, and the interval says how much: below,
above, or undecided, and how many more plants would decide it if they turned out like those that were looked at.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from typing import Literal

LEVEL = 0.9
"""Chance with which an interval holds the truth, at least: one in twenty lies beyond either end."""
CLUMPED = 2.0
"""Pests sit in clumps: their counts vary so many times as much as counts scattered at random."""
MOST_MORE = 1000
"""More plants than these nobody looks at: then no number is told."""

Verdict = Literal["below", "above", "undecided"]


@dataclass(frozen=True, slots=True)
class Interval:
    """What was seen, and between which ends the whole lies."""

    seen: float
    low: float
    high: float
    whole: bool
    """Every plant was looked at: no error of sampling."""


@dataclass(frozen=True, slots=True)
class Judged:
    """A count beside a threshold."""

    interval: Interval
    threshold: float
    verdict: Verdict
    more: int | None
    """Plants more to look at until it would be decided; 0 where it is, None where none or too many would."""


def share_interval(found_on: int, looked_at: int, of: int | None = None, *, level: float = LEVEL) -> Interval:
    """The share of all plants that bear it, from those that were looked at.

    Parameters
    ----------
    found_on, looked_at
        Plants that bear it among those that were looked at.
    of
        How many stand there: the exact interval of drawing without putting back (hypergeometric); None: unknown, and
        taken as very many (Clopper and Pearson).

    Returns
    -------
    Interval
        Shares, 0 to 1.

    Raises
    ------
    ValueError
        If more bear it than were looked at, more were looked at than stand there, or none was.
    """
    if not 0 <= found_on <= looked_at or looked_at < 1 or (of is not None and of < looked_at):
        raise ValueError(f"{found_on} of {looked_at} looked at, of {of}: no count is like that")
    seen = found_on / looked_at
    tail = (1 - level) / 2
    if of is None:
        return Interval(
            seen, _lower(found_on, looked_at, tail), 1 - _lower(looked_at - found_on, looked_at, tail), False
        )
    least = _least_bearing(found_on, looked_at, of, tail)
    most = of - _least_bearing(looked_at - found_on, looked_at, of, tail)
    return Interval(seen, least / of, most / of, looked_at == of)


def mean_interval(total: float, looked_at: int, of: int | None = None, *, level: float = LEVEL) -> Interval:
    """How many there are on a plant in the mean of all, from those counted on some.

    The exact interval of a Poisson count (Garwood 1936), widened for clumps, its width shrunk by the share of plants
    not looked at, so that nothing is left of it where all were.

    Raises
    ------
    ValueError
        If the total is negative, or the plants are as `share_interval` refuses them.
    """
    if total < 0 or looked_at < 1 or (of is not None and of < looked_at):
        raise ValueError(f"{total} on {looked_at} looked at, of {of}: no count is like that")
    seen = total / looked_at
    if of is not None and of == looked_at:
        return Interval(seen, seen, seen, True)
    unseen = 1.0 if of is None else math.sqrt((of - looked_at) / max(of - 1, 1))
    clumps, tail = total / CLUMPED, (1 - level) / 2
    low = CLUMPED * _poisson_mean(clumps, tail, upper=False) / looked_at
    high = CLUMPED * _poisson_mean(clumps, tail, upper=True) / looked_at
    return Interval(seen, seen - unseen * (seen - low), seen + unseen * (high - seen), False)


def judge_share(found_on: int, looked_at: int, threshold: float, of: int | None = None) -> Judged:
    """A share of plants beside a threshold from which on it is worth acting (a share too)."""
    interval = share_interval(found_on, looked_at, of)
    seen = found_on / looked_at

    def decided(n: int) -> bool:
        return _verdict(share_interval(round(seen * n), n, of), threshold) != "undecided"

    return _judged(interval, threshold, looked_at, of, decided)


def judge_mean(total: float, looked_at: int, threshold: float, of: int | None = None) -> Judged:
    """A number on each plant beside a threshold from which on it is worth acting."""
    interval = mean_interval(total, looked_at, of)
    seen = total / looked_at

    def decided(n: int) -> bool:
        return _verdict(mean_interval(seen * n, n, of), threshold) != "undecided"

    return _judged(interval, threshold, looked_at, of, decided)


def _verdict(interval: Interval, threshold: float) -> Verdict:
    """At the threshold it is worth acting: 'above' has it among its values."""
    if interval.low >= threshold:
        return "above"
    return "below" if interval.high < threshold else "undecided"


def _judged(
    interval: Interval, threshold: float, looked_at: int, of: int | None, decided: Callable[[int], bool]
) -> Judged:
    verdict = _verdict(interval, threshold)
    if verdict != "undecided":
        return Judged(interval, threshold, verdict, 0)
    most = looked_at + MOST_MORE if of is None else min(of, looked_at + MOST_MORE)
    more = next((n - looked_at for n in range(looked_at + 1, most + 1) if decided(n)), None)
    return Judged(interval, threshold, verdict, more)


def trend(before: Interval, after: Interval) -> Literal["fewer", "more", "no telling"]:
    """Whether there are more or fewer than before: told only where the two intervals lie apart."""
    if after.high < before.low:
        return "fewer"
    return "more" if after.low > before.high else "no telling"


@cache
def _log_choose(n: int, k: int) -> float:
    return math.lgamma(n + 1) - math.lgamma(k + 1) - math.lgamma(n - k + 1)


def _at_least_of(k: int, n: int, bearing: int, of: int) -> float:
    """Chance of `k` or more bearing among `n` drawn of `of`, of which `bearing` bear it."""
    total = _log_choose(of, n)
    chance = 0.0
    for i in range(max(k, n - (of - bearing), 0), min(n, bearing) + 1):
        chance += math.exp(_log_choose(bearing, i) + _log_choose(of - bearing, n - i) - total)
    return chance


def _least_bearing(k: int, n: int, of: int, tail: float) -> int:
    """Fewest bearing plants with which `k` or more among `n` is not too strange."""
    low, high = k, of - (n - k)
    while low < high:
        middle = (low + high) // 2
        if _at_least_of(k, n, middle, of) > tail:
            high = middle
        else:
            low = middle + 1
    return low


def _lower(k: int, n: int, tail: float) -> float:
    """Clopper and Pearson's lower end: the share with which `k` or more of `n` comes with the chance `tail`."""
    if k == 0:
        return 0.0
    low, high = 0.0, k / n
    for _ in range(60):
        middle = (low + high) / 2
        if _binomial_at_least(k, n, middle) > tail:
            high = middle
        else:
            low = middle
    return low


def _binomial_at_least(k: int, n: int, p: float) -> float:
    if p <= 0:
        return 0.0
    if p >= 1:
        return 1.0
    up, down = math.log(p), math.log1p(-p)
    return sum(math.exp(_log_choose(n, i) + i * up + (n - i) * down) for i in range(k, n + 1))


def _poisson_mean(count: float, tail: float, *, upper: bool) -> float:
    """Garwood's end: the mean at which `count` or fewer (or more) comes with the chance `tail`."""
    if not upper and count == 0:
        return 0.0
    low, high = 0.0, 10 + 3 * count + 10 * math.sqrt(count)
    for _ in range(80):
        middle = (low + high) / 2
        # Chance of at most `count` at this mean, of at most `count` - 1 for the lower end.
        at_most = _gamma_upper(count + 1 if upper else count, middle)
        too_small = at_most > tail if upper else 1 - at_most < tail
        if too_small:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _gamma_upper(shape: float, x: float) -> float:
    """Share of the gamma distribution of `shape` beyond `x`: for whole shapes the chance of fewer than `shape`."""
    if x <= 0:
        return 1.0
    head = math.exp(shape * math.log(x) - x - math.lgamma(shape))
    if x < shape + 1:
        term = total = 1 / shape
        n = shape
        while term > total * 1e-14:
            n += 1
            term *= x / n
            total += term
        return max(0.0, 1 - head * total)
    b, c = x + 1 - shape, 1e300
    d = h = 1 / b
    for i in range(1, 500):
        a = -i * (i - shape)
        b += 2
        d = 1 / (a * d + b if abs(a * d + b) > 1e-300 else 1e-300)
        c = b + a / c
        h *= d * c
        if abs(d * c - 1) < 1e-14:
            break
    return head * h
