"""Look: at what was hurt, at what should have happened by now, and at what the gardener meant to look at again."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Entry
from kailyard.season.done import of_kind
from kailyard.season.hurt import decide
from kailyard.season.life import Life
from kailyard.season.measures import day_words
from kailyard.season.reasons import from_entry, from_fact
from kailyard.season.sightings import as_day
from kailyard.season.stage_words import words
from kailyard.season.view import SeasonView
from kailyard.season.windows import Answer, Look, Rest

NAME = "look"
SCOPE = "planting"
DONE = dict.fromkeys(("look", "watch", "frosted"), of_kind("look", asks="found"))

HEALED_AFTER_DAYS = 42
"""A planting that stood this long after it was hurt is no longer watched for it."""

LOOK_AGAIN_DAYS = 7
DUE = 0.85
"""Chance of a stage being past from which it is worth a look."""


def windows(view: SeasonView, life: Life) -> Iterator[Answer]:
    """What is worth a look now, and what may be left alone."""
    if not life.standing:
        return
    frost = view.seems_killed(life)
    if frost is not None:
        yield _frosted(view, life, frost)
        return
    hurts = [e for e in life.sightings.of("hurt") if (view.today - e.happened).days <= HEALED_AFTER_DAYS]
    if hurts:
        yield _hurt(view, life, hurts[-1])
    else:
        yield from _meant(view, life)
    yield from _due(view, life)
    yield from _normal(view, life)


def _hurt(view: SeasonView, life: Life, hurt: Entry) -> Answer:
    looks = [e for e in life.sightings.of("look") if e.happened >= hurt.happened]
    last = looks[-1] if looks else None
    share, killed = float(hurt.payload.get("share") or 0), float(hurt.payload.get("killed") or 0)
    cause = str(hurt.payload.get("cause", "cause unknown"))
    dead = f", {killed:.0%} dead" if killed else ""
    said = f"{cause} of {day_words(hurt.happened)}: {share:.0%} hurt{dead}".replace("%", " %")
    reasons = [from_entry(hurt, said[0].upper() + said[1:] + ".")]
    if last is not None:
        reasons.append(
            from_entry(
                last,
                f"Looked at on {day_words(last.happened)}: {last.payload.get('found') or last.text or 'nothing new'}.",
            )
        )
    plants, where = view.told_apart(life.planting), view.where(life.planting)
    plants = f"{plants[0].upper()}{plants[1:]}"
    if last is not None and last.payload.get("sound") and _next_look(last) > view.today:
        return Rest(
            name=f"watch/{life.planting.id}",
            says=plants,
            where=where,
            detail=f"{said}; sound on {day_words(last.happened)}. Look again on {day_words(_next_look(last))}.",
            reasons=tuple(reasons),
            urgency=0.5,
        )
    seen = f" Last look {day_words(last.happened)}: {last.payload.get('found') or 'nothing new'}." if last else ""
    decision = decide(view, life, hurt, last)
    reasons += decision.reasons
    return Look(
        name=f"watch/{life.planting.id}",
        says=plants,
        where=where,
        detail=f"{said}. Is the new growth sound?{seen} {decision.says}",
        reasons=tuple(reasons),
        urgency=0.9,
    )


def _frosted(view: SeasonView, life: Life, night: date) -> Look:
    at = night.toordinal() - view.clocks.first
    low_c = float(view.clocks.garden_tmin_c[0, at])
    limit = view.fact(life.planting, "kill_c")
    said = f"about {view.degrees(round(low_c))} in the garden on the night of {day_words(night)}"
    facts = () if limit is None else (from_fact(limit, view.handbook, "The plants die at about this temperature."),)
    return Look(
        name=f"frosted/{life.planting.id}",
        says=view.plants(life.planting).capitalize(),
        where=view.where(life.planting),
        detail=f"{said[0].upper()}{said[1:]}: dead? Clear them, or enter what lives.",
        reasons=(
            Reason(
                f"The record has {said}.",
                round(low_c, 1),
                "°C",
                RestsOn("observed", view.ensemble.source, night.isoformat()),
                facts,
            ),
        ),
        urgency=0.8,
    )


def _next_look(entry: Entry) -> date:
    return as_day(entry.payload.get("next_look")) or entry.happened + timedelta(days=LOOK_AGAIN_DAYS)


def _meant(view: SeasonView, life: Life) -> Iterator[Look]:
    looks = life.sightings.of("look")
    if not looks or not looks[-1].payload.get("next_look"):
        return
    last, due = looks[-1], _next_look(looks[-1])
    if due <= view.today + timedelta(days=6):
        found = last.payload.get("found") or last.text or "nothing"
        yield Look(
            name=f"look/{life.planting.id}",
            says=view.plants(life.planting).capitalize(),
            where=view.where(life.planting),
            detail=f"Last look {day_words(last.happened)}: {found}. Meant for {day_words(due)}.",
            reasons=(from_entry(last, f"Looked at on {day_words(last.happened)}; again meant for {day_words(due)}."),),
            urgency=0.7,
        )


def _due(view: SeasonView, life: Life) -> Iterator[Look]:
    """A stage that has come by all odds but stands nowhere: seen or 'not yet' would sharpen what follows."""
    way = life.timeline
    if way is None or life.sightings.of("pick"):
        return
    for stage in ("emerged", *(need.stage for need in way.stages)):
        odds, known = life.stage(stage), life.sightings.stages.get(stage)
        if odds is None or (known is not None and (known.seen is not None or known.not_yet == view.today)):
            continue
        chance = odds.by(view.today)
        if chance < DUE:
            return
        by = odds.quantile(0.9)
        asked = f"{words(stage)} expected by {day_words(by)}" if by else f"{words(stage)} expected"
        yield Look(
            name=f"look/{life.planting.id}/{stage}",
            says=view.plants(life.planting).capitalize(),
            where=view.where(life.planting),
            detail=f"{asked[0].upper()}{asked[1:]}. Seen, or not yet? Either sharpens what follows.",
            reasons=(
                Reason(
                    "It is past, by all that is known.",
                    round(chance, 3),
                    "chance",
                    RestsOn("computed", "stage odds", ""),
                    way.reasons,
                ),
            ),
            urgency=0.5 if stage == "emerged" else 0.4,
        )
        return


def _normal(view: SeasonView, life: Life) -> Iterator[Rest]:
    """What looks like trouble and is none, for as long as it is usual."""
    text, stage = view.fact(life.planting, "leave_alone"), view.handbook.text(life.planting.crop, "leave_alone_stage")
    if text is None:
        return
    odds = life.stage(stage) if stage else None
    if odds is None:
        return
    last = view.number(life.planting, "leave_alone_days", 14.0)
    first = odds.quantile(0.5)
    if (
        first is not None
        and first <= view.today + timedelta(days=6)
        and view.today <= first + timedelta(days=round(last))
    ):
        yield Rest(
            name=f"leave/{life.planting.id}",
            says=view.plants(life.planting).capitalize(),
            where=view.where(life.planting),
            detail=view.said(life.planting, "leave_alone"),
            reasons=(from_fact(text, view.handbook, "Usual at this stage."),),
        )
