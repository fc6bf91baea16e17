"""Thin what was sown thickly, before the plants crowd each other."""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.documents._parts import Reason, RestsOn
from kailyard.season.counted import far_off, is_past
from kailyard.season.done import last_work, work_done
from kailyard.season.life import Life
from kailyard.season.measures import minutes, worth
from kailyard.season.odds import later
from kailyard.season.reasons import from_entry, from_fact
from kailyard.season.view import SeasonView
from kailyard.season.windows import Loss, Window
from kailyard.units import in_running_text

NAME = "thin"
SCOPE = "planting"
DONE = {"thin": work_done("thinned")}

THICKLY = 2.0
"""Seeds for each plant that is meant to stand, from which a row was sown to be thinned."""

LATE_DAYS = 14
"""Crowded rows are still worth thinning for so long after the usual time."""

LOSS = Loss(late_per_day=0.015, late_most=0.3, early_per_day=0.01, early_most=0.1)


def windows(view: SeasonView, life: Life) -> Iterator[Window]:
    """Thinning, once, of what stands where it was sown."""
    planting, up = life.planting, life.stage("emerged")
    least, most = view.fact(planting, "thin_days_min"), view.fact(planting, "thin_days_max")
    if up is None or least is None or most is None or planting.start != "sown" or not life.standing:
        return
    if life.sightings.of("pick") or last_work(life, "thin") or not _thick(life):
        return
    due = later(up.days, round(most.number))
    shuts = later(due, LATE_DAYS)
    opens = later(up.days, round(least.number))
    if is_past(view, shuts) or far_off(view, opens):
        return
    late = is_past(view, due)
    yield Window(
        name=f"thin/{planting.id}",
        says=f"Thin {view.plants(planting)}",
        where=view.where(planting),
        detail=_detail(view, life, late),
        reasons=(
            Reason(
                "Counted from coming up.",
                rests_on=RestsOn("computed", "emergence from soil temperature", "docs/validation.md"),
                because=life.timeline.emergence.reasons if life.timeline and life.timeline.emergence else (),
            ),
            from_fact(least, view.handbook, "From so long after coming up it is thinned."),
            from_fact(most, view.handbook, "By so long after it plants crowd each other."),
            *(from_entry(e, "Sown more thickly than it is to stand.") for e in life.sightings.of("sow")[-1:]),
        ),
        opens=opens,
        due=due,
        shuts=shuts,
        tending=True,
        loss=LOSS,
        lost="crowded plants stay small",
        minutes=minutes(view, planting, "minutes_thin_per_m2", 10.0),
        worth=worth(view, planting),
        late=late,
    )


def _thick(life: Life) -> bool:
    """Whether more was sown than is to stand, as far as the daybook tells."""
    sown = life.sightings.of("sow")[-1:]
    counted = [e.quantity for e in sown if e.quantity is not None and e.unit == "seeds"]
    return not counted or counted[0] >= THICKLY * life.planting.count


def _detail(view: SeasonView, life: Life, late: bool) -> str:
    low, high = (view.number(life.planting, f"thin_to_cm_{end}", 0.0) for end in ("min", "max"))
    apart = f"{life.planting.spacing_cm:g}" if life.planting.spacing_cm else f"{low:g} to {high:g}"
    how = "water first and snip rather than pull" if late else view.said(life.planting, "thin_note")
    return f"{in_running_text(f'to {apart} cm apart', view.garden.units)}{'; ' if how else ''}{how}"
