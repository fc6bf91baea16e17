"""Take off old, shaded or spotted leaves: few at once, on a dry day, never before great heat on bare fruit."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.season.counted import counted_from, far_off, grounds, is_past, opening
from kailyard.season.done import last_work, work_done
from kailyard.season.life import Life
from kailyard.season.measures import day_words, in_ten, minutes, worth
from kailyard.season.odds import later
from kailyard.season.view import SeasonView
from kailyard.season.windows import Answer, Loss, Rest, Window
from kailyard.troubles.met import met_on
from kailyard.troubles.next_season import support_helps

NAME = "leaf removal"
SCOPE = "planting"
DONE = {"leaf-removal": work_done("old leaves taken off")}

TAKEN = ("leaves taken", "leaf removal", "leaves off", "deleaf")
"""Words of the daybook that say so."""

AGAIN_DAYS = 10.0
"""Days between two removals where the handbook has none for the crop."""

HOT_DAYS = 4
"""Fruit that is newly bared burns in the first days: so far ahead the heat is asked after."""

HOT_CHANCE = 0.3
"""Chance of such heat from which leaves had better stay on."""

GRACE_DAYS = 14
"""Old leaves may hang on for so long without harm."""

NO_END_DAYS = 60
"""Where nobody can foresee the last picking, old leaves are taken off for so long."""

LOSS = Loss(late_per_day=0.002, late_most=0.05, early_per_day=0.01, early_most=0.1, shut_ends_it=True)
"""It airs the plants and slows leaf spots a little; taking too many costs more than taking none."""


def windows(view: SeasonView, life: Life) -> Iterator[Answer]:
    """The next removal, its ceiling said; in heat a word that the leaves stay."""
    planting = life.planting
    from_days, most = view.fact(planting, "leaf_removal_from_days"), view.fact(planting, "leaf_removal_share_max")
    if from_days is None or most is None or not life.standing or view.seems_killed(life):
        return
    start = counted_from(view, life, view.handbook.text(planting.crop, "leaf_removal_from_stage"))
    if start is None:
        return
    last = last_work(life, *TAKEN)
    again = view.number(planting, "leaf_removal_interval_days", AGAIN_DAYS)
    opens = opening(view, start, from_days.number, last, again)
    ends = life.stage("last-harvest")
    shuts = later(start, NO_END_DAYS) if ends is None else ends.days
    if far_off(view, opens) or is_past(view, shuts):
        return
    reasons = grounds(
        view,
        life,
        {
            "leaf_removal_share_max": "No more than this share of the leaves at once: they feed and shade the fruit.",
            "leaf_removal_from_days": "From so long after that stage.",
            "leaf_removal_interval_days": "Least time between two removals.",
            "leaf_removal_which": "Which.",
        },
        last,
    )
    share = f"no more than {most.number:.0%} of the leaves at once".replace("%", " %")
    hot = view.fact(planting, "sunscald_above_c")
    if hot is not None and is_past(view, later(opens, -1)):
        at = view.ensemble.today_index
        chance = float(np.mean(view.ensemble.tmax_c[:, at : at + HOT_DAYS].max(axis=1) >= hot.number))
        if chance >= HOT_CHANCE:
            yield Rest(
                name=f"leaf-removal/{planting.id}",
                says=f"Old leaves on {view.plants(planting)}",
                where=view.where(planting),
                detail=f"Leave them on: {view.degrees(hot.number)} or more by "
                f"{day_words(view.today.fromordinal(view.today.toordinal() + HOT_DAYS - 1))}, {in_ten(chance)}; "
                "bared fruit scalds.",
                reasons=(
                    Reason(
                        "Chance of such heat on bared fruit.",
                        round(chance, 2),
                        "chance",
                        RestsOn("computed", "forecast and possible seasons", view.ensemble.source),
                        grounds(view, life, {"sunscald_above_c": "From this day maximum on bared fruit is scalded."}),
                    ),
                    *reasons,
                ),
                urgency=0.4,
            )
            return
    since = "" if last is None else f"; last {day_words(last.happened)}"
    yield Window(
        name=f"leaf-removal/{planting.id}",
        says=f"Take old leaves off {view.plants(planting)}",
        where=view.where(planting),
        detail=f"{view.said(planting, 'leaf_removal_which')}; {share}{since}{_sick(view, life)}",
        reasons=reasons,
        opens=opens,
        shuts=np.maximum(shuts, opens).astype(np.int32),
        due=later(opens, GRACE_DAYS),
        tending=True,
        loss=LOSS,
        lost="wet, shaded leaves carry leaf spots upward",
        minutes=minutes(view, planting, "minutes_leaf_removal_per_plant", 1.0),
        worth=worth(view, planting),
    )


def free_again(view: SeasonView, life: Life) -> date | None:
    """The day from which leaves may be taken again; None where none were taken."""
    last = last_work(life, *TAKEN)
    again = view.number(life.planting, "leaf_removal_interval_days", AGAIN_DAYS)
    return None if last is None else last.happened + timedelta(days=round(again))


def _sick(view: SeasonView, life: Life) -> str:
    """What is said besides where wet leaves carry something: this growth's last finding."""
    seen = life.sightings
    begun = min((day for day in (seen.sown, seen.set_out, seen.planted) if day), default=date.min)
    found = [m for m in met_on(view.garden, life.planting, begun, view.today) if support_helps(m)]
    return f"; {found[-1].name} was found: on a dry day, and those leaves into the bin" if found else ""
