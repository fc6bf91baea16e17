"""By use: when it begins, by what sign, how much; what was picked for one use says nothing of another."""

from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest
from gardens import beans, entry, handbook, look_ahead, peas, plot

from kailyard.care.amounts import ahead, surplus
from kailyard.care.bearing import bearing
from kailyard.care.pickings import pickings
from kailyard.care.yields import current, published, range_kg, standing_of
from kailyard.garden.model import Bed, Planting
from kailyard.season.uses import recognised, uses_of, usual
from kailyard.season.work.pick import windows

TODAY = date(2026, 6, 20)
PEPPER = Planting(id="pepper-1", crop="pepper-sweet", bed="bed-1", start="raised", count=12)
OUT = entry("set-out", "pepper-1", date(2026, 5, 25))


def said(planting, use, day=date(2026, 6, 1)):
    return entry("use", planting, day, use=use)


def life_of(planting, *entries, today=TODAY):
    view = look_ahead(plot(planting, entries=entries), today)
    return view, view.lives[planting.id]


def first_days(planting, *entries, today=TODAY):
    """Middle of the days on which the first is ready, of the samples in which it comes."""
    view, life = life_of(planting, *entries, today=today)
    days = bearing(view, life).first
    return float(np.median(days[days < 2e9]))


def test_every_crop_with_uses_has_one_usual_use_that_is_picked_when_the_crop_is():
    book = handbook()
    crops = {subject.partition("/")[0] for subject in book.facts if "/" in subject}
    assert len(crops) >= 25
    for crop in crops:
        names = uses_of(book, crop)
        marked = [use for use in names if book.get(f"{crop}/{use}", "use_usual")]
        assert marked == [usual(book, crop)], crop
        assert book.get(f"{crop}/{marked[0]}", "use_after_days_min") is None, crop
        for use in set(names) - set(marked):
            assert book.get(f"{crop}/{use}", "use_after_days_max") is not None, (crop, use)
            assert book.get(f"{crop}/{use}", "pick_sign") is not None, (crop, use)


def test_a_ripe_pepper_comes_two_to_four_weeks_after_a_green_one():
    # Reference tables, timing.csv, note: days are to the green stage; full colour takes 2-4 weeks more.
    green, ripe = (first_days(PEPPER, OUT, said("pepper-1", use)) for use in ("green", "ripe"))
    assert 14 <= ripe - green <= 28
    assert green == first_days(PEPPER, OUT)


@pytest.mark.shared
@pytest.mark.parametrize(
    ("crop", "use", "low", "high", "words"),
    [
        ("pepper-sweet", "ripe", 14, 28, "full colour takes 2-4 weeks more"),
        ("sunflower", "seed", 30, 45, "seed ripens 30-45 days later"),
        ("pea", "snap", 18 - 10, 21 - 7, "snow and snap kinds 7-10 days after the flower, shell kinds 18-21"),
    ],
)
def test_days_by_use_are_those_of_the_reference_tables(shared, crop, use, low, high, words):
    text = (shared / "reference" / "crops" / "timing.csv").read_text()
    assert words in next(line for line in text.splitlines() if line.startswith(f"{crop},"))
    least, most = (abs(handbook().number(f"{crop}/{use}", f"use_after_days_{end}")) for end in ("min", "max"))
    assert low <= min(least, most)
    assert max(least, most) <= high


def test_baby_leaf_comes_before_full_leaf_also_where_frost_leaves_no_time_for_full():
    spinach = Planting(id="spinach-1", crop="spinach", bed="bed-1", start="sown", count=60)
    sown = entry("sow", "spinach-1", date(2026, 9, 20))
    today = date(2026, 9, 25)
    baby, full = (life_of(spinach, sown, said("spinach-1", use, today), today=today) for use in ("baby", "full"))
    never = [float((bearing(view, life).first >= 2e9).mean()) for view, life in (baby, full)]
    assert never[0] <= never[1]
    assert first_days(spinach, sown, said("spinach-1", "baby", today), today=today) < first_days(
        spinach, sown, said("spinach-1", "full", today), today=today
    )


def test_a_picking_for_an_early_use_is_no_first_picking_of_the_crop():
    carrot = Planting(id="carrot-1", crop="carrot", bed="bed-1", start="sown", count=100)
    sown, today = entry("sow", "carrot-1", date(2026, 4, 10)), date(2026, 6, 12)
    thin = entry("pick", "carrot-1", date(2026, 6, 5), use="bunching")
    _, without = life_of(carrot, sown, today=today)
    _, bunched = life_of(carrot, sown, thin, said("carrot-1", "kitchen", today), today=today)
    assert "first-harvest" not in bunched.sightings.stages
    np.testing.assert_array_equal(bunched.multiplier, without.multiplier)
    _, picked = life_of(carrot, sown, replace(thin, payload={}), today=today)
    assert picked.sightings.stages["first-harvest"].seen == date(2026, 6, 5)
    assert np.median(picked.multiplier) < np.median(without.multiplier)


def test_the_first_picking_for_a_use_shows_that_it_was_ready():
    red = entry("pick", "pepper-1", date(2026, 8, 20), use="ripe")
    view, life = life_of(PEPPER, OUT, red, today=date(2026, 8, 25))
    assert (bearing(view, life).first <= date(2026, 8, 20).toordinal()).all()
    assert life.use == "ripe"


