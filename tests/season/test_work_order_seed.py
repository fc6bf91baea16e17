"""Ordering what planned plantings lack, and testing seed that is old.

Seed is ordered in winter, weeks before its sowing day; resistant kinds sell out by late winter; seed potatoes are
bought anew each year: common practice. Years that seed keeps are the handbook's, from Iowa State University's table
after Knott's Handbook for Vegetable Growers, 4th edition: pea 3, onion 1, cucumber 5. Gardens and weather are made up.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest
from asking import asked, said, season
from gardens import HOT, SOUTHERN, beans, entry, peas, tomatoes

from kailyard.garden.model import Cultivar, Entry, Planting
from kailyard.season.fitting import fitting
from kailyard.season.windows import Window

PEAS = peas(cultivar="Flint", planned=date(2026, 4, 10))
WINTER = date(2026, 2, 10)


def seed(day: date = date(2026, 1, 10), *, crop: str = "pea", cultivar: str = "Flint", **more: Any) -> Entry:
    return entry("seed", "", day, crop=crop, cultivar=cultivar, **more)


def test_in_winter_what_is_planned_and_lacking_is_ordered() -> None:
    view = season(WINTER, PEAS)
    assert "order-seed/garden" in asked(view)
    answer = said(view)["order-seed/garden"]
    assert "‘Flint’" in answer.says
    # 100 plants of which a fifth fails, at the handbook's germination for an ordinary lot.
    usual = view.number(PEAS, "germ_typical_pct", 0.0)
    assert f"{int(-(-120 // (usual / 100)))} seeds" in answer.says


def test_every_kind_is_named_under_why_as_it_is_written_on_the_packet() -> None:
    view = season(WINTER, PEAS, beans(cultivar="Stone Crop"))
    reasons = [reason.says for reason in said(view)["order-seed/garden"].reasons]
    assert any(says.startswith("Snap beans ‘Stone Crop’, planned as bean-1") for says in reasons)


def test_nothing_is_ordered_months_ahead_or_for_what_is_sown() -> None:
    assert "order-seed/garden" not in asked(season(date(2025, 10, 1), PEAS))
    sown = entry("sow", "pea-1", date(2026, 4, 10))
    assert not any(name.startswith("order-") for name in said(season(date(2026, 4, 12), PEAS, entries=(sown,))))
    assert not any(name.startswith("order-") for name in said(season(WINTER)))


@pytest.mark.parametrize(
    ("told", "lacks"),
    [
        ({"packed": 2025, "quantity": 300, "unit": "seeds"}, False),
        ({"packed": 2025}, False),
        ({"state": "ordered"}, False),
        ({"packed": 2025, "quantity": 40, "unit": "seeds"}, True),
        ({"packed": 2025, "quantity": 0, "unit": "seeds"}, True),
        ({"packed": 2025, "state": "used up"}, True),
        ({"packed": 2025, "quantity": 300, "unit": "seeds", "cultivar": "Other"}, True),
    ],
)
def test_what_is_there_is_not_ordered(told: dict[str, Any], lacks: bool) -> None:
    assert ("order-seed/garden" in said(season(WINTER, PEAS, entries=(seed(**told),)))) is lacks


def test_what_was_sown_of_a_lot_is_taken_off() -> None:
    first = peas("pea-0", cultivar="Flint", bed="bed-2")
    told = (seed(packed=2025, quantity=300, unit="seeds"),)
    used = (*told, entry("sow", "pea-0", date(2026, 2, 1), quantity=220, unit="seeds"))
    assert "order-seed/garden" in said(season(WINTER, PEAS, first, entries=used))
    before = (*told, entry("sow", "pea-0", date(2026, 1, 2), quantity=220, unit="seeds"))
    assert "order-seed/garden" not in said(season(WINTER, PEAS, first, entries=before))


def test_a_packet_that_was_sown_of_lately_is_taken_to_be_there_where_nobody_keeps_stock() -> None:
    first = peas("pea-0", cultivar="Flint", bed="bed-2")
    sown = entry("sow", "pea-0", date(2025, 4, 10))
    assert "order-seed/garden" not in said(season(WINTER, PEAS, first, entries=(sown,)))
    long_ago = entry("sow", "pea-0", date(2024, 4, 10))
    assert "order-seed/garden" in said(season(WINTER, PEAS, first, entries=(long_ago,)))


def test_several_kinds_are_one_order() -> None:
    view = season(WINTER, PEAS, beans(cultivar="Stone"), tomatoes(cultivar="Ember"))
    answer = said(view)["order-seed/garden"]
    assert set(answer.of) == {"pea-1", "bean-1", "tomato-1"}
    assert answer.says == "Order seed"
    for name in ("Flint", "Stone", "Ember"):
        assert name in answer.detail


def test_done_puts_each_kind_on_order_and_silences_the_line() -> None:
    view = season(WINTER, PEAS, tomatoes(cultivar="Ember"))
    made = fitting("order-seed/garden", said(view)["order-seed/garden"].of, "done", view.garden)
    assert [m.kind for m in made] == ["seed", "seed"]
    done = tuple(entry(m.kind, m.target, WINTER, **m.payload) for m in made)
    assert "order-seed/garden" not in said(season(WINTER, PEAS, tomatoes(cultivar="Ember"), entries=done))


def test_a_resistant_kind_is_ordered_before_late_winter() -> None:
    late_beans = beans(cultivar="Stone", planned=date(2026, 6, 20))
    plain = Cultivar("bean-bush", "Stone")
    before = date(2026, 1, 20)
    assert "order-seed/garden" not in asked(season(before, late_beans, cultivars=(plain,)))
    view = season(before, late_beans, cultivars=(replace(plain, resistance=("BCMV",)),))
    answer = said(view)["order-seed/garden"]
    assert isinstance(answer, Window)
    assert "order-seed/garden" in asked(view)
    assert "27 February" in answer.detail


def test_too_late_for_the_post_is_said() -> None:
    answer = said(season(date(2026, 4, 6), PEAS))["order-seed/garden"]
    assert isinstance(answer, Window)
    assert answer.late
    assert "late" in answer.detail


def test_tubers_and_bought_plants_are_ordered_apart_from_seed() -> None:
    potato = Planting("potato-1", "potato", "bed-2", "planted", count=20, planned=date(2026, 4, 20))
    cabbage = Planting("cabbage-1", "cabbage", "bed-4", "bought", count=12, planned=date(2026, 5, 1))
    answer = said(season(WINTER, potato, cabbage))["order-plants/garden"]
    assert "20 tubers of potatoes" in answer.detail
    assert "12 plants of cabbages" in answer.detail
    # Last year's potatoes are no seed for this year's; garlic is kept from one's own.
    last = Planting("potato-0", "potato", "bed-3", "planted", count=20)
    put = entry("plant", "potato-0", date(2025, 4, 20))
    assert "order-plants/garden" in said(season(WINTER, potato, last, entries=(put,)))
    told = entry("seed", "", date(2026, 1, 5), crop="potato", quantity=25, unit="pieces")
    assert "order-plants/garden" not in said(season(WINTER, potato, entries=(told,)))


# Old seed

OLD = seed(packed=2021, quantity=400, unit="seeds")


def test_seed_older_than_it_keeps_is_tested_while_there_is_time() -> None:
    names = said(season(date(2026, 1, 20), PEAS, entries=(OLD,)))
    assert "test-seed/garden" in names
    assert "order-seed/garden" not in names
    assert "2021" in names["test-seed/garden"].detail
    young = seed(packed=2023, quantity=400, unit="seeds")
    assert "test-seed/garden" not in said(season(date(2026, 1, 20), PEAS, entries=(young,)))


def test_a_test_wins_over_age() -> None:
    good = seed(date(2026, 1, 25), packed=2021, tested=20, germinated=18)
    assert not any(n.startswith(("test-", "order-")) for n in said(season(WINTER, PEAS, entries=(OLD, good))))
    bad = seed(date(2026, 1, 25), packed=2021, tested=20, germinated=3)
    assert "order-seed/garden" in said(season(WINTER, PEAS, entries=(OLD, bad)))


def test_a_small_test_is_believed_less_than_a_large_one() -> None:
    # 8 of 10 may be a lot of 63 %, 80 of 100 hardly one under 74 %: Brown, Cai and DasGupta 2001, Jeffreys interval.
    lots = {
        n: (
            seed(packed=2025, quantity=170, unit="seeds"),
            seed(date(2026, 1, 25), packed=2025, tested=n, germinated=round(0.8 * n)),
        )
        for n in (10, 100)
    }
    assert "order-seed/garden" in said(season(WINTER, PEAS, entries=lots[10]))
    assert "order-seed/garden" not in said(season(WINTER, PEAS, entries=lots[100]))


def test_with_no_time_left_for_a_test_it_is_ordered() -> None:
    names = said(season(date(2026, 3, 20), PEAS, entries=(OLD,)))
    assert "order-seed/garden" in names
    assert "test-seed/garden" not in names


def test_south_of_the_equator_and_without_frost() -> None:
    south = replace(PEAS, planned=date(2026, 9, 20))
    winter = date(2026, 7, 20)
    assert "order-seed/garden" in asked(season(winter, south, climate=SOUTHERN, latitude=-40.0))
    resistant = Cultivar("pea", "Flint", resistance=("Ep",))
    later = replace(PEAS, planned=date(2026, 12, 1))
    view = season(winter, later, climate=SOUTHERN, latitude=-40.0, cultivars=(resistant,))
    assert "28 August" in said(view)["order-seed/garden"].detail
    assert "order-seed/garden" in asked(season(winter, south, climate=HOT, latitude=12.0))
