"""Amounts: within what is published, calibrated on simulated gardens, and nothing is picked twice."""

import csv
import math
from datetime import date, timedelta

import numpy as np
import pytest
from gardens import beans, entry, handbook, look_ahead, plot
from hypothesis import given, settings
from hypothesis import strategies as st

from kailyard.care.amounts import ahead, balance, together, wants
from kailyard.care.bearing import bearing, run
from kailyard.care.picking import lost_if_not_picked
from kailyard.care.pickings import pickings
from kailyard.care.yields import (
    LEAST_CROP_SPREAD,
    PLANTING_SPREAD,
    RUN_SPREAD,
    TEN_TO_NINETY,
    Standing,
    published,
    range_kg,
    standing_of,
    totals,
)
from kailyard.garden.model import Bed, Planting
from kailyard.season.draws import normal_point, strata

TODAY = date(2026, 7, 20)
SOWN = entry("sow", "bean-1", date(2026, 5, 20))


def past_beans(year, kg, planting=None):
    """A planting of an earlier year that was weighed through, in six pickings."""
    id_ = planting or f"bean-{year}"
    first = date(year, 7, 20)
    picks = [
        entry(
            "pick", id_, first + timedelta(days=3 * n), quantity=kg / 6, unit="kg", **({"last": True} if n == 5 else {})
        )
        for n in range(6)
    ]
    return beans(id_), (entry("sow", id_, date(year, 5, 20)), *picks)


def garden_of(*past, more=()):
    plantings, entries = [beans()], [SOWN, *more]
    for planting, own in past:
        plantings.append(planting)
        entries += own
    return plot(*plantings, entries=tuple(entries))


@pytest.fixture(scope="module")
def table(shared):
    with (shared / "reference" / "crops" / "yields.csv").open() as file:
        return {row["key"]: row for row in csv.DictReader(file)}


@pytest.mark.shared
def test_every_crops_season_lies_in_what_is_published_for_its_ground_row_and_plants(table):
    # Crop yields of the reference tables: extension tables of four states and garden ranges, each with its mark.
    bed = Bed("b", "b", 6.0, 1.2)
    z = normal_point(strata(50, "x"))[None, :]
    told = 0
    for crop, row in table.items():
        if crop.startswith("_") or not row["kg_per_m2_low"]:
            continue
        planting = Planting(id="x", crop=crop, bed="b", start="raised", count=20, spacing_cm=30, length_m=6.0)
        ranges = [(float(row["kg_per_m2_low"]) * 7.2, float(row["kg_per_m2_high"]) * 7.2)]
        if row["kg_per_plant_min"]:
            ranges.append((float(row["kg_per_plant_min"]) * 20, float(row["kg_per_plant_max"]) * 20))
        if row["kg_per_3m_row_min"]:
            ranges.append((float(row["kg_per_3m_row_min"]) * 2, float(row["kg_per_3m_row_max"]) * 2))
        low, high = min(r[0] for r in ranges), max(r[1] for r in ranges)
        found = range_kg(published(planting, bed, handbook()))
        assert found is not None, crop
        season = totals(found, Standing(0.0, math.inf, ()), z, so_far_kg=0.0, share=np.zeros((1, 50)))
        tenth, middle, ninth = np.quantile(season, (0.1, 0.5, 0.9))
        assert low * 0.98 <= tenth <= middle <= ninth <= high * 1.02, crop
        told += 1
    assert told >= 55


def test_a_gardens_own_level_is_the_textbook_posterior():
    # Gelman et al., Bayesian Data Analysis, 3rd ed., section 2.5: precisions add, and weigh the means.
    view = look_ahead(garden_of(past_beans(2024, 5.0), past_beans(2025, 7.0)), TODAY)
    found = standing_of(view, "bean-bush")
    low, high = range_kg(published(beans(), view.garden.beds["bed-1"], view.handbook))
    middle, spread = math.sqrt(low * high), math.log(high / low) / TEN_TO_NINETY
    prior = 1 / max(spread**2 - PLANTING_SPREAD**2, LEAST_CROP_SPREAD**2)
    own = 2 / PLANTING_SPREAD**2
    mean = own * (math.log(5.0 / middle) + math.log(7.0 / middle)) / 2 / (prior + own)
    assert found.mean == pytest.approx(mean, rel=1e-9)
    assert found.variance == pytest.approx(1 / (prior + own), rel=1e-9)


