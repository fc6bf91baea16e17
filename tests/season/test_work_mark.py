"""Marking perennials that come late, and holding the hoe until they are up.

Common practice: asparagus, butterfly weed and other milkweeds show late in spring and are hoed out in bare beds; they
are marked in autumn while the old stems show where they stand. Months are the handbook's, six on in the southern half.
Gardens and weather are made up.
"""

from __future__ import annotations

from datetime import date

import pytest
from asking import asked, said, season
from gardens import HOT, SOUTHERN, asparagus, beans, entry

from kailyard.garden.model import Planting
from kailyard.season.fitting import fitting
from kailyard.season.windows import Hold, Window

AUTUMN, SPRING, SUMMER = date(2026, 11, 10), date(2027, 4, 10), date(2026, 7, 10)


def test_late_perennials_are_marked_in_autumn_and_not_in_summer() -> None:
    assert "mark/bed-9" in asked(season(AUTUMN, asparagus()))
    answer = said(season(AUTUMN, asparagus()))["mark/bed-9"]
    assert "asparagus" in answer.says
    assert "eye" in answer.detail
    assert "mark/bed-9" not in said(season(SUMMER, asparagus()))


def test_in_spring_the_hoe_is_held_until_they_are_up() -> None:
    hold = said(season(SPRING, asparagus()))["no-hoe/bed-9"]
    assert isinstance(hold, Hold)
    assert (hold.first, hold.last) == (date(2027, 3, 1), date(2027, 5, 31))
    for today in (AUTUMN, SUMMER, date(2027, 6, 2)):
        assert "no-hoe/bed-9" not in said(season(today, asparagus()))


@pytest.mark.parametrize(
    "told",
    [
        entry("stage", "asparagus-1", date(2027, 4, 5), stage="emerged", state="seen"),
        entry("pick", "asparagus-1", date(2027, 4, 8), quantity=0.4, unit="kg"),
    ],
)
def test_once_up_nothing_is_held_or_marked(told: object) -> None:
    assert not {"no-hoe/bed-9", "mark/bed-9"} & set(said(season(SPRING, asparagus(), entries=(told,))))


def test_looked_for_and_not_yet_seen_it_is_still_held() -> None:
    told = entry("stage", "asparagus-1", date(2027, 4, 5), stage="emerged", state="not yet")
    assert "no-hoe/bed-9" in said(season(SPRING, asparagus(), entries=(told,)))


def test_done_silences_the_marking_and_not_the_hold() -> None:
    view = season(AUTUMN, asparagus())
    made = fitting("mark/bed-9", said(view)["mark/bed-9"].of, "done", view.garden)
    done = tuple(entry(m.kind, m.target, AUTUMN, **m.payload) for m in made)
    assert "mark/bed-9" not in said(season(AUTUMN, asparagus(), entries=done))
    spring = said(season(SPRING, asparagus(), entries=done))
    assert "mark/bed-9" not in spring
    assert "no-hoe/bed-9" in spring


def test_unmarked_in_spring_it_is_late_and_still_worth_doing() -> None:
    answer = said(season(date(2027, 3, 10), asparagus()))["mark/bed-9"]
    assert isinstance(answer, Window)
    assert answer.late


def test_milkweeds_of_one_bed_are_one_line() -> None:
    weeds = [
        Planting(f"weed-{n}", crop, "bed-7", "bought", count=3, since=date(2024, 5, 20))
        for n, crop in enumerate(("common-milkweed", "butterfly-weed"))
    ]
    answer = said(season(AUTUMN, *weeds))["mark/bed-7"]
    assert set(answer.of) == {"weed-0", "weed-1"}
    assert "butterfly weed" in answer.says
    # Butterfly weed is the latest of them: handbook, until June.
    assert "no-hoe/bed-7" in said(season(date(2027, 6, 10), *weeds))


def test_annuals_need_no_marks() -> None:
    view = season(date(2026, 6, 5), beans(), entries=(entry("sow", "bean-1", date(2026, 6, 1)),))
    assert not any(name.startswith(("mark/", "no-hoe/")) for name in said(view))


def test_south_of_the_equator_months_are_six_on_and_frost_is_not_asked() -> None:
    south = {"climate": SOUTHERN, "latitude": -40.0}
    assert "no-hoe/bed-9" in said(season(date(2026, 10, 10), asparagus(), **south))
    assert "no-hoe/bed-9" not in said(season(date(2027, 4, 10), asparagus(), **south))
    assert "mark/bed-9" in said(season(date(2026, 6, 10), asparagus(), **south))
    assert "no-hoe/bed-9" in said(season(SPRING, asparagus(), climate=HOT, latitude=12.0))
