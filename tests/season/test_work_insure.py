"""Insuring what was raised or bought before its loss is certain.

Common practice: a pot that shows nothing long after its time is sown again at once; while frost threatens tender
plants a few spares are kept; no second sowing where it cannot ripen. Days to emergence: Harrington and Minges 1954.
Gardens and weather are made up.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
from asking import asked, said, season
from gardens import HOT, SOUTHERN, entry, look_ahead, plot, seasons, tomatoes

from kailyard.garden.model import Entry, Planting
from kailyard.season.view import SeasonView
from kailyard.weather.record import read_only

SOWN = entry("sow", "tomato-1", date(2026, 4, 1), under_cover=True)
NAME = "insure/tomato-1"


def test_a_pot_that_shows_nothing_long_after_its_time_is_sown_again() -> None:
    # Printed: 8 days at 20 °C.
    assert NAME not in said(season(date(2026, 4, 12), tomatoes(), entries=(SOWN,)))
    view = season(date(2026, 4, 22), tomatoes(), entries=(SOWN,))
    assert NAME in asked(view)
    assert "under cover" in said(view)[NAME].where


def test_what_came_up_or_was_worked_on_is_not_doubted() -> None:
    today = date(2026, 4, 22)
    up = entry("stage", "tomato-1", date(2026, 4, 10), stage="emerged", state="seen")
    pricked = entry("work", "tomato-1", date(2026, 4, 20), what="pricked out")
    for told in (up, pricked):
        assert NAME not in said(season(today, tomatoes(), entries=(SOWN, told)))
    again = (SOWN, entry("sow", "tomato-2", date(2026, 4, 20), under_cover=True))
    assert NAME not in said(season(today, tomatoes(), tomatoes("tomato-2", bed="bed-5"), entries=again))


def test_sown_again_it_is_silent() -> None:
    again = entry("sow", "tomato-1", date(2026, 4, 21), under_cover=True)
    assert NAME not in said(season(date(2026, 4, 22), tomatoes(), entries=(SOWN, again)))


def test_nothing_is_sown_again_that_cannot_ripen() -> None:
    late = entry("sow", "tomato-1", date(2026, 7, 25), under_cover=True)
    assert NAME not in said(season(date(2026, 8, 20), tomatoes(), entries=(late,)))


ZUCCHINI = Planting("zuc-1", "zucchini", "bed-1", "raised", count=4)
OUT = (entry("sow", "zuc-1", date(2026, 5, 1), under_cover=True), entry("set-out", "zuc-1", date(2026, 5, 28)))


def test_raised_plants_badly_hurt_are_insured_where_they_may_be_sown_in_the_open() -> None:
    hail = entry("hurt", "zuc-1", date(2026, 6, 8), cause="hail", share=0.7, killed=0.3)
    today = date(2026, 6, 10)
    view = season(today, ZUCCHINI, entries=(*OUT, hail))
    assert "insure/zuc-1" in asked(view)
    light = entry("hurt", "zuc-1", date(2026, 6, 8), cause="hail", share=0.1)
    sound = entry("look", "zuc-1", date(2026, 6, 9), sound=True, found="new leaves")
    for told in ((light,), (hail, sound), ()):
        assert "insure/zuc-1" not in said(season(today, ZUCCHINI, entries=(*OUT, *told)))
    late = entry("hurt", "zuc-1", date(2026, 9, 8), cause="hail", share=0.7, killed=0.3)
    assert "insure/zuc-1" not in said(season(date(2026, 9, 10), ZUCCHINI, entries=(*OUT, late)))


def threatened(today: date, share: float, *entries: Entry) -> SeasonView:
    """The same season with a killing night in ten days, in that share of the possible seasons."""
    ensemble = seasons(today)
    tmin, at = np.array(ensemble.tmin_c), ensemble.today_index
    tmin[:, at : at + 30] = 8.0
    tmin[: round(share * ensemble.traces), at + 10] = -3.0
    changed = replace(ensemble, tmin_c=read_only(tmin), tmax_c=read_only(np.maximum(ensemble.tmax_c, tmin + 1)))
    return look_ahead(plot(tomatoes(), entries=entries), today, ensemble=changed)


def test_tender_plants_set_out_at_risk_have_spares() -> None:
    today = date(2026, 5, 18)
    out = (SOWN, entry("set-out", "tomato-1", today - timedelta(days=3)))
    assert NAME in said(threatened(today, 0.4, *out))
    assert NAME not in said(threatened(today, 0.0, *out))
    long_out = (SOWN, entry("set-out", "tomato-1", today - timedelta(days=40)))
    assert NAME not in said(threatened(today, 0.4, *long_out))


def test_south_of_the_equator_and_without_frost() -> None:
    sown = entry("sow", "tomato-1", date(2026, 9, 20), under_cover=True)
    today = date(2026, 10, 14)
    for place in ({"climate": SOUTHERN, "latitude": -40.0}, {"climate": HOT, "latitude": 12.0}):
        assert NAME in said(season(today, tomatoes(), entries=(sown,), **place))