def test_what_is_lifted_at_once_is_picked_over_weeks_for_an_early_use():
    potato = Planting(id="potato-1", crop="potato", bed="bed-1", start="planted", count=20)
    put = entry("plant", "potato-1", date(2026, 4, 20))
    store, new = (bearing(*life_of(potato, put, *more)) for more in ((), (said("potato-1", "new"),)))
    assert (store.first == store.last).all()
    assert (new.last - new.first >= 7).all()
    assert np.median(new.first) < np.median(store.first) - 14


def test_sign_and_size_and_name_follow_the_use():
    cucumber = Planting(id="cucumber-1", crop="cucumber-pickling", bed="bed-1", start="sown", count=8)
    sown = entry("sow", "cucumber-1", date(2026, 5, 20))
    view, life = life_of(cucumber, sown, said("cucumber-1", "gherkin"))
    window = next(iter(windows(view, life)))
    assert window.says == "Pick gherkins"
    assert window.detail.startswith("3 to 5 cm long")  # 3-5 cm: the size printed for gherkins in harvest.csv
    view, life = life_of(cucumber, sown)
    assert next(iter(windows(view, life))).says == "Pick pickling cucumbers"


def test_uses_of_one_crop_are_told_apart_and_their_sum_is_wanted_together():
    other = replace(PEPPER, id="pepper-2")
    entries = (
        OUT, replace(OUT, id="out-2", target="pepper-2"), said("pepper-2", "ripe"),
        entry("want", "", date(2026, 6, 2), quantity=0.5, unit="kg", crop="pepper-sweet"),
        entry("want", "", date(2026, 6, 3), quantity=0.01, unit="kg", crop="pepper-sweet", use="ripe"),
    )  # fmt: skip
    view = look_ahead(plot(PEPPER, other, entries=entries), TODAY)
    green, ripe = sorted(pickings(view).crops, key=lambda crop: crop.use)
    assert [(c.use, c.produce, len(c.plantings)) for c in (green, ripe)] == [
        ("green", "peppers", 1),
        ("ripe", "ripe peppers", 1),
    ]
    assert (green.wanted_kg, green.wanted_of) == (0.5, "of all uses together")
    assert (ripe.wanted_kg, ripe.wanted_of) == (0.01, "")
    assert any("more than you want" in said for said in ripe.balance)
    assert surplus(view, "pepper-sweet", "ripe", 1e-6, 26).over
    assert surplus(view, "pepper-sweet", "drying", 1e-6, 26) is None


def test_a_use_gives_its_multiple_of_what_is_published():
    bed = Bed("b", "b", 6.0, 1.2)
    snap = range_kg(published(beans(), bed, handbook()))
    dry = range_kg(published(beans(), bed, handbook(), "dry"))
    least, most = (handbook().number("bean-bush/dry", f"use_yield_{end}") for end in ("min", "max"))
    assert dry == pytest.approx((snap[0] * least, snap[1] * most))


def test_weights_of_one_use_carry_no_kilograms_of_another():
    entries = []
    plantings = [beans()]
    for year in (2024, 2025):
        id_ = f"bean-{year}"
        plantings.append(beans(id_))
        entries.append(entry("sow", id_, date(year, 5, 20)))
        entries += [
            entry("pick", id_, date(year, 7, 20) + timedelta(days=3 * n), quantity=1.0, unit="kg", last=n == 4)
            for n in range(5)
        ]
    view = look_ahead(plot(*plantings, entries=(entry("sow", "bean-1", date(2026, 5, 20)), *entries)), TODAY)
    assert standing_of(view, "bean-bush").carries
    assert standing_of(view, "bean-bush", "snap").carries
    assert not standing_of(view, "bean-bush", "shell").carries


def test_a_season_of_two_uses_is_weighed_by_use_and_nothing_is_counted_twice():
    picks = (
        entry("pick", "pepper-1", date(2026, 8, 1), quantity=1.0, unit="kg", use="green"),
        entry("pick", "pepper-1", date(2026, 8, 25), quantity=2.0, unit="kg", use="ripe"),
    )
    view, life = life_of(PEPPER, OUT, *picks, today=date(2026, 8, 28))
    assert current(view, life).weighed_kg == 2.0
    one = ahead(view, life, standing_of(view, "pepper-sweet", "ripe"), weeks=52)
    whole = one.ledger.all_picked + one.ledger.gone + one.shares.sum(axis=0) / one.bearing.standing
    np.testing.assert_allclose(whole, one.bearing.borne, atol=1e-12)


def test_a_word_of_ones_own_changes_nothing_foreseen():
    assert recognised(handbook(), "pepper-sweet", "RIPE") == "ripe"
    assert recognised(handbook(), "pepper-sweet", "stuffed with rice") == ""
    assert first_days(PEPPER, OUT, said("pepper-1", "stuffed with rice")) == first_days(PEPPER, OUT)


def test_snap_peas_are_ready_before_shell_peas():
    sown = entry("sow", "pea-1", date(2026, 4, 10))
    shell, snap = (first_days(peas(), sown, *more) for more in ((), (said("pea-1", "snap"),)))
    assert 6 <= shell - snap <= 16
