"""First call on an emptied bed: what still ripens there, else a cover crop."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta

import numpy as np

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Garden
from kailyard.handbook.types import Handbook
from kailyard.season.beds import Freed, freed, grown_groups, sick_groups
from kailyard.season.counted import same
from kailyard.season.done import work_done
from kailyard.season.life import Life
from kailyard.season.measures import day_words, in_ten, listing
from kailyard.season.odds import BEYOND, DayArray
from kailyard.season.paying import Paying, still_pays
from kailyard.season.reasons import from_entry, from_fact, from_judgement
from kailyard.season.safety import cooling_half, midsummer_after, safe_to_set_out
from kailyard.season.view import SeasonView
from kailyard.season.windows import Loss, Window
from kailyard.troubles.keep_away import kept_out
from kailyard.units import in_running_text

NAME = "follow"
SCOPE = "garden"
DONE = {"cover-crop": work_done("cover crop sown")}

PAYS = 0.6
"""Share of the possible seasons in which a crop must still pay to be called first."""

WITHIN_DAYS = 14
"""It must be possible to sow it within so many days."""

SOWN_FOR_DAYS = 240
"""A cover crop stands so long: over winter."""

MOST_CALLED = 3

SURE = 0.9
"""A crop that pays in this share is sure enough not to look for a surer one."""

MOST_TRIED = 6
"""Crops of the garden that are tried: those with the shortest way to a harvest."""

KILLING_C = -2.0
"""A cover crop's weeks are counted back from the first night as cold as this in the garden."""

COVER_PAYS = 0.6
"""Share of the possible seasons in which a cover crop must have its weeks."""

LOSS = Loss(late_per_day=0.008, late_most=0.6, early_per_day=0.0, early_most=0.0)
COVER_LOSS = Loss(late_per_day=0.006, late_most=0.4, early_per_day=0.0, early_most=0.0)


@dataclass(frozen=True, slots=True)
class _Call:
    """One crop that still pays."""

    life: Life
    share: float
    paying: Paying


def windows(view: SeasonView, garden: Garden) -> Iterator[Window]:
    """For each bed with free ground: crops that still ripen there, else a cover crop, else nothing."""
    free = [ground for ground in freed(view) if not _green_already(view, garden, ground)]
    if not free:
        return
    tried: dict[str, _Call | None] = {}
    sown, covers = _sown_here(view), None
    for ground in free:
        groups = grown_groups(view, ground.bed) | sick_groups(view, ground.bed.id)
        days = (ground.next_begins - view.today).days if ground.next_begins else 400
        fit = _fit(
            view,
            [
                life
                for life in sown
                if _group(view, life) not in groups
                and _days(view, life) <= days
                and kept_out(garden, ground.bed.id, life.planting.crop, view.today) is None
            ],
            tried,
        )
        if fit:
            yield _crops(view, ground, fit, groups)
            continue
        covers = _covers(view) if covers is None else covers
        kin = [one for one in covers if view.handbook.text(one, "green_group") not in groups] or covers
        green = [one for one in kin if (view.handbook.number(one, "green_days_min") or 0.0) <= days]
        if green:
            yield _cover(view, ground, green[:2])


def _green_already(view: SeasonView, garden: Garden, ground: Freed) -> bool:
    """Whether a cover crop was sown in the bed of late."""
    since = view.today - timedelta(days=SOWN_FOR_DAYS)
    works = (e for e in garden.entries_of(ground.bed.id) if e.kind == "work" and since <= e.happened <= view.today)
    return any("cover crop" in str(e.payload.get("what")).lower() for e in works)


def _sown_here(view: SeasonView) -> list[Life]:
    """One planting of each annual that this garden sows where it stays, the quickest first."""
    by_crop: dict[str, Life] = {}
    for life in view.lives.values():
        if life.planting.start == "sown" and life.timeline is not None and not view.perennial(life.planting):
            by_crop.setdefault(life.planting.crop, life)
    return sorted(by_crop.values(), key=lambda life: (_days(view, life), life.planting.crop))


