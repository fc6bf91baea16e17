"""From weights of simulated plantings with known curves to what is still to come: calibrated, and sharper."""

import math
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
from gardens import beans, entry, look_ahead, plot

from kailyard.care.amounts import ahead
from kailyard.care.bearing import bearing
from kailyard.care.yields import (
    RUN_SPREAD,
    TEN_TO_NINETY,
    Standing,
    current,
    picked_share,
    published,
    range_kg,
    standing_of,
    totals,
)
from kailyard.season.draws import normal_point, strata

GARDENS, EACH, EVERY_DAYS = 100, 6, 3
TODAY = date(2026, 7, 22)


def simulated(rng, number, today):
    """(place of the truth in the forecast of what is still to come, whether it was picked from) of each planting.

    The truth of a garden is one possible season of the engine's own: each planting's first and last day and its run
    are known. Its whole season's weight comes from the published range; the part of it that was picked by today runs
    ahead or behind as a gamma process does. Picked every third day from within three days of the first, every picking
    weighed and written down.
    """
    plantings = [beans(f"bean-{number}-{n}") for n in range(EACH)]
    sown = [entry("sow", p.id, date(2026, 5, 14) + timedelta(days=int(rng.integers(12)))) for p in plantings]
    view = look_ahead(plot(*plantings, entries=tuple(sown), name=f"garden {number}"), today)
    season = tuple(int(rng.integers(n)) for n in view.shape)
    low, high = range_kg(published(plantings[0], view.garden.beds["bed-1"], view.handbook))
    usual, spread, k = math.sqrt(low * high), math.log(high / low) / TEN_TO_NINETY, 1 / RUN_SPREAD**2
    entries, truths = list(sown), {}
    for planting in plantings:
        b = bearing(view, view.lives[planting.id])
        whole = usual * math.exp(spread * rng.normal())
        begun = int(b.first[season]) + int(rng.integers(EVERY_DAYS))
        until = min(int(b.cut[season]) + EVERY_DAYS - 1, today.toordinal() - 1)
        days = range(begun, until + 1, EVERY_DAYS)
        shares = [float(b.ready(float(day))[season]) for day in days]
        run = shares[-1] if shares else 0.0
        got = rng.beta(k * run, k * (1 - run)) if 0 < run < 1 else run
        for day, part in zip(days, np.diff([0.0, *shares]) * (got / run if run else 1.0), strict=True):
            kg = max(whole * part, 1e-4)
            entries.append(entry("pick", planting.id, date.fromordinal(day), quantity=round(kg, 5), unit="kg"))
        truths[planting.id] = whole * max(float(b.borne[season]) - got, 0.0), bool(shares)
    view = look_ahead(plot(*plantings, entries=tuple(entries), name=f"garden {number}"), today)
    for id_, (left, picked) in truths.items():
        kg = ahead(view, view.lives[id_], standing_of(view, "bean-bush"), weeks=52).kg.sum(axis=0)
        if left > 0.02 * usual:
            yield float(np.mean(kg < left)), picked


def test_what_is_still_to_come_is_calibrated_on_plantings_with_known_curves():
    """The truth lies anywhere in the forecast alike: its place has mean a half, and eight in ten lie in the band.

    Plantings of one garden share their luck, so the error is nearly that of 100 gardens: 0.04 of a share of 0.8, 0.03
    of a mean of a half. Allowed are two and three of it. It tells apart a first picking not believed to be the
    first, weights that are ignored, weights that are not taken from the whole, amounts half too high (tried by hand).
    """
    rng = np.random.default_rng(41)
    found = [one for n in range(GARDENS) for one in simulated(rng, n, TODAY + timedelta(days=7 * (n % 3 - 1)))]
    for begun in (True, False):
        places = np.array([place for place, picked in found if picked is begun])
        assert len(places) > 200
        assert abs(float(np.mean((places > 0.1) & (places < 0.9))) - 0.8) < 0.08, begun
        assert abs(float(places.mean()) - 0.5) < 0.09, begun


def test_weights_make_the_forecast_sharper_and_nearer_the_truth():
    rng, draws = np.random.default_rng(5), 200
    z, found = normal_point(strata(draws, "sharp"))[None, :], (2.0, 8.0)
    none = Standing(0.0, math.inf, ())
    off, widths = {True: 0.0, False: 0.0}, {True: 0.0, False: 0.0}
    for _ in range(200):
        truth = 4.0 * math.exp(math.log(4.0) / TEN_TO_NINETY * rng.normal())
        picked = truth * rng.beta(0.7 / RUN_SPREAD**2, 0.3 / RUN_SPREAD**2)
        for told in (True, False):
            kg = picked if told else 0.0
            whole = totals(found, none, z, so_far_kg=kg, share=np.full((1, draws), 0.7))
            off[told] += abs(math.log(float(np.median(whole)) / truth))
            low, high = np.quantile(np.log(whole), (0.1, 0.9))
            widths[told] += float(high - low)
    assert widths[True] < 0.7 * widths[False]
    assert off[True] < 0.7 * off[False]


def test_what_was_picked_is_taken_from_the_whole_and_not_again_from_what_is_left():
    first = entry("pick", "bean-1", date(2026, 7, 12), quantity=1.0, unit="kg")
    sown = entry("sow", "bean-1", date(2026, 5, 14))
    view = look_ahead(plot(beans(), entries=(sown, first)), TODAY)
    life = view.lives["bean-1"]
    b, season = bearing(view, life), current(view, life)
    once = picked_share(life, b, season)
    twice = picked_share(life, b, replace(season, picks=()))
    assert (once > 0).any()
    assert not twice.any()
