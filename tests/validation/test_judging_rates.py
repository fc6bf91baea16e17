"""False alarms on clean records, and planted faults found: the figures of the table in bounds."""

from __future__ import annotations

from pathlib import Path

import pytest

from tools.validation.judging import alarms, found_share

pytestmark = pytest.mark.shared

FALSE_IN_100_YEARS = 1.0
"""Alarms of each rule that are not proved right, sure and doubtful together."""
LEAST_FOUND = {
    "one temperature 20 °C off for a day": 0.75,
    "0 and 0 °C written for a missing day": 0.5,
    "a wet day's rain tenfold": 0.2,
    "a year of a place 6 °C warmer": 0.75,
    "gauge all but blocked for 90 days": 0.6,
}
"""Share found by any rule; 0.85 of the others."""


def test_no_clean_value_is_set_aside_and_few_are_asked_about(shared: Path) -> None:
    said = alarms(shared / "data")
    for name, a in said.items():
        years = a.days / (8766 if "hour" in name else 365.25)
        assert 100 * (a.set_aside + a.asked - a.real) / years <= FALSE_IN_100_YEARS, name
    # Every value set aside is a proved fault: noughts for missing readings in USCRN 2020, one hour of New York 2013.
    assert sum(a.set_aside for a in said.values()) <= sum(a.real for a in said.values())
    assert said["spike of an hour"].set_aside == said["spike of an hour"].real >= 1
    assert said["nought for missing"].real == 6


def test_planted_faults_are_found(shared: Path) -> None:
    for words, (_, n, _, _, by_any) in found_share(shared / "data", planted=2).items():
        assert n >= 10, words
        assert by_any >= LEAST_FOUND.get(words, 0.85), words
