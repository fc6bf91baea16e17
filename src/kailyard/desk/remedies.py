"""What may be done about a trouble of a planting, from what was found, counted and typed off labels."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import cast

from kailyard.desk import typed
from kailyard.desk.desk import Desk
from kailyard.desk.plantings import known_planting
from kailyard.desk.shelf import handbook
from kailyard.desk.spray_case import in_bloom, last_found, view_of
from kailyard.desk.take import Written, take
from kailyard.documents._parts import Reason
from kailyard.documents.options import Later, Options, Step, Struck
from kailyard.errors import UsageError
from kailyard.garden.model import Entry, Garden, Planting
from kailyard.handbook.troubles import LISTED, Trouble, all_troubles, host_weight
from kailyard.handbook.troubles import trouble as known_trouble
from kailyard.season.view import SeasonView, comes_again
from kailyard.season.work.leaf_removal import free_again
from kailyard.troubles.cautions import cautions
from kailyard.troubles.flight import flown
from kailyard.troubles.label import records, rules_of
from kailyard.troubles.next_season import next_steps
from kailyard.troubles.options import Asked, Count, Option, options
from kailyard.troubles.options import not_possible as said_not_possible
from kailyard.troubles.scouting import verdict_on
from kailyard.units import Units, in_running_text

COUNTS = ("above", "below", "undecided")


def remedy(
    desk: Desk, planting: str, trouble: str | None = None, *, not_possible: Sequence[str] = (), count: str = ""
) -> Options:
    """The options; of the trouble found last where none is named.

    Parameters
    ----------
    not_possible
        Steps that cannot be taken here, besides those that the daybook says so of: 'sanitation'.
    count
        Against the action threshold: 'above', 'below' or 'undecided'; '': as the last count of the daybook has it.
    """
    garden = desk.garden()
    one, today = known_planting(garden, planting), desk.today(garden)
    name = trouble or last_found(garden, one)
    if not name:
        raise UsageError(
            f"Nothing was found on {planting} yet: `kailyard diagnose {planting} ...`, or name the trouble."
        )
    known = known_trouble(name)
    if count and count not in COUNTS:
        raise UsageError(f"count: {typed.shown(count)} is none of {', '.join(COUNTS)}.")
    book, units = handbook(desk), garden.units
    plants = (book.text(one.crop, "plain_name") or book.text(one.crop, "common_name") or one.crop).lower()
    view = view_of(desk)
    count = count or _counted(one, known, view)
    rules = rules_of(garden.entries)
    sure = _sure(garden, one, known.id)
    kept = said_not_possible(garden.entries, (one.id, one.bed), known.id)
    choice = options(
        Asked(
            trouble=known.id,
            crop=one.crop,
            plants=plants,
            today=today,
            sure=sure,
            count=cast(Count, count),
            not_possible=frozenset(not_possible) | kept,
            records=records(garden.entries),
            in_bloom=in_bloom(view, view.lives.get(one.id) if view else None, today),
            needs_bees="bees" in book.text(one.crop, "pollinated_by"),
            organic=rules.organic,
            leaves_from=free_again(view, view.lives[one.id]) if view is not None and one.id in view.lives else None,
            leaf_share_max=book.number(one.crop, "leaf_removal_share_max"),
            crop_names=(plants, book.text(one.crop, "common_name").lower()),
        )
    )
    ids = {o.id for o in (*choice.options, *choice.struck)}
    if strange := sorted(set(not_possible) - ids):
        raise UsageError(f"{typed.shown(strange[0])} is no step against {known.name}: {', '.join(sorted(ids))}.")
    bed = garden.beds.get(one.bed)
    return Options(
        garden=garden.name,
        on=today,
        units=units,
        trouble=known.slug,
        name=known.name,
        planting=one.id,
        plants=plants,
        where=bed.name if bed else one.bed,
        sure=sure,
        count=count,
        first=choice.first,
        steps=tuple(_step(o, units) for o in choice.options),
        struck=tuple(Struck(o.id, in_running_text(o.says, units)) for o in choice.struck),
        next_look=choice.next_look,
        judged=choice.judged,
        later=tuple(
            Later(s.id, in_running_text(s.says, units), s.by, _reasons(s.reasons, units))
            for s in next_steps(
                known.id,
                one.crop,
                plants,
                today=today,
                latitude=garden.site.latitude,
                lasts=comes_again(one, book),
                flown=flown(view, known.id, one) if view is not None else None,
                climbs=book.get(one.crop, "support_by_days") is not None,
            )
        ),
        cautions=cautions(
            one.crop, known.id, sprayed=any(o.needs_label for o in choice.options), children=rules.children
        ),
    )


def keep_steps(desk: Desk, planting: str, trouble: str, gone: Sequence[str], *, id_: str) -> int:
    """Enter what is not possible on a planting, and what is possible after all; how many entries that came to."""
    garden = desk.garden()
    one, known = known_planting(garden, planting), known_trouble(trouble)
    before = said_not_possible(garden.entries, (one.id, one.bed), known.id)
    changed = [(step, "not possible") for step in sorted(set(gone) - before)]
    changed += [(step, "possible") for step in sorted(before - set(gone))]
    for n, (step, here) in enumerate(changed):
        fields = {"trouble": known.slug, "step": step, "here": here}
        take(desk, Written(id=f"{id_}-{n}", kind="step", target=one.id, fields=fields))
    return len(changed)


def _sure(garden: Garden, one: Planting, trouble: str) -> str:
    """How sure it was found to be; '' where it was not found."""
    mine: list[Entry] = [
        e
        for e in garden.entries
        if e.kind == "found"
        and e.target in (one.id, one.bed)
        and str(e.payload.get("trouble", "")).replace("-", "_") == trouble
    ]
    return str(mine[-1].payload.get("sure", "likely")) if mine else ""


def _counted(one: Planting, known: Trouble, view: SeasonView | None) -> str:
    """This year's last count on the planting beside its threshold; '' where nobody counted or none is published."""
    if view is None or one.id not in view.lives:
        return ""
    return verdict_on(view, view.lives[one.id], {known.id, known.cause} - {""})


@dataclass(frozen=True, slots=True)
class TroubleOf:
    """A trouble to choose."""

    slug: str
    name: str


def troubles_of(desk: Desk, planting: str) -> tuple[TroubleOf, ...]:
    """Troubles that the planting's crop is a host of, those first that were found on it."""
    garden = desk.garden()
    one = known_planting(garden, planting)
    last = last_found(garden, one)
    hosts = [t for t in all_troubles() if t.id == last or host_weight(t, one.crop) >= LISTED]
    return tuple(TroubleOf(t.slug, t.name) for t in sorted(hosts, key=lambda t: (t.id != last, t.name.lower())))


def _step(o: Option, units: Units) -> Step:
    return Step(
        id=o.id,
        kind=o.kind,
        says=in_running_text(o.says, units),
        how=in_running_text(o.how, units),
        advised=o.advised,
        needs_label=o.needs_label,
        labels=o.labels,
        why_not=o.why_not,
        reasons=_reasons(o.reasons, units),
    )


def _reasons(reasons: Sequence[Reason], units: Units) -> tuple[Reason, ...]:
    return tuple(Reason(in_running_text(r.says, units), r.figure, r.unit, r.rests_on, r.because) for r in reasons)
