"""Real sowings and harvests in measured weather: the handbook alone does better than the days printed in it."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from tools.validation._scores import summed
from tools.validation.sowing_to_harvest import Compared, compared, scored


@pytest.fixture(scope="module")
def found(shared: Path) -> list[Compared]:
    return compared(shared)


def test_harvests_are_foreseen_nearer_than_by_printed_days(found: list[Compared]) -> None:
    harvests = [c for c in scored(found) if c.stage == "harvest" and c.printed_error_days is not None]
    assert len(harvests) >= 45
    engine = summed([c.engine for c in harvests])
    printed = np.abs([c.printed_error_days for c in harvests])
    assert engine.mae_days < 0.75 * printed.mean()
    assert abs(engine.mean_error_days) < 3
    # 25 settings, many of them several rows: the band of 80 % may hold between 70 and 95.
    assert 0.7 <= engine.covered <= 0.95


def test_what_a_grower_dug_late_is_foreseen_ripe_by_then(found: list[Compared]) -> None:
    limits = [c for c in found if c.stage == "harvest" and c.case.upper]
    assert len(limits) >= 25
    assert np.mean([c.engine.place for c in limits]) > 0.9


def test_only_the_frosted_beans_of_one_trial_are_left_out(found: list[Compared]) -> None:
    # Beans up in Gainesville before a night of -1.6 °C; handbook: beans are killed at -0.6 °C. The trial went on.
    assert {c.case.id for c in found if c.killed >= 0.5} == {"UFGA0701-Bronco-2007-03-15"}
