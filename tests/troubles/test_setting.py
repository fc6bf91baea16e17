"""What the record knows before anybody looks: warmth lately, and what this year's warmth has not brought out yet."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest
from gardens import MIDLAND, SOUTHERN, entry, look_ahead, plot

from kailyard.garden.model import Planting
from kailyard.handbook.insects import events_of
from kailyard.season.view import SeasonView
from kailyard.troubles.life_steps import step_days
from kailyard.troubles.setting import WEATHER_DAYS, not_yet, setting, warmth_lately
from kailyard.troubles.weighing import weigh

ZUCCHINI = Planting(id="zucchini-1", crop="zucchini", bed="bed-5", start="sown", count=5)


def seen(today: date, latitude: float = 45.0) -> SeasonView:
    sown = entry("sow", "zucchini-1", date(2026, 4, 20))
    entries = (sown,) if sown.happened <= today else ()
    climate = MIDLAND if latitude > 0 else SOUTHERN
    return look_ahead(plot(ZUCCHINI, entries=entries, latitude=latitude), today, climate=climate)


def test_a_borer_whose_moths_have_not_flown_is_hardly_the_cause_of_a_wilt_in_may() -> None:
    """Squash vine borer: first moths at 555.6 °C·d above 10 °C (South Dakota State University Extension, 2021)."""
    early, late = seen(date(2026, 5, 5)), seen(date(2026, 8, 10))
    first = [step_days(early, e, {}) for e in events_of("squash_vine_borer")]
    assert all(days is None or (days[:, 0] > date(2026, 5, 5).toordinal()).all() for days in first)
    assert "squash_vine_borer" in not_yet(early, "zucchini")
    assert "squash_vine_borer" not in not_yet(late, "zucchini")
    wilts: dict[str, str] = {"wilt_sudden_stays": "yes"}
    may, august = (
        weigh(wilts, setting(view.garden, ZUCCHINI, view.today, view))  # type: ignore[arg-type]
        for view in (early, late)
    )
    assert august.of("squash_vine_borer")[1] > 2 * may.of("squash_vine_borer")[1] > 0


def test_only_what_is_dated_by_warmth_is_told_and_of_hosts_of_this_crop() -> None:
    early = seen(date(2026, 5, 5))
    told = not_yet(early, "zucchini")
    assert "aphids" not in told, "no sum dates all aphids"
    assert "hornworms" not in told, "no pest of squash"
    assert "cutworms" not in not_yet(seen(date(2026, 2, 1)), "cabbage"), (
        "corrections.md: no sum from January dates cutting"
    )
    assert not_yet(early, "weigela") == frozenset()


def test_where_winter_lies_at_midyear_no_sum_from_january_is_told() -> None:
    assert not_yet(seen(date(2026, 5, 5), -45.0), "zucchini") == frozenset()


def test_warmth_lately_is_the_mean_of_the_observed_days_just_past() -> None:
    view = seen(date(2026, 6, 20))
    last = view.ensemble.today_index
    days = slice(last - WEATHER_DAYS, last)
    by_hand = np.mean((view.ensemble.tmin_c[0, days] + view.ensemble.tmax_c[0, days]) / 2)
    assert warmth_lately(view) == pytest.approx(float(by_hand))
    assert setting(view.garden, ZUCCHINI, view.today, view).mean_c == warmth_lately(view)
    assert setting(view.garden, ZUCCHINI, view.today).mean_c is None, "without a season nothing is made up"