def _fit(view: SeasonView, lives: list[Life], tried: dict[str, _Call | None]) -> list[_Call]:
    """Those that still ripen if sown now, the surest first; no more are tried when enough are sure."""
    found: list[_Call] = []
    for life in lives[:MOST_TRIED]:
        crop = life.planting.crop
        if crop not in tried:
            tried[crop] = _call(view, life)
        if (call := tried[crop]) is not None:
            found.append(call)
        if sum(call.share >= SURE for call in found) == MOST_CALLED:
            break
    return sorted(found, key=lambda call: (-round(call.share, 1), _days(view, call.life), call.life.planting.crop))[
        :MOST_CALLED
    ]


def _group(view: SeasonView, life: Life) -> str:
    return view.handbook.text(life.planting.crop, "rotation_group")


def _days(view: SeasonView, life: Life) -> float:
    return view.number(life.planting, "days_to_first_harvest_min", 100.0)


def _call(view: SeasonView, life: Life) -> _Call | None:
    today, crop = view.today.toordinal(), life.planting.crop
    if view.handbook.get(crop, "plant_when_soil_below_c") is not None:
        return None
    begin = safe_to_set_out(view.clocks, view.handbook, crop, today, view.garden.site.latitude)
    soon = begin <= today + WITHIN_DAYS
    if float(np.mean(soon)) < PAYS or (paying := still_pays(view, life, start="sown", begin=begin)) is None:
        return None
    share = float(sum(np.mean(soon & (first <= begin) & (begin <= last)) for first, last in paying.runs))
    return _Call(life, share, paying) if share >= PAYS else None


def _crops(view: SeasonView, ground: Freed, fit: list[_Call], groups: dict[str, str]) -> Window:
    plants = [view.plants(call.life.planting) for call in fit]
    odds = listing([f"{name} {in_ten(call.share)}" for name, call in zip(plants, fit, strict=True)])
    best = fit[0].paying
    until = best.until(0.8, view.today) or view.today
    return Window(
        name=f"follow/{ground.bed.id}",
        says=f"Sow {_either(plants)} next",
        where=ground.bed.name,
        detail="; ".join(
            part for part in (_free(view, ground), f"pays: {odds}", _avoided(groups), _planned(view, ground)) if part
        ),
        reasons=(
            *_ground_reasons(ground),
            *_group_reasons(view, ground),
            *(r for call in fit for r in call.paying.reasons),
        ),
        opens=same(view, ground.since or view.today),
        due=same(view, view.today),
        shuts=np.where(best.last >= BEYOND, best.last, np.maximum(best.last, np.int32(view.today.toordinal()))),
        loss=LOSS,
        lost=f"the bed lies idle; {plants[0]} pay until {day_words(until)} in 8 years of 10",
        minutes=20.0,
        worth=_worth(ground, view),
    )


def _free(view: SeasonView, ground: Freed) -> str:
    length = in_running_text(f"{ground.length_m:.1f} m".replace(".0 m", " m"), view.garden.units)
    if not ground.after or ground.since is None:
        return f"{length} lie empty"
    names = listing(list(dict.fromkeys(view.plants(life.planting) for life in ground.after))[:2])
    return f"{length} empty since {day_words(ground.since)} ({names})"


def _avoided(groups: dict[str, str]) -> str:
    return f"no kin of {listing(sorted(set(groups.values()))[:3])}, grown here of late" if groups else ""


def _either(words: list[str]) -> str:
    """'a', 'a or b', 'a, b or c'."""
    return " or ".join(part for part in (", ".join(words[:-1]), words[-1]) if part)


def _ground_reasons(ground: Freed) -> tuple[Reason, ...]:
    if not ground.after:
        return (Reason("Nothing stands or is planned there.", rests_on=RestsOn("observed", "daybook", ground.bed.id)),)
    ends = [e for life in ground.after for e in life.sightings.of("clear")[-1:] or life.sightings.of("pick")[-1:]]
    return tuple(from_entry(e, f"Cleared on {day_words(e.happened)}.") for e in ends)


def _group_reasons(view: SeasonView, ground: Freed) -> tuple[Reason, ...]:
    found = {}
    for life in ground.after:
        fact = view.fact(life.planting, "rotation_years_min")
        if fact is not None:
            plants = view.plants(life.planting)
            found[plants] = from_fact(fact, view.handbook, f"Years before kin of {plants} come back to the bed.")
    return tuple(found.values())


def _greens_of(handbook: Handbook) -> tuple[str, ...]:
    """Cover crops of the handbook."""
    return tuple(sorted(s for s in handbook.facts if s.startswith("green-")))


