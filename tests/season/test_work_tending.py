"""Training, weeding, mulching, earthing up, feeding, old leaves, fruit set, shade.

Where each must speak, where it must be silent, and that 'done' silences it.

What is expected are rules of the trade, marked 'common practice'; gardens and weather are made up.
"""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from asking import asked, said, season
from gardens import SOUTHERN, beans, entry, handbook, peas, plot, steady, tomatoes

from kailyard.garden.model import Entry, Planting
from kailyard.season.answers import answers
from kailyard.season.fitting import fitting
from kailyard.season.view import SeasonView, foresee
from kailyard.season.windows import Danger, Look, Rest, Window

POTATOES = Planting("potato-1", "potato", "bed-4", "planted", count=20)
PLANTED = entry("plant", "potato-1", date(2026, 4, 25))
TOMATO_OUT = (
    entry("sow", "tomato-1", date(2026, 4, 1), under_cover=True),
    entry("set-out", "tomato-1", date(2026, 5, 20)),
)
STAKED = entry("support", "tomato-1", date(2026, 5, 22))


def answered(view: SeasonView, name: str, day: date) -> tuple[Entry, ...]:
    """The entries that a press of 'done' makes of a line."""
    line = said(view)[name]
    return tuple(entry(fit.kind, fit.target, day, **fit.payload) for fit in fitting(name, line.of, "done", view.garden))


@pytest.mark.parametrize(
    ("name", "today", "planting", "entries"),
    [
        ("train/tomato-1", date(2026, 6, 14), tomatoes(), (*TOMATO_OUT, STAKED)),
        ("weed/bed-1", date(2026, 6, 12), beans(), (entry("sow", "bean-1", date(2026, 5, 20)),)),
        ("mulch/tomato-1", date(2026, 7, 1), tomatoes(), TOMATO_OUT),
        ("earth-up/potato-1", date(2026, 6, 10), POTATOES, (PLANTED,)),
        ("side-dress/tomato-1", date(2026, 7, 20), tomatoes(), TOMATO_OUT),
        ("leaf-removal/tomato-1", date(2026, 8, 1), tomatoes(), TOMATO_OUT),
    ],
)
def test_done_silences_a_line(name: str, today: date, planting: Planting, entries: tuple[Entry, ...]) -> None:
    view = season(today, planting, entries=entries)
    line = said(view)[name]
    assert isinstance(line, Window)
    assert line.open_on(today) > 0.5
    later = season(today, planting, entries=(*entries, *answered(view, name, today)))
    again = said(later).get(name)
    assert not isinstance(again, Window) or again.open_on(today) == 0


def test_nothing_is_tied_to_a_support_that_does_not_stand() -> None:
    # Common practice; the missing support is a line of its own.
    names = said(season(date(2026, 6, 14), tomatoes(), entries=TOMATO_OUT))
    assert "train/tomato-1" not in names
    assert "support/tomato-1" in names


def test_training_comes_again_within_the_span_the_handbook_gives() -> None:
    # Common practice: tomatoes are tied in about once a week.
    trained = entry("work", "tomato-1", date(2026, 6, 14), what="tied in")
    entries = (*TOMATO_OUT, STAKED, trained)
    least = handbook().number("tomato-indeterminate", "train_interval_days_min")
    assert least is not None
    before, on = (date(2026, 6, 14) + timedelta(days=round(least) + n) for n in (-1, 0))
    assert said(season(before, tomatoes(), entries=entries))["train/tomato-1"].open_on(before) == 0  # type: ignore[union-attr]
    assert said(season(on, tomatoes(), entries=entries))["train/tomato-1"].open_on(on) == 1  # type: ignore[union-attr]


def test_training_that_was_let_go_is_late_and_says_how() -> None:
    line = said(season(date(2026, 7, 5), tomatoes(), entries=(*TOMATO_OUT, STAKED)))["train/tomato-1"]
    assert isinstance(line, Window)
    assert line.late
    assert line.detail == handbook().text("tomato-indeterminate", "train_late_how")


