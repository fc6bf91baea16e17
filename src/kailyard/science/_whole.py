"""Shared inside this folder: whole numbers of things from quotients."""

from __future__ import annotations

import numpy as np

from kailyard.science.checks import FloatArray

_ROUNDING = 1e-9
"""What a quotient may lie off a whole number by the computer's own rounding."""


def down(x: FloatArray) -> FloatArray:
    """What fits whole."""
    return np.asarray(np.floor(x + _ROUNDING))


def up(x: FloatArray) -> FloatArray:
    """What is needed whole."""
    return np.asarray(np.ceil(x - _ROUNDING))
