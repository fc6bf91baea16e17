"""What follows on an emptied bed: a crop that still ripens and is no kin of the last, else a cover crop, else rest.

Common practice: beans and other quick crops follow garlic and early potatoes until late July where frost comes in
October; the same family does not follow itself. Cover crops: oats and clover some weeks before frost, rye the latest of
all, none in winter (University of Maryland Extension, Cover crops for gardens, 2023: mid-August to 10 October, so that
they grow before the first hard frost). Gardens and weather are made up.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from asking import asked, said, season
from gardens import HOT, SOUTHERN, beans, entry, peas

from kailyard.garden.model import Entry, Planting
from kailyard.season.fitting import fitting
from kailyard.season.windows import Rest, Window

GARLIC = Planting("garlic-1", "garlic", "bed-4", "planted", count=40)
PUT = entry("plant", "garlic-1", date(2025, 10, 10))


def cleared(day: date, of: str = "garlic-1") -> Entry:
    return entry("clear", of, day)


ELSEWHERE = (beans(), entry("sow", "bean-1", date(2026, 5, 25)))
"""Beans are grown in this garden, in another bed."""


def test_beans_follow_garlic_in_july_and_not_in_september() -> None:
    told = (PUT, cleared(date(2026, 7, 10)), ELSEWHERE[1])
    view = season(date(2026, 7, 12), GARLIC, ELSEWHERE[0], entries=told)
    assert "follow/bed-4" in asked(view)
    answer = said(view)["follow/bed-4"]
    assert "snap beans" in answer.says
    assert "garlic" in answer.detail
    late = season(date(2026, 9, 12), GARLIC, ELSEWHERE[0], entries=(PUT, cleared(date(2026, 9, 10)), ELSEWHERE[1]))
    assert "follow/bed-4" not in said(late)


def test_kin_of_what_grew_there_is_not_called() -> None:
    # Peas and beans are of one family.
    sown = (entry("sow", "pea-1", date(2026, 4, 5)), cleared(date(2026, 7, 10), "pea-1"), ELSEWHERE[1])
    carrots = Planting("carrot-1", "carrot", "bed-6", "sown", count=100)
    told = (*sown, entry("sow", "carrot-1", date(2026, 5, 1)))
    answer = said(season(date(2026, 7, 12), peas(), ELSEWHERE[0], carrots, entries=told))["follow/bed-3"]
    assert "carrots" in answer.says
    assert "beans" not in answer.says


def test_what_stands_or_is_planned_there_keeps_its_place() -> None:
    told = (PUT, cleared(date(2026, 7, 10)), ELSEWHERE[1])
    today = date(2026, 7, 12)
    planned = Planting("cab-1", "cabbage", "bed-4", "bought", planned=date(2026, 8, 1))
    assert "follow/bed-4" not in said(season(today, GARLIC, ELSEWHERE[0], planned, entries=told))
    beside = replace(planned, place_m=3.0, length_m=3.0)
    half = replace(GARLIC, place_m=0.0, length_m=3.0)
    answer = said(season(today, half, ELSEWHERE[0], beside, entries=told))["follow/bed-4"]
    assert "3 m" in answer.detail
    standing = season(today, GARLIC, ELSEWHERE[0], entries=(PUT, ELSEWHERE[1]))
    assert "follow/bed-4" not in said(standing)


def test_a_crop_that_would_not_be_out_of_the_way_in_time_is_not_called() -> None:
    told = (PUT, cleared(date(2026, 6, 20)), ELSEWHERE[1])
    # 65 days on: longer than a gap, shorter than beans take with their picking.
    planned = Planting("onion-1", "onion-long-day", "bed-4", "bought", planned=date(2026, 8, 25))
    days = season(date(2026, 6, 22), GARLIC, ELSEWHERE[0], planned, entries=told)
    assert days.number(beans(), "days_to_first_harvest_min", 0.0) <= 64
    answer = said(days)["follow/bed-4"]
    assert "planned there from 25 August" in answer.detail


# Cover crops

AUTUMN = (PUT, cleared(date(2026, 8, 25)))


def test_in_late_summer_a_cover_crop_is_called_and_in_winter_none() -> None:
    view = season(date(2026, 9, 1), GARLIC, entries=AUTUMN)
    assert "cover-crop/bed-4" in asked(view)
    answer = said(view)["cover-crop/bed-4"]
    assert isinstance(answer, Window)
    assert "g of seed" in answer.detail
    for today in (date(2026, 12, 20), date(2027, 3, 10)):
        assert "cover-crop/bed-4" not in said(season(today, GARLIC, entries=(PUT, cleared(date(2026, 12, 1)))))


def test_rye_is_the_last_that_may_be_sown() -> None:
    view = season(date(2026, 10, 5), GARLIC, entries=(PUT, cleared(date(2026, 10, 1))))
    assert "rye" in said(view)["cover-crop/bed-4"].says


def test_a_cover_crop_sown_is_done() -> None:
    today = date(2026, 9, 1)
    view = season(today, GARLIC, entries=AUTUMN)
    (made,) = fitting("cover-crop/bed-4", (), "done", view.garden)
    assert made.target == "bed-4"
    done = entry(made.kind, made.target, today, **made.payload)
    assert not {"cover-crop/bed-4", "follow/bed-4"} & set(said(season(today, GARLIC, entries=(*AUTUMN, done))))


def test_south_of_the_equator_and_without_frost() -> None:
    sown = entry("sow", "bean-1", date(2026, 11, 1))
    told = (entry("plant", "garlic-1", date(2026, 4, 10)), cleared(date(2027, 1, 8)), sown)
    today = date(2027, 1, 10)
    south = season(today, GARLIC, beans(), entries=told, climate=SOUTHERN, latitude=-40.0)
    assert "snap beans" in said(south)["follow/bed-4"].says
    autumn = (told[0], cleared(date(2027, 2, 25)))
    view = season(date(2027, 3, 1), GARLIC, entries=autumn, climate=SOUTHERN, latitude=-40.0)
    assert "cover-crop/bed-4" in said(view)
    assert "cover-crop/bed-4" not in said(season(today, GARLIC, entries=told[:2], climate=HOT, latitude=12.0))


# Rest

LATELY = entry("plant", "garlic-1", date(2026, 10, 10))


def test_in_the_cold_beds_at_rest_are_said_to_be_right() -> None:
    answer = said(season(date(2027, 1, 10), GARLIC, entries=(LATELY,)))["rest/garden"]
    assert isinstance(answer, Rest)
    assert "Bed 4" in answer.says
    assert "that is right" in answer.detail
    assert "rest/garden" not in said(season(date(2026, 6, 1), GARLIC, entries=(PUT,)))


@pytest.mark.parametrize(
    ("climate", "latitude", "today", "rests"),
    [
        (SOUTHERN, -40.0, date(2026, 7, 20), True),
        (SOUTHERN, -40.0, date(2027, 1, 10), False),
        (HOT, 12.0, date(2027, 1, 10), False),
    ],
)
def test_rest_goes_by_the_cold_and_not_by_the_month(climate: object, latitude: float, today: date, rests: bool) -> None:
    put = entry("plant", "garlic-1", date(2026, 4, 10))
    view = season(today, GARLIC, entries=(put,), climate=climate, latitude=latitude)
    assert ("rest/garden" in said(view)) is rests


def test_a_bed_that_is_soon_begun_is_not_at_rest() -> None:
    broad = peas(planned=date(2027, 3, 5))
    view = season(date(2027, 2, 20), GARLIC, broad, entries=(LATELY,))
    assert said(view)["rest/garden"].says == "Bed 4"