def test_weeds_are_taken_in_the_time_in_which_they_cost_yield() -> None:
    # Critical weed-free period of snap beans as the handbook has it; before coming up there is nothing to hoe between.
    sown = (entry("sow", "bean-1", date(2026, 5, 20)),)
    assert "weed/bed-1" in asked(season(date(2026, 6, 12), beans(), entries=sown))
    assert "weed/bed-1" not in asked(season(date(2026, 5, 21), beans(), entries=sown))
    assert "weed/bed-1" not in said(season(date(2026, 8, 20), beans(), entries=sown))


def test_what_is_weeded_as_a_bed_is_weeded_for_all_that_stands_in_it() -> None:
    sown = (entry("sow", "bean-1", date(2026, 5, 20)), entry("sow", "bean-2", date(2026, 5, 20)))
    both = (beans(), beans("bean-2"))
    view = season(date(2026, 6, 12), *both, entries=sown)
    assert set(said(view)["weed/bed-1"].of) == {"bean-1", "bean-2"}
    weeded = entry("work", "bed-1", date(2026, 6, 12), what="weeded")
    assert "weed/bed-1" not in asked(season(date(2026, 6, 13), *both, entries=(*sown, weeded)))


def test_a_bed_that_was_weeded_before_the_sowing_is_not_weeded_for_it() -> None:
    entries = (entry("work", "bed-1", date(2026, 5, 10), what="weeded"), entry("sow", "bean-1", date(2026, 5, 20)))
    assert "weed/bed-1" in asked(season(date(2026, 6, 12), beans(), entries=entries))


def test_what_is_mulched_needs_no_hoe() -> None:
    # Common practice.
    entries = (entry("sow", "bean-1", date(2026, 5, 20)), entry("work", "bean-1", date(2026, 6, 10), what="mulched"))
    assert "weed/bed-1" not in said(season(date(2026, 6, 14), beans(), entries=entries))


def test_mulch_waits_for_warm_soil() -> None:
    # Common practice: on cold soil mulch holds tomatoes back.
    planting, entries = (
        tomatoes(),
        (
            entry("sow", "tomato-1", date(2026, 3, 1), under_cover=True),
            entry("set-out", "tomato-1", date(2026, 4, 20)),
        ),
    )
    today = date(2026, 5, 20)
    garden = plot(planting, entries=entries)
    cold = foresee(garden, steady(6.0, 14.0, today=today), handbook(), draws=10)
    warm = foresee(garden, steady(15.0, 27.0, today=today), handbook(), draws=10)
    assert "mulch/tomato-1" not in asked(cold)
    assert "mulch/tomato-1" in asked(warm)


def test_potatoes_are_earthed_up_as_often_as_the_handbook_says() -> None:
    # Common practice: once a hand high, again two or three weeks later.
    first, second = (entry("work", "potato-1", day, what="earthed up") for day in (date(2026, 6, 5), date(2026, 6, 22)))
    assert "earth-up/potato-1" in said(season(date(2026, 6, 22), POTATOES, entries=(PLANTED, first)))
    assert "earth-up/potato-1" not in said(season(date(2026, 6, 24), POTATOES, entries=(PLANTED, first, second)))


def test_potatoes_are_not_earthed_up_before_they_are_up() -> None:
    assert "earth-up/potato-1" not in asked(season(date(2026, 4, 28), POTATOES, entries=(PLANTED,)))


def test_peas_are_not_fed() -> None:
    # Common practice: legumes feed themselves.
    assert "side-dress/pea-1" not in said(
        season(date(2026, 6, 1), peas(), entries=(entry("sow", "pea-1", date(2026, 4, 10)),))
    )


def test_leaves_stay_on_before_great_heat() -> None:
    # Common practice: fruit that is newly bared scalds.
    today = date(2026, 8, 1)
    garden = plot(tomatoes(), entries=TOMATO_OUT)
    hot = foresee(garden, steady(20.0, 38.0, today=today), handbook(), draws=10)
    answer = {a.name: a for a in answers(hot)}["leaf-removal/tomato-1"]
    assert isinstance(answer, Rest)
    assert "scald" in answer.detail


