"""Every crop of the handbook can stand in a garden: the sheet never fails, and says by which rung it foresees."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta

import pytest
from gardens import BLEAK, HOT, MIDLAND, MILD, SOUTHERN, Climate, entry, handbook, look_ahead, plot

from kailyard.documents._parts import Reason
from kailyard.garden.model import Cultivar, Planting
from kailyard.season.clock import ResponseKey
from kailyard.season.ladder import CROP_SPREAD, LEAST_SPREAD, timeline
from kailyard.season.relatives import stand_in
from kailyard.season.sheet import compose
from kailyard.season.view import SeasonView

CROPS = handbook().crops
STARTS = ("sown", "raised", "bought", "planted")
PLACES = (MIDLAND, MILD, BLEAK, HOT, SOUTHERN)


def standing(crop: str) -> str:
    """How the crop is usually started."""
    usual = handbook().text(crop, "usual_start")
    if usual.startswith("direct sow"):
        return "sown"
    return "raised" if usual.startswith("transplant") else "planted"


def view(crop: str, start: str, today: date, place: Climate = MIDLAND, *, done: date | None = None) -> SeasonView:
    planting = Planting(id="p-1", crop=crop, bed="bed-1", start=start)
    kind = {"sown": "sow", "raised": "set-out", "bought": "set-out", "planted": "plant"}[start]
    entries = [entry(kind, "p-1", done)] if done else []
    if done and start == "raised":
        entries.insert(0, entry("sow", "p-1", done - timedelta(days=40)))
    return look_ahead(plot(planting, entries=tuple(entries)), today, climate=place)


@pytest.mark.parametrize("crop", CROPS)
def test_every_crop_may_stand_in_a_garden(crop: str) -> None:
    for start in STARTS:
        for today in (date(2026, 3, 1), date(2026, 7, 15)):
            compose(view(crop, start, today))
    for place in PLACES:
        compose(view(crop, standing(crop), date(2026, 6, 20), place, done=date(2026, 5, 20)))
        compose(view(crop, standing(crop), date(2026, 11, 20), place, done=date(2026, 5, 20)))


def flat(reasons: Iterable[Reason]) -> Iterator[Reason]:
    for reason in reasons:
        yield reason
        yield from flat(reason.because)


def rung(crop: str) -> int | None:
    way = timeline(Planting("p-1", crop, "bed-1", standing(crop)), None, handbook())
    return None if way is None else way.rung


def test_only_plants_that_come_again_are_without_a_way_to_their_harvest() -> None:
    without = {crop for crop in CROPS if crop not in handbook().plants and rung(crop) is None}
    assert without == {"asparagus", "blackberry", "rhubarb"}


def test_a_relatives_response_serves_where_the_crops_own_is_not_known_and_why_says_so() -> None:
    way = timeline(Planting("p-1", "collard", "bed-1", "sown"), None, handbook())
    assert way is not None
    assert way.rung == 3
    kale = next(leg for leg in handbook().legs["kale"] if (leg.from_stage, leg.to_stage) == ("sown", "first-harvest"))
    assert way.key == ResponseKey.of(kale)
    said = list(flat(way.reasons))
    assert any("the response of a relative (rung 3 of 4)" in reason.says for reason in said)
    assert any("kale" in reason.says or (reason.rests_on and "kale" in reason.rests_on.locator) for reason in said)
    used = {(fact.subject, fact.quantity) for fact in way.facts}
    assert {("collard", "responds_as"), ("collard", "days_to_first_harvest_min"), ("kale", "base_c")} <= used
    assert ("kale", "days_low") not in used


def test_the_printed_days_come_out_again_at_the_mean_at_which_they_hold() -> None:
    # Garden tables print 60 to 80 days from sowing for collards: their geometric middle at the reference mean.
    way = timeline(Planting("p-1", "collard", "bed-1", "sown"), None, handbook())
    assert way is not None
    assert way.emergence is not None
    assert way.emergence_key is not None
    mean_c = 16.5
    days = way.total / way.key.degrees(mean_c) + way.emergence.amount / way.emergence_key.degrees(mean_c)
    assert days == pytest.approx((60 * 80) ** 0.5, abs=0.5)


def test_a_borrowed_response_is_wider_than_the_crops_own() -> None:
    assert LEAST_SPREAD[3] > LEAST_SPREAD[2]
    assert CROP_SPREAD[3] > CROP_SPREAD[2]


def test_a_relative_named_is_a_crop_with_a_response_of_its_own() -> None:
    named = [crop for crop in CROPS if handbook().get(crop, "responds_as")]
    assert len(named) > 15
    for crop in named:
        assert stand_in(crop, handbook()) is not None, crop


def test_a_packets_days_take_the_relatives_response_too() -> None:
    packet = Cultivar("collard", "Wold Green", days_to_maturity=70, days_from="sown")
    way = timeline(Planting("p-1", "collard", "bed-1", "sown", cultivar="Wold Green"), packet, handbook())
    assert way is not None
    assert way.rung == 3