def test_two_seasons_weighed_through_carry_kilograms_and_one_does_not():
    one = pickings(look_ahead(garden_of(past_beans(2025, 6.0)), TODAY)).crops[0]
    assert not one.carried
    assert all(week.kg is None for week in one.weeks)
    assert {week.word for week in one.weeks} >= {"plenty"}
    two = pickings(look_ahead(garden_of(past_beans(2024, 6.0), past_beans(2025, 6.0)), TODAY)).crops[0]
    assert two.carried
    assert all(week.kg is not None for week in two.weeks)


def test_a_lost_span_is_told_in_kilograms_once_weights_carry_it():
    away = (date(2026, 7, 25), date(2026, 8, 8))
    words = look_ahead(garden_of(past_beans(2025, 6.0)), TODAY)
    assert lost_if_not_picked(words, words.lives["bean-1"], *away).kg is None
    carried = look_ahead(garden_of(past_beans(2024, 6.0), past_beans(2025, 6.0)), TODAY)
    lost = lost_if_not_picked(carried, carried.lives["bean-1"], *away)
    assert 0 < lost.kg < 6.0
    # The share is of what is still to come, about the 6 kg of the years before: the two must agree.
    assert lost.kg == pytest.approx(lost.share * 6.0, rel=0.35)


def test_the_weeks_and_what_was_picked_and_gone_are_the_season():
    picks = [
        entry("pick", "bean-1", date(2026, 7, 16) + timedelta(days=3 * n), quantity=0.4, unit="kg") for n in range(2)
    ]
    view = look_ahead(garden_of(past_beans(2024, 6.0), past_beans(2025, 6.0), more=picks), TODAY)
    life = view.lives["bean-1"]
    one = ahead(view, life, standing_of(view, "bean-bush"), weeks=52)
    book, b = one.ledger, bearing(view, life)
    assert (one.shares >= 0).all()
    assert (one.kg >= 0).all()
    np.testing.assert_allclose(book.all_picked + book.gone + one.shares.sum(axis=0), b.borne, atol=1e-12)


def test_plants_that_were_killed_give_nothing():
    hurt = entry("hurt", "bean-1", date(2026, 6, 10), cause="hail", share=0.5, killed=0.5)
    whole, halved = (
        ahead(view := look_ahead(garden_of(more=more), TODAY), view.lives["bean-1"], standing_of(view, "bean-bush"))
        for more in ((), (hurt,))
    )
    # Half the plants are gone; neighbours make up for a fifth of each gap (season.hurt.GAP_LOSES).
    assert halved.shares.sum() == pytest.approx(0.6 * whole.shares.sum())


@pytest.mark.parametrize(("shape", "seen"), [("early", 0.35), ("middle", 0.5), ("even", 0.7)])
def test_the_forecast_is_calibrated_on_known_curves(shape, seen):
    """Of 600 simulated plantings the 80 % band holds the true season in about 80 %.

    The truth is drawn from the published range, and its picking runs ahead of or behind the known curve as a gamma
    process does: the share picked by a day is beta distributed, with the spread half-way that is supposed. The error of
    600 is 1.6 %; three of them are allowed.
    """
    rng, plantings = np.random.default_rng(20260712), 600
    found, draws = (2.0, 8.0), 400
    middle, spread = 4.0, math.log(4.0) / TEN_TO_NINETY
    z = normal_point(strata(draws, "calibration"))[None, :]
    inside = 0
    # Kitchen scales, and what was eaten in the row: 5 %, of which the forecast knows nothing.
    scales = 0.05
    k = 1 / RUN_SPREAD**2
    for _ in range(plantings):
        truth = middle * math.exp(spread * rng.normal())
        u = seen * rng.uniform(0.6, 1.2)
        share = float(run(shape, np.array(min(u, 0.95))))
        picked = truth * rng.beta(k * share, k * (1 - share))
        weighed = picked * math.exp(scales * rng.normal())
        whole = totals(found, Standing(0.0, math.inf, ()), z, so_far_kg=weighed, share=np.full((1, draws), share))
        low, high = np.quantile(whole, (0.1, 0.9))
        inside += low <= truth <= high
    error = math.sqrt(0.8 * 0.2 / plantings)
    assert abs(inside / plantings - 0.8) < 3 * error