def test_the_ceiling_on_leaves_is_said() -> None:
    line = said(season(date(2026, 8, 1), tomatoes(), entries=TOMATO_OUT))["leaf-removal/tomato-1"]
    share = handbook().number("tomato-indeterminate", "leaf_removal_share_max")
    assert f"{share:.0%}".replace("%", " %") in line.detail


SQUASH = Planting("squash-1", "winter-squash-maxima", "bed-5", "sown", count=4)


def _flowering(today: date, *more: Entry) -> SeasonView:
    sown = entry("sow", "squash-1", date(2026, 5, 20))
    unseen = entry("stage", "squash-1", date(2026, 7, 8), stage="first-flower", state="not yet")
    seen = entry("stage", "squash-1", date(2026, 7, 10), stage="first-flower")
    return season(today, SQUASH, entries=(sown, unseen, seen, *more))


def test_male_flowers_first_are_nothing_wrong() -> None:
    # Common practice: in most squash male flowers come a week or two before female ones.
    answer = said(_flowering(date(2026, 7, 12)))["flowers/squash-1"]
    assert isinstance(answer, Rest)
    assert "nothing is wrong" in answer.detail


def test_fruit_is_asked_after_when_it_should_be_seen_and_a_look_answers() -> None:
    day = date(2026, 7, 10) + timedelta(
        days=round(
            handbook().number("winter-squash-maxima", "male_first_days_max", 0.0)  # type: ignore[operator]
            + handbook().number("winter-squash-maxima", "set_check_days", 0.0)
        )
        + 1
    )
    assert isinstance(said(_flowering(day)).get("fruit-set/squash-1"), Look)
    assert "fruit-set/squash-1" not in said(
        _flowering(day, entry("look", "squash-1", day, found="six set", sound=True))
    )
    assert "fruit-set/squash-1" not in said(_flowering(date(2026, 7, 12)))


def test_new_lettuce_is_shaded_when_hot_days_are_near_and_no_longer_once_it_has_taken() -> None:
    # Common practice: transplants are shaded for their first days in heat.
    head = Planting("head-1", "lettuce-head", "bed-1", "raised", count=12)
    today = date(2026, 7, 2)

    def view(out: date, tmax_c: float, *more: Entry) -> dict[str, object]:
        entries = (entry("sow", "head-1", date(2026, 6, 1), under_cover=True), entry("set-out", "head-1", out), *more)
        seen = foresee(plot(head, entries=entries), steady(16.0, tmax_c, today=today), handbook(), draws=10)
        return {a.name: a for a in answers(seen)}

    assert isinstance(view(date(2026, 7, 1), 33.0)["shade/head-1"], Danger)
    assert "shade/head-1" not in view(date(2026, 7, 1), 18.0)
    assert "shade/head-1" not in view(date(2026, 6, 15), 33.0)
    shaded = entry("protect", "head-1", date(2026, 7, 1), what="shade", until=date(2026, 7, 6))
    assert "shade/head-1" not in view(date(2026, 7, 1), 33.0, shaded)


def test_half_a_year_off_the_same_work_is_asked_for() -> None:
    sown = (entry("sow", "bean-1", date(2025, 11, 20)),)
    view = season(date(2025, 12, 12), beans(), entries=sown, latitude=-45.0, climate=SOUTHERN)
    assert "weed/bed-1" in asked(view)


