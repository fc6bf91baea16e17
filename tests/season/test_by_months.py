"""What comes again year by year: its months, on both halves of the globe, held to what was seen."""

from __future__ import annotations

from datetime import date

import pytest
from gardens import SOUTHERN, asparagus, entry, handbook, look_ahead, plot

from kailyard.garden.model import Planting
from kailyard.season.sheet import compose
from kailyard.season.stages import stages_of
from kailyard.season.view import SeasonView


def plant(crop: str, today: date, *entries, since: date | None = date(2024, 4, 20), start: str = "bought", **where):
    here = Planting(id="p-1", crop=crop, bed="bed-1", start=start, since=since, count=5)
    climate = {"climate": where.pop("climate")} if "climate" in where else {}
    return look_ahead(plot(here, entries=entries, **where), today, **climate)


def middle(view: SeasonView, stage: str) -> date | None:
    odds = view.lives["p-1"].stage(stage)
    return None if odds is None else odds.quantile(0.5)


def names(view: SeasonView) -> set[str]:
    sheet = compose(view)
    parts = (sheet.holds, sheet.near, sheet.work, sheet.look, sheet.leave, sheet.changed, sheet.next)
    return {line.name for part in parts for line in part}


def test_swamp_milkweed_flowers_in_the_months_that_the_plant_profile_prints() -> None:
    # Missouri Botanical Garden, plant profile of Asclepias incarnata: June to August.
    view = plant("swamp-milkweed", date(2026, 4, 1))
    first, last = middle(view, "first-flower"), middle(view, "last-flower")
    assert first is not None
    assert last is not None
    assert (first.year, first.month) == (2026, 6)
    assert (last.year, last.month) == (2026, 8)
    odds = view.lives["p-1"].stages["first-flower"]
    width = (odds.quantile(0.9) - odds.quantile(0.1)).days
    assert 28 <= width <= 56, "two to four weeks either way"


def test_south_of_the_equator_the_months_lie_half_a_year_on() -> None:
    first = middle(plant("swamp-milkweed", date(2026, 10, 1), latitude=-41.0, climate=SOUTHERN), "first-flower")
    assert first is not None
    assert (first.year, first.month) == (2026, 12)


def test_bloom_that_is_over_is_foreseen_for_next_year() -> None:
    first = middle(plant("wild-columbine", date(2026, 8, 1)), "first-flower")
    assert first is not None
    assert first.year == 2027


def test_what_was_seen_this_year_holds_and_what_was_seen_last_year_does_not() -> None:
    last_year = entry("stage", "p-1", date(2025, 6, 3), stage="first-flower", state="seen")
    this_year = entry("stage", "p-1", date(2026, 6, 1), stage="first-flower", state="seen")
    not_yet = entry("stage", "p-1", date(2026, 6, 25), stage="first-flower", state="not yet")
    today = date(2026, 6, 26)
    assert middle(plant("swamp-milkweed", today, last_year), "first-flower").year == 2026
    assert plant("swamp-milkweed", today, this_year).lives["p-1"].stages["first-flower"].by(date(2026, 6, 1)) == 1
    assert plant("swamp-milkweed", today, not_yet).lives["p-1"].stages["first-flower"].by(date(2026, 6, 25)) == 0


def test_a_milkweed_raised_from_seed_does_not_flower_in_its_first_summer() -> None:
    # University of Wisconsin-Madison Extension and seed firms: butterfly weed flowers in its second or third year.
    sown = entry("sow", "p-1", date(2026, 4, 1))
    view = plant("butterfly-weed", date(2026, 5, 1), sown, since=None, start="sown")
    assert view.lives["p-1"].stages["first-flower"].never == 1
    bought = entry("set-out", "p-1", date(2026, 4, 1))
    assert plant("butterfly-weed", date(2026, 5, 1), bought, since=None).lives["p-1"].stages["first-flower"].never == 0


def test_the_stages_say_that_nothing_firmer_than_months_is_known() -> None:
    view = plant("swamp-milkweed", date(2026, 4, 1))
    flower = next(s for s in stages_of(view, view.lives["p-1"]).stages if s.stage == "first-flower")
    assert any("Nothing firmer than months" in reason.says for reason in flower.reasons)
    assert {reason.rests_on.status for reason in flower.reasons if reason.rests_on} == {"published", "memory"}


@pytest.mark.parametrize(("today", "asked"), [(date(2026, 3, 1), False), (date(2026, 6, 20), True)])
def test_strawberries_of_an_earlier_year_are_picked_in_their_month(today: date, asked: bool) -> None:
    assert (
        "pick/p-1" in {line.name for line in compose(plant("strawberry-june", today, start="planted")).work}
    ) is asked


def test_last_years_picking_is_not_taken_for_this_years() -> None:
    picked = entry("pick", "p-1", date(2025, 6, 20), quantity=2.0, unit="kg")
    view = plant("strawberry-june", date(2026, 4, 1), picked, start="planted")
    assert "pick/p-1" not in {line.name for line in compose(view).work}


def test_in_the_year_of_planting_june_strawberries_are_held() -> None:
    put = entry("plant", "p-1", date(2026, 4, 10))
    found = names(plant("strawberry-june", date(2026, 6, 15), put, since=None, start="planted"))
    assert "no-cutting/p-1" in found
    assert "pick/p-1" not in found


def test_asparagus_comes_up_in_the_months_of_the_handbook_on_both_halves() -> None:
    assert handbook().number("asparagus", "emerge_month_first") == 3
    old = asparagus(since=date(2020, 4, 1))
    for latitude, up, still in (
        (45.0, date(2026, 4, 10), date(2026, 10, 10)),
        (-41.0, date(2026, 10, 10), date(2026, 4, 10)),
    ):
        for today, asked in ((up, True), (still, False)):
            sheet = compose(look_ahead(plot(old, latitude=latitude), today))
            parts = (*sheet.leave, *sheet.look, *sheet.next, *sheet.work)
            assert ("pick/asparagus-1" in {line.name for line in parts}) is asked, (latitude, today)


def test_what_has_stood_since_an_earlier_year_is_not_set_out_again() -> None:
    assert "set-out/p-1" not in names(plant("swamp-milkweed", date(2026, 6, 10)))
    assert "set-out/p-1" in names(plant("swamp-milkweed", date(2026, 6, 10), since=None))
