"""Weights by ground, row, plant and hour, and what may not be concluded from them."""

from datetime import date, timedelta

import pytest
from gardens import beans, entry, look_ahead, plot, tomatoes

from kailyard.care.weighed import weighed

TODAY = date(2026, 11, 1)


def weighed_beans(id_, cultivar, sown, kg, *, start="sown", minutes=None, use=""):
    """Sixty plants in a bed of 6 by 1.2 m, 8 cm apart, picked three times."""
    first = sown + timedelta(days=60)
    more = {"minutes": minutes} if minutes else {}
    picks = [
        entry("pick", id_, first + timedelta(days=3 * n), quantity=kg / 3, unit="kg", last=n == 2, use=use, **more)
        for n in range(3)
    ]
    return beans(id_, cultivar=cultivar, start=start), (entry("sow", id_, sown), *picks)


def told(*of):
    plantings = [planting for planting, _ in of]
    entries = tuple(e for _, own in of for e in own)
    return weighed(look_ahead(plot(*plantings, entries=entries), TODAY))


MAY, LATE_MAY, JULY = date(2026, 5, 10), date(2026, 5, 14), date(2026, 7, 1)


def test_weights_by_ground_row_plant_and_hour_by_hand():
    # 3.6 kg: from 6 x 1.2 m = 7.2 m² it is 0.5 kg/m²; from 60 plants x 8 cm = 4.8 m of row 0.75 kg/m; a plant 60 g;
    # three pickings of 18 minutes are 0.9 h: 4 kg/h.
    (crop,) = told(weighed_beans("bean-1", "A", MAY, 3.6, minutes=18))
    row = crop.plantings[0]
    assert row.kg == pytest.approx(3.6)
    assert row.per_m2 == pytest.approx(0.5)
    assert row.per_row_m == pytest.approx(0.75)
    assert row.per_plant == pytest.approx(0.06)
    assert row.per_hour == pytest.approx(4.0)


def test_cultivars_sown_together_differ_and_the_bed_may_be_the_reason():
    (crop,) = told(weighed_beans("bean-1", "A", MAY, 6.0), weighed_beans("bean-2", "B", LATE_MAY, 3.0))
    assert crop.says[0].startswith("‘A’ gave")
    assert "too: either may be the reason" not in crop.says[0]
    assert "Bed and soil may be the reason" in crop.says[0]
    assert "One planting is little" in crop.says[0]


def test_a_sowing_day_is_not_blamed_without_the_cultivar():
    (crop,) = told(weighed_beans("bean-1", "A", MAY, 6.0), weighed_beans("bean-2", "B", JULY, 3.0))
    by_cultivar, by_day = crop.says
    assert "They differ in the day they were begun too: either may be the reason" in by_cultivar
    assert "They differ in the cultivar too: either may be the reason" in by_day
    assert by_day.startswith("What was begun by")


def test_what_gave_alike_is_said_to_be_alike():
    (crop,) = told(weighed_beans("bean-1", "A", MAY, 5.0), weighed_beans("bean-2", "B", MAY, 5.1))
    assert crop.says[0].endswith("alike.")


def test_a_planting_that_bears_still_is_shown_and_compared_with_nothing():
    planting, entries = weighed_beans("bean-1", "A", MAY, 5.0)
    still = [entry("pick", "bean-2", date(2026, 7, 15), quantity=1.0, unit="kg")]
    (crop,) = told((planting, entries), (beans("bean-2", cultivar="B"), (entry("sow", "bean-2", MAY), *still)))
    assert {row.note for row in crop.plantings} == {"", "still bearing"}
    assert crop.says == ()


def test_pickings_without_a_weight_are_counted_and_said():
    planting, entries = weighed_beans("bean-1", "A", MAY, 5.0)
    (crop,) = told((planting, (*entries, entry("pick", "bean-1", date(2026, 7, 8), quantity=40, unit="count"))))
    assert crop.plantings[0].note == "1 of 4 pickings without a weight"


def test_what_it_was_picked_for_is_summed():
    (crop,) = told(weighed_beans("bean-1", "A", MAY, 3.0, use="snap"), weighed_beans("bean-2", "A", MAY, 1.5))
    assert crop.says[-1] == "By use: snap 3 kg and nothing said 1.5 kg."


def test_crops_without_weights_are_not_told_of():
    assert told((tomatoes(), (entry("set-out", "tomato-1", date(2026, 5, 25)),))) == ()
