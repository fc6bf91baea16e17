"""The round in words: for terminal and page alike."""

from __future__ import annotations

from datetime import date

from kailyard.documents.scout import LifeStep, Lookout, Stop
from kailyard.publish import words

STEP_COLUMNS = ("step of its life", "come", "within the week", "from", "to", "rests on")


def title(one: Lookout) -> str:
    """'squash bug on zucchini ‘Ferry Green’'."""
    return f"{words.clean(one.name)} on {words.clean(one.plants)}"


def task(one: Lookout) -> str:
    """Where and how to look."""
    how = f" ({words.clean(one.how)})" if one.how else ""
    return f"Look {one.effort}: {words.clean(one.where)}{how}. Why now: {words.clean(one.why)}."


def figures(one: Lookout) -> list[str]:
    """Thresholds, each with its mark."""
    return [f"Worth acting from: {words.clean(f.says)} ({f.status}: {words.clean(f.source)})" for f in one.figures]


def counts(one: Lookout) -> list[str]:
    """What the counts say."""
    return [words.sentence(line[0].upper() + line[1:]) for line in map(words.clean, one.counts)]


def step_rows(one: Lookout) -> list[tuple[str, ...]]:
    """Each step of life with its odds."""
    return [_step(s) for s in one.steps]


def passing(stop: Stop) -> str:
    """Due ones that need no more than a glance, and those that are not due, in one sentence each."""
    glance = [k.name for k in stop.lookouts if k.due and k.effort == "in passing"]
    later = [f"{k.name} on {words.day_of_week(k.next_look)}" for k in stop.lookouts if not k.due]
    parts = []
    if glance:
        parts.append(f"In passing: {', '.join(map(words.clean, glance))}.")
    if later:
        parts.append(f"Again: {', '.join(map(words.clean, later))}.")
    return " ".join(parts)


def main(stop: Stop) -> list[Lookout]:
    """What is to be looked for in earnest today."""
    return [k for k in stop.lookouts if k.due and k.effort != "in passing"]


def _step(step: LifeStep) -> tuple[str, ...]:
    return (
        words.clean(step.event),
        words.in_ten(step.come),
        words.in_ten(step.week),
        _day(step.low),
        _day(step.high),
        f"{step.status}: {words.clean(step.source)}",
    )


def _day(day: date | None) -> str:
    return "beyond" if day is None else words.short_day(day)
