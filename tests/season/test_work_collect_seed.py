"""Collecting seed of what is kept for it, and only of that.

Common practice: peas for seed stay on the vine until the pods rattle, some weeks after picking; kinds of one squash
species cross and those of two species do not; the seed of a hybrid does not come true; carrots seed in their second
year. Gardens and weather are made up.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from asking import asked, said, season
from gardens import HOT, SOUTHERN, entry, peas

from kailyard.garden.model import Cultivar, Planting
from kailyard.season.fitting import fitting
from kailyard.season.windows import Rest, Window

SOWN = entry("sow", "pea-1", date(2026, 4, 10))
KEPT = entry("work", "pea-1", date(2026, 6, 25), what="six plants kept for seed")
RIPE = date(2026, 7, 25)
NAME = "collect-seed/pea-1"


def test_peas_kept_for_seed_are_collected_weeks_after_picking() -> None:
    view = season(RIPE, peas(), entries=(SOWN, KEPT))
    answer = said(view)[NAME]
    assert isinstance(answer, Window)
    assert "pods dry and rattling" in answer.detail
    assert "with leave" in answer.detail
    ready = view.lives["pea-1"].stages["first-harvest"].quantile(0.5)
    opens = date.fromordinal(int(sorted(answer.opens.ravel())[answer.opens.size // 2]))
    assert ready is not None
    assert 18 <= (opens - ready).days <= 24  # the handbook: from 21 days after
    assert said(season(RIPE, replace(peas(), note="For seed"), entries=(SOWN,))).keys() >= {NAME}


def test_what_nobody_keeps_for_seed_is_not_spoken_of() -> None:
    assert NAME not in said(season(RIPE, peas(), entries=(SOWN,)))
    assert NAME not in asked(season(date(2026, 6, 10), peas(note="for seed"), entries=(SOWN,)))
    assert NAME not in said(season(RIPE, peas(note="for seed")))


def test_done_silences_it() -> None:
    view = season(RIPE, peas(), entries=(SOWN, KEPT))
    assert NAME in said(view)
    (made,) = fitting(NAME, (), "done", view.garden)
    done = entry(made.kind, made.target, RIPE, **made.payload)
    assert NAME not in said(season(RIPE, peas(), entries=(SOWN, KEPT, done)))


def test_a_hybrid_does_not_come_true() -> None:
    hybrid = Cultivar("pea", "Flint", habit="tall, F1")
    view = season(RIPE, peas(cultivar="Flint"), entries=(SOWN, KEPT), cultivars=(hybrid,))
    assert NAME not in said(view)
    answer = said(view)["no-seed/pea-1"]
    assert isinstance(answer, Rest)
    assert "does not come true" in answer.detail


def test_squash_of_one_species_cross_and_of_two_do_not() -> None:
    # Zucchini and acorn squash are Cucurbita pepo, buttercup and hubbard C. maxima.
    def squash(name: str, crop: str, bed: str) -> Planting:
        return Planting(name, crop, bed, "sown", count=4, note="for seed" if name == "zuc-1" else "")

    rows = {
        "pepo": squash("acorn-1", "winter-squash-acorn", "bed-2"),
        "maxima": squash("hub-1", "winter-squash-maxima", "bed-2"),
    }
    details = {}
    for kind, other in rows.items():
        told = (entry("sow", "zuc-1", date(2026, 5, 25)), entry("sow", other.id, date(2026, 5, 25)))
        view = season(date(2026, 8, 25), squash("zuc-1", "zucchini", "bed-1"), other, entries=told)
        details[kind] = said(view)["collect-seed/zuc-1"].detail
    assert "may have crossed" in details["pepo"]
    assert "crossed" not in details["maxima"]


def test_peas_of_two_kinds_side_by_side_seldom_cross() -> None:
    other = peas("pea-2", cultivar="Other")
    view = season(RIPE, peas(cultivar="Flint"), other, entries=(SOWN, KEPT, entry("sow", "pea-2", date(2026, 4, 12))))
    assert "seldom crosses with peas ‘Other’" in said(view)[NAME].detail


def test_carrots_seed_in_their_second_year() -> None:
    carrots = Planting("carrot-1", "carrot", "bed-1", "sown", count=20, note="for seed")
    sown = entry("sow", "carrot-1", date(2026, 4, 20))
    name = "collect-seed/carrot-1"
    assert name not in said(season(date(2026, 8, 20), carrots, entries=(sown,)))
    second = entry("sow", "carrot-1", date(2025, 5, 20))
    assert name in said(season(date(2026, 8, 1), carrots, entries=(second,)))


def test_pods_of_milkweed_are_collected_unburst_and_with_care_for_the_eyes() -> None:
    # Common practice: pods ripen in September and October, two months after the bloom of June to August.
    weed = Planting("weed-1", "common-milkweed", "bed-7", "bought", count=5, since=date(2023, 5, 20), note="for seed")
    answer = said(season(date(2026, 9, 10), weed))["collect-seed/weed-1"]
    assert "seam" in answer.detail
    assert "eyes" in answer.detail
    assert "collect-seed/weed-1" not in said(season(date(2026, 5, 1), weed))
    assert "collect-seed/weed-1" not in said(season(date(2026, 12, 20), weed))


def test_south_of_the_equator_and_without_frost() -> None:
    sown = entry("sow", "pea-1", date(2026, 9, 10))
    south = season(date(2027, 1, 5), peas(note="for seed"), entries=(sown,), climate=SOUTHERN, latitude=-40.0)
    assert NAME in said(south)
    beans = Planting("bean-1", "bean-bush", "bed-1", "sown", count=20, note="for seed")
    told = entry("sow", "bean-1", date(2026, 10, 20))
    hot = season(date(2026, 12, 28), beans, entries=(told,), climate=HOT, latitude=12.0)
    assert "collect-seed/bean-1" in said(hot)