def _covers(view: SeasonView) -> list[str]:
    """Cover crops that may be sown now: the soil is warm enough, the weeks before frost are enough and not too many."""
    today = view.today.toordinal()
    soil = float(np.median(view.clocks.soil_c[:, today - view.clocks.first]))
    frost = _autumn_frost(view)
    weeks = np.where(frost >= BEYOND, 60.0, (frost - today) / 7.0)
    found = []
    for green in _greens_of(view.handbook):
        least, most, warm = (
            view.handbook.number(green, q)
            for q in ("green_weeks_before_frost_min", "green_weeks_before_frost_max", "green_sow_soil_c")
        )
        if least is None or most is None or (warm is not None and soil < warm):
            continue
        share = float(np.mean(weeks >= least))
        if share >= COVER_PAYS and float(np.median(weeks)) <= most:
            found.append((view.handbook.text(green, "green_group") != "legume", -share, green))
    return [green for _, _, green in sorted(found)]


def _autumn_frost(view: SeasonView) -> DayArray:
    """The first killing night of the coming autumn, or of this one. (traces, 1)"""
    today, latitude = view.today.toordinal(), view.garden.site.latitude
    start = today if cooling_half(today, latitude) else midsummer_after(today, latitude)
    return view.clocks.cold_after(KILLING_C, np.full((view.clocks.traces, 1), start, dtype=np.int32))


def _cover(view: SeasonView, ground: Freed, greens: list[str]) -> Window:
    today, handbook = view.today.toordinal(), view.handbook
    names = [handbook.text(green, "green_name", green) for green in greens]
    first = greens[0]
    least = handbook.number(first, "green_weeks_before_frost_min", 0.0) or 0.0
    frost = _autumn_frost(view)
    last = np.where(frost >= BEYOND, frost, frost - np.int32(round(7 * least))).astype(np.int32)
    shuts = np.broadcast_to(np.maximum(last, np.int32(today)), view.shape)
    amount = _amount(view, ground, first)
    end = handbook.text(first, "green_end")
    facts = [
        (green, q, says)
        for green in greens
        for q, says in (
            ("green_weeks_before_frost_min", "{}: sown at least so long before the first killing frost."),
            ("green_weeks_before_frost_max", "{}: and at most so long before it."),
            ("green_sow_soil_c", "{}: in soil at least so warm."),
        )
    ]
    caution = handbook.get("cover-crop", "caution")
    return Window(
        name=f"cover-crop/{ground.bed.id}",
        says=f"Sow {_either(names)} as a cover crop",
        where=ground.bed.name,
        detail="; ".join(part for part in (_free(view, ground), amount, _planned(view, ground) or end) if part),
        reasons=(
            *_ground_reasons(ground),
            from_judgement("No crop of this garden that may stand here still pays in so many seasons.", PAYS, "share"),
            *(
                from_fact(fact, handbook, says.format(handbook.text(green, "green_name", green).capitalize()))
                for green, q, says in facts
                if (fact := handbook.get(green, q)) is not None
            ),
            *((from_fact(caution, handbook, "Mind"),) if caution is not None else ()),
        ),
        opens=same(view, ground.since or view.today),
        due=same(view, view.today),
        shuts=shuts,
        loss=COVER_LOSS,
        lost="the ground lies bare over winter: weeds, washed soil, lost nitrogen",
        minutes=15.0,
        worth=0.6 * _worth(ground, view),
    )


def _amount(view: SeasonView, ground: Freed, green: str) -> str:
    low, high = (view.handbook.number(green, f"green_g_m2_{end}") for end in ("min", "max"))
    if low is None or high is None:
        return ""
    area = ground.length_m * ground.bed.width_m
    return in_running_text(
        f"{max(round(low * area, -1), 10):g} to {max(round(high * area, -1), 10):g} g of seed", view.garden.units
    )


def _planned(view: SeasonView, ground: Freed) -> str:
    if ground.next is None or ground.next_begins is None:
        return ""
    return f"{view.plants(ground.next.planting)} are planned there from {day_words(ground.next_begins)}"


def _worth(ground: Freed, view: SeasonView) -> float:
    return min(max(ground.length_m * ground.bed.width_m / view.mean_area_m2, 0.3), 1.5)
