"""What this season's entries teach: Bayes on a grid, from planting up to cultivar and crop and down again.

The unknown is the logarithm of a multiplier on what a planting needs. Crop, cultivar and planting each add a normal
part; entries speak through the planting. No entry is no evidence; the order of entries does not matter.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from kailyard.season.draws import normal_chance, normal_point, strata

FloatArray = NDArray[np.float64]

GRID = np.linspace(-0.96, 0.96, 97)
"""Logarithms of the multiplier, in steps of 2 %."""

OUTLIER = 1e-5
"""Chance left for an entry that the model cannot explain, so that one slip of the pen does not rule."""

OBSERVED_SPREAD = 0.04
"""An observed stage is off by about this much of its requirement: walks are not made at every hour."""


@dataclass(frozen=True, slots=True, eq=False)
class Unknown:
    """One planting in the tree, with what its entries say about it."""

    id: str
    crop: str
    cultivar: str
    """'' where unnamed: such a planting shares nothing below the crop."""
    crop_spread: float
    cultivar_spread: float
    planting_spread: float
    likelihood: FloatArray | None
    """On `GRID`; None without evidence."""

    @property
    def group(self) -> tuple[str, str]:
        """The cultivar it shares its luck with."""
        return self.crop, self.cultivar or f"#{self.id}"


def interval_chance(low: FloatArray | None, high: FloatArray | None, amount: float, spread: float) -> FloatArray:
    """Chance on the grid that a stage lay after the reading `low` and by the reading `high` of its clock. (draws, grid)

    Parameters
    ----------
    low, high
        Degrees passed since the anchor at the last 'not yet' and the first 'seen', one a draw of the anchor (draws, 1)
        or one a draw and point of the grid (draws, grid); None where there is no such entry. [°C·d or days]
    amount
        Median requirement. [same]
    spread
        Standard deviation of its logarithm that is the stage's own.
    """
    total = math.hypot(spread, OBSERVED_SPREAD)

    def reached(reading: FloatArray | None, otherwise: float) -> FloatArray:
        if reading is None:
            return np.full((1, len(GRID)), otherwise)
        return normal_chance((np.log(np.maximum(reading, 1e-3) / amount) - GRID) / total)

    return np.maximum(reached(high, 1.0) - reached(low, 0.0), 0.0) + OUTLIER


@cache
def _kernel(spread: float) -> FloatArray:
    """Rows: from a value of the parent; columns: chance of each value of the child."""
    k = np.exp(-0.5 * ((GRID[None, :] - GRID[:, None]) / spread) ** 2)
    return np.asarray(k / k.sum(axis=1, keepdims=True))


def _pick(weights: FloatArray, shares: FloatArray) -> FloatArray:
    """Points of a distribution on the grid, one a draw: (draws, grid) or (grid,) weights at the given shares."""
    w = np.broadcast_to(weights, (len(shares), len(GRID)))
    run = np.cumsum(w, axis=1)
    run = run / run[:, -1:]
    k = np.minimum((run < shares[:, None]).sum(axis=1), len(GRID) - 1)
    rows = np.arange(len(shares))
    top = run[rows, k]
    below = np.where(k > 0, run[rows, np.maximum(k - 1, 0)], 0.0)
    part = np.where(top > below, (shares - below) / np.maximum(top - below, 1e-300), 0.5)
    return np.asarray(GRID[k] + (part - 0.5) * (GRID[1] - GRID[0]))


def learn(plantings: Sequence[Unknown], draws: int, seed: str) -> Mapping[str, FloatArray]:
    """Draws of each planting's log-multiplier given all entries. {id: (draws,)}

    The draws of crop and cultivar are shared by all plantings of it, so that likes move together.
    """
    out: dict[str, FloatArray] = {}
    ordered = sorted(plantings, key=lambda u: u.id)
    for crop in sorted({u.crop for u in ordered}):
        members = [u for u in ordered if u.crop == crop]
        groups = sorted({u.group for u in members})
        crop_spread = max(u.crop_spread for u in members)
        taught = any(u.likelihood is not None for u in members)
        crop_weights = np.exp(-0.5 * (GRID / crop_spread) ** 2)
        evidence: dict[tuple[str, str], FloatArray | None] = {}
        spreads: dict[tuple[str, str], float] = {}
        for group in groups:
            inside = [u for u in members if u.group == group]
            spreads[group] = max(u.cultivar_spread for u in inside)
            product: FloatArray | None = None
            for u in inside:
                if u.likelihood is not None:
                    message = _kernel(u.planting_spread) @ u.likelihood
                    product = message if product is None else product * message
            evidence[group] = None if product is None else product / product.max()
            if product is not None:
                crop_weights = crop_weights * (_kernel(spreads[group]) @ (product / product.max()))
        crop_shares = strata(draws, f"{seed}/crop/{crop}")
        k = _pick(crop_weights, crop_shares) if taught else crop_spread * normal_point(crop_shares)
        for group in groups:
            shares = strata(draws, f"{seed}/cultivar/{'/'.join(group)}")
            known = evidence[group]
            c = _step(k, spreads[group], known, shares)
            for u in members:
                if u.group == group:
                    out[u.id] = _step(c, u.planting_spread, u.likelihood, strata(draws, f"{seed}/planting/{u.id}"))
    return out


def _step(parent: FloatArray, spread: float, weight: FloatArray | None, shares: FloatArray) -> FloatArray:
    """Draws of a child given draws of its parent, weighed by what is known of the child."""
    if weight is None:
        return parent + spread * normal_point(shares)
    given = np.exp(-0.5 * ((GRID[None, :] - parent[:, None]) / spread) ** 2) * weight[None, :]
    return _pick(given, shares)