def test_learning_from_seasons_is_calibrated():
    """A garden's level from the published range, three seasons weighed: the 80 % band of the fourth holds 80 %."""
    rng, gardens = np.random.default_rng(7), 1500
    spread = math.log(4.0) / TEN_TO_NINETY
    own = math.sqrt(spread**2 - PLANTING_SPREAD**2)
    inside = 0
    z = normal_point(strata(400, "calibration"))[None, :]
    for _ in range(gardens):
        level = own * rng.normal()
        logs = level + PLANTING_SPREAD * rng.normal(size=3)
        variance = 1 / (1 / own**2 + 3 / PLANTING_SPREAD**2)
        standing = Standing(variance * logs.sum() / PLANTING_SPREAD**2, variance, (None,))
        season = totals((2.0, 8.0), standing, z, so_far_kg=0.0, share=np.zeros((1, 400)))
        low, high = np.quantile(season, (0.1, 0.9))
        inside += low <= 4.0 * math.exp(level + PLANTING_SPREAD * rng.normal()) <= high
    assert abs(inside / gardens - 0.8) < 3 * math.sqrt(0.8 * 0.2 / gardens)


@settings(max_examples=60)
@given(st.floats(0.01, 50), st.floats(0.01, 1 - RUN_SPREAD**2), st.floats(0.5, 3), st.floats(1.5, 8))
def test_more_weighed_never_makes_the_season_smaller(kg, share, low, fold):
    # So long as k (1 - s) is 1 or more: the beta density is then log-concave, and its likelihood ratio monotone.
    z = normal_point(strata(20, "x"))[None, :]
    prior, shares = Standing(0.0, math.inf, ()), np.full((1, 20), share)
    less, more = (totals((low, low * fold), prior, z, so_far_kg=w, share=shares) for w in (kg, kg * 1.1))
    assert (less > 0).all()
    assert (more >= less * (1 - 1e-3)).all()
    assert (less >= kg).all()  # and never less than was carried home


def test_a_surplus_and_a_shortfall_are_named_in_their_weeks():
    view = look_ahead(garden_of(past_beans(2024, 6.0), past_beans(2025, 6.0)), TODAY)
    one = ahead(view, view.lives["bean-1"], standing_of(view, "bean-bush"))
    kg = together(view, [one])
    much = balance(view, kg, 1e-6)
    assert [span.over for span in much] == [True]
    short = balance(view, kg, 1000.0)
    assert [span.over for span in short] == [False]
    assert short[0].chance > 0.99
    assert short[0].first >= TODAY


def test_what_is_wanted_is_what_was_said_last():
    said = (
        entry("want", "", date(2026, 6, 1), quantity=1.0, unit="kg", crop="bean-bush"),
        entry("want", "", date(2026, 6, 3), quantity=2.0, unit="kg", crop="bean-bush"),
        entry("want", "", date(2026, 6, 2), quantity=1.0, unit="kg", crop="pea"),
        entry("want", "", date(2026, 6, 4), quantity=0.0, unit="kg", crop="pea"),
    )

    def told(day):
        return {of: e.quantity for of, e in wants(garden_of(more=said), day).items()}

    assert told(TODAY) == {("bean-bush", ""): 2.0}
    assert told(date(2026, 6, 2)) == {("bean-bush", ""): 1.0, ("pea", ""): 1.0}


def test_four_tonnes_of_beans_are_asked_about_and_teach_nothing():
    slip = entry("pick", "bean-1", date(2026, 7, 18), quantity=4000.0, unit="kg")
    past = (past_beans(2024, 6.0), past_beans(2025, 6.0))
    asked = pickings(look_ahead(garden_of(*past, more=(slip,)), TODAY))
    assert "4000 kg" in asked.questions[0].replace("4e+03", "4000")
    assert "18 July" in asked.questions[0]
    most = max(week.kg.high for week in asked.crops[0].weeks)
    assert most < 20


def test_nothing_standing_is_an_empty_page_not_an_error():
    done = entry("clear", "bean-1", date(2026, 7, 1))
    found = pickings(look_ahead(garden_of(more=(done,)), TODAY))
    assert found.crops == ()
    assert found.questions == ()