def test_great_heat_is_told_for_what_stands_and_not_for_what_is_shaded_or_bears_it() -> None:
    # Common practice: head lettuce suffers in great heat; what lies under shade is safe; a warm day is no danger.
    head = Planting("head-1", "lettuce-head", "bed-1", "raised", count=12)
    today = date(2026, 7, 20)

    def near(tmax_c: float, *more: Entry) -> dict[str, object]:
        raised = entry("sow", "head-1", date(2026, 6, 1), under_cover=True)
        entries = (raised, entry("set-out", "head-1", date(2026, 6, 25)))
        seen = foresee(plot(head, entries=(*entries, *more)), steady(18.0, tmax_c, today=today), handbook(), draws=10)
        return {a.name: a for a in answers(seen)}

    hot = near(36.0)["protect-heat/garden"]
    assert isinstance(hot, Danger)
    assert "Water in the early morning" in hot.detail
    assert "protect-heat/garden" not in near(26.0)
    shaded = entry("protect", "bed-1", date(2026, 7, 19), what="shade", until=date(2026, 7, 25))
    assert "protect-heat/garden" not in near(36.0, shaded)


LEEKS = Planting("leek-1", "leek", "bed-6", "raised", count=40, spacing_cm=15)


def _leeks(today: date, *more: Entry) -> SeasonView:
    raised = entry("sow", "leek-1", date(2026, 3, 20), under_cover=True)
    return season(today, LEEKS, entries=(raised, entry("set-out", "leek-1", date(2026, 6, 1)), *more))


def test_leeks_are_blanched_in_their_last_weeks_and_once() -> None:
    # Common practice: light is kept from leeks for some weeks before they are lifted, and not from young plants.
    ready = _leeks(date(2026, 7, 1)).lives["leek-1"]
    assert ready.timeline is not None
    ripe = ready.stages[ready.timeline.harvest].quantile(0.5)
    assert ripe is not None
    days = handbook().number("leek", "blanch_days_min")
    assert days is not None
    late = ripe - timedelta(days=round(days))
    line = said(_leeks(late))["blanch/leek-1"]
    assert isinstance(line, Window)
    assert line.open_on(late) > 0.5
    assert "blanch/leek-1" not in asked(_leeks(date(2026, 6, 10)))
    view = _leeks(late)
    assert "blanch/leek-1" not in said(_leeks(late, *answered(view, "blanch/leek-1", late)))


def test_what_is_not_blanched_is_never_asked_for() -> None:
    assert not any(
        name.startswith("blanch/") for name in said(season(date(2026, 8, 1), tomatoes(), entries=TOMATO_OUT))
    )


def test_ground_is_prepared_before_a_sowing_and_once() -> None:
    # Common practice: a seedbed is made some weeks before it is sown.
    today = date(2026, 6, 2)
    view = season(today, beans(planned=date(2026, 6, 12)))
    line = said(view)["prepare/bed-1"]
    assert isinstance(line, Window)
    assert line.of == ("bean-1",)
    assert line.open_on(today) > 0.5
    done = answered(view, "prepare/bed-1", today)
    assert "prepare/bed-1" not in said(season(today, beans(planned=date(2026, 6, 12)), entries=done))


def test_ground_is_not_prepared_for_a_sowing_that_is_advised_against() -> None:
    # Common practice: no winter squash is sown in late August where frost comes in October.
    squash = Planting("squash-1", "winter-squash-maxima", "bed-1", "sown", planned=date(2026, 8, 20))
    lines = said(season(date(2026, 8, 18), squash))
    assert isinstance(lines["sow/squash-1"], Rest)
    assert "prepare/bed-1" not in lines


def test_ground_is_not_prepared_for_what_stands_or_lies_months_off() -> None:
    assert "prepare/bed-1" not in said(season(date(2026, 3, 1), beans(planned=date(2026, 6, 12))))
    sown = entry("sow", "bean-1", date(2026, 6, 1))
    assert "prepare/bed-1" not in said(season(date(2026, 6, 2), beans(), entries=(sown,)))


def test_nothing_is_watered_or_weeded_while_it_is_too_cold_to_grow() -> None:
    # Common practice: frozen ground is neither watered nor hoed.
    leeks = Planting("leek-1", "leek", "bed-1", "sown", count=30)
    told = (entry("sow", "leek-1", date(2025, 5, 20)),)
    winter = said(season(date(2026, 1, 20), leeks, entries=told))
    assert not {"water/bed-1", "feel/bed-1", "weed/bed-1"} & set(winter)
