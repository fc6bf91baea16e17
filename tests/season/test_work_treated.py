"""What was put on holds picking and going in; what came of it is asked; last year's troubles choose the seed."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from gardens import beans, entry, look_ahead, plot

from kailyard.garden.model import Cultivar, Planting
from kailyard.season.sheet import compose

SOWN = entry("sow", "bean-1", date(2026, 5, 10))
SPRAYED = date(2026, 7, 14)
LABEL = entry("label", "", date(2026, 4, 1), name="Mealmute", active="sulfur", days_to_picking=3, entry_hours=24.0)
TREAT = replace(entry("treat", "bean-1", SPRAYED), payload={"label": "Mealmute", "hour": "19:30"})


def sheet(today, *entries):
    return compose(look_ahead(plot(beans(), entries=(SOWN, *entries)), today))


def holds(today, *entries):
    return {line.name: line for line in sheet(today, *entries).holds}


@pytest.mark.parametrize(("after", "held"), [(0, True), (2, True), (3, False)])
def test_picking_is_held_for_the_days_of_the_label_and_no_day_more(after, held):
    there = holds(SPRAYED + timedelta(days=after), LABEL, TREAT)
    assert ("no-picking/bean-1" in there) is held
    if held:
        assert "blossoms" in there["no-picking/bean-1"].detail
        assert "17 July" in there["no-picking/bean-1"].detail


@pytest.mark.parametrize(("after", "held"), [(0, True), (1, True), (2, False)])
def test_going_in_is_held_for_the_hours_of_the_label(after, held):
    assert ("no-entry/bean-1" in holds(SPRAYED + timedelta(days=after), LABEL, TREAT)) is held


def test_nought_days_hold_nothing_and_unknown_days_hold_without_end():
    nought = replace(LABEL, payload={**LABEL.payload, "days_to_picking": 0})
    assert "no-picking/bean-1" not in holds(SPRAYED, nought, TREAT)
    blank = replace(LABEL, payload={"name": "Mealmute", "active": "sulfur"})
    later = holds(SPRAYED + timedelta(days=40), blank, TREAT)
    assert "unknown" in later["no-picking/bean-1"].detail


def test_a_treatment_without_a_label_record_holds_without_end():
    assert "unknown" in holds(SPRAYED + timedelta(days=30), TREAT)["no-picking/bean-1"].detail
    told = entry("work", "bean-1", SPRAYED, what="sprayed")
    assert "unknown" in holds(SPRAYED + timedelta(days=30), told)["no-picking/bean-1"].detail


def test_a_label_put_aside_later_still_holds():
    gone = replace(entry("label", "", date(2026, 7, 15), name="Mealmute", removed=True), id="gone")
    assert "unknown" in holds(SPRAYED + timedelta(days=2), LABEL, TREAT, gone)["no-picking/bean-1"].detail


def test_a_bed_that_was_treated_holds_all_that_stands_in_it():
    bed = entry("treat", "bed-1", SPRAYED, label="Mealmute")
    assert "no-picking/bean-1" in holds(SPRAYED, LABEL, bed)


def test_what_was_put_on_the_bed_before_the_sowing_holds_by_its_label_too():
    # A label's days run from the spraying, whenever the crop was sown; what nobody named is unknown.
    early = entry("treat", "bed-1", date(2026, 5, 1), label="Unknown")
    assert "unknown" in holds(date(2026, 7, 1), early)["no-picking/bean-1"].detail
    long = replace(LABEL, payload={**LABEL.payload, "days_to_picking": 70})
    known = entry("treat", "bed-1", date(2026, 5, 1), label="Mealmute")
    assert "no-picking/bean-1" in holds(date(2026, 7, 9), long, known)
    assert "no-picking/bean-1" not in holds(date(2026, 7, 10), long, known)


def test_a_label_typed_anew_afterwards_takes_nothing_off_the_wait():
    then = replace(TREAT, payload={**TREAT.payload, "days_to_picking": 7, "entry_hours": 48.0})
    there = holds(SPRAYED + timedelta(days=2), LABEL, then)
    assert "21 July" in there["no-picking/bean-1"].detail, "3 days now, 7 days when it was put on"
    assert "16 July, 19:30" in there["no-entry/bean-1"].detail
    longer = replace(LABEL, payload={**LABEL.payload, "days_to_picking": 14})
    assert "28 July" in holds(SPRAYED, longer, then)["no-picking/bean-1"].detail


def test_going_in_is_held_for_true_hours_where_the_clock_is_set_forward(monkeypatch):
    # In the zone the clock goes from 2 to 3 in the night of 29 March 2026: 24 true hours end at 20:30 by the clock.
    made = plot(beans(), entries=(entry("sow", "bean-1", date(2026, 3, 10)), LABEL,
                replace(entry("treat", "bean-1", date(2026, 3, 28)), payload=dict(TREAT.payload))))  # fmt: skip
    made = replace(made, site=replace(made.site, timezone="Europe/Paris"))
    there = {line.name: line for line in compose(look_ahead(made, date(2026, 3, 28))).holds}
    assert "29 March, 20:30" in there["no-entry/bean-1"].detail


def test_nobody_goes_to_the_neighbours_in_the_same_bed_either():
    other = replace(beans(), id="bean-2")
    more = entry("sow", "bean-2", date(2026, 5, 10))
    made = look_ahead(plot(beans(), other, entries=(SOWN, more, LABEL, TREAT)), SPRAYED)
    (hold,) = [h for h in compose(made).holds if h.name == "no-entry/bean-1"]
    assert "all that stands in the bed" in hold.detail


def test_while_picking_is_held_no_line_offers_spare_flowers():
    male = replace(beans(), id="squash-1", crop="zucchini")
    sown = entry("sow", "squash-1", date(2026, 5, 20))
    day = date(2026, 7, 25)
    free = compose(look_ahead(plot(male, entries=(sown,)), day))
    assert any("may be picked" in line.detail for line in free.leave)
    treat = replace(TREAT, id="t-squash", target="squash-1", happened=day)
    held = compose(look_ahead(plot(male, entries=(sown, LABEL, treat)), day))
    assert "no-picking/squash-1" in {line.name for line in held.holds}
    assert not any("may be picked" in line.detail for line in held.leave)


def test_a_bed_that_was_treated_is_one_line_for_going_in():
    more = entry("sow", "bean-2", date(2026, 5, 10))
    bed = entry("treat", "bed-1", SPRAYED, label="Mealmute")
    made = look_ahead(plot(beans(), replace(beans(), id="bean-2"), entries=(SOWN, more, LABEL, bed)), SPRAYED)
    entries = [h for h in compose(made).holds if h.name.startswith("no-entry/")]
    assert [h.says for h in entries] == ["Keep out of the whole bed"]
    assert len([h for h in compose(made).holds if h.name.startswith("no-picking/")]) == 2


def test_what_a_label_does_not_list_is_not_picked_by_its_days():
    other = replace(LABEL, payload={**LABEL.payload, "crops": ["cucumber"]})
    there = holds(SPRAYED + timedelta(days=30), other, TREAT)
    assert "its label does not list this crop" in there["no-picking/bean-1"].detail
    listed = replace(LABEL, payload={**LABEL.payload, "crops": ["beans"]})
    assert "no-picking/bean-1" not in holds(SPRAYED + timedelta(days=30), listed, TREAT)


def test_a_look_too_soon_tells_of_old_spots_and_is_asked_for_again():
    due = SPRAYED + timedelta(days=7)
    soon = entry("look", "bean-1", SPRAYED + timedelta(days=1), found="still white")
    assert "treated/bean-1" in {line.name for line in sheet(due, LABEL, TREAT, soon).look}


def test_it_is_asked_what_came_of_it_until_somebody_has_looked():
    due = SPRAYED + timedelta(days=7)
    looks = {line.name: line for line in sheet(due, LABEL, TREAT).look}
    assert "new growth" in looks["treated/bean-1"].detail
    looked = entry("look", "bean-1", due, found="new leaves clean")
    assert "treated/bean-1" not in {line.name for line in sheet(due + timedelta(days=1), LABEL, TREAT, looked).look}


def test_every_hold_rests_on_the_entry_and_its_label():
    (reason,) = holds(SPRAYED, LABEL, TREAT)["no-picking/bean-1"].reasons
    assert reason.rests_on.locator == TREAT.id
    assert "label record" in reason.because[0].rests_on.source


def ordered(*cultivars, found_in=2026):
    last = Planting(id="cucumber-1", crop="cucumber-slicing", bed="bed-1", start="raised", count=6)
    plan = Planting(id="cucumber-2", crop="cucumber-slicing", bed="bed-2", start="raised", count=6,
                    cultivar=cultivars[0].name if cultivars else "", planned=date(2027, 4, 20))  # fmt: skip
    entries = (
        entry("set-out", "cucumber-1", date(found_in, 5, 25)),
        entry("found", "cucumber-1", date(found_in, 7, 20), trouble="powdery-mildew-cucurbit", sure="settled"),
        entry("clear", "cucumber-1", date(found_in, 9, 30)),
    )
    made = compose(look_ahead(plot(last, plan, entries=entries, cultivars=cultivars), date(2027, 1, 25)))
    (line,) = [w for w in made.work if w.name == "order-seed/garden"]
    return line


def test_seed_is_ordered_by_last_years_troubles():
    line = ordered()
    assert "ask for cucumbers with Px, Gc or PM on the packet (tolerance, not immunity)" in line.detail
    assert any("tolerance, not immunity" in b.says for r in line.reasons for b in r.because)


def test_a_kind_that_carries_the_code_is_not_asked_for():
    assert "wanted" not in ordered(Cultivar("cucumber-slicing", "Kettleband", resistance=("Px",))).detail


def test_troubles_of_long_ago_say_nothing():
    assert "wanted" not in ordered(found_in=2025).detail
