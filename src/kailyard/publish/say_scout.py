"""The round in words: for terminal and page alike."""

from __future__ import annotations

from datetime import date

from kailyard.documents.scout import LifeStep, Lookout, Stop
from kailyard.publish import words

STEP_COLUMNS = ("step of its life", "come", "within the week", "from", "to")


def title(one: Lookout) -> str:
    """'Squash bug on zucchini ‘Ferry Green’'."""
    said = f"{words.clean(one.name)} on {words.clean(one.plants)}"
    return said[:1].upper() + said[1:]


def task(one: Lookout) -> str:
    """Where and how to look."""
    how = f" ({words.clean(one.how)})" if one.how else ""
    return f"Look {one.effort}: {words.clean(one.where)}{how}. Why now: {words.clean(one.why)}."


def figures(one: Lookout) -> list[str]:
    """Thresholds, each with its mark; the source stands among the grounds."""
    return [
        f"{'Worth acting from: ' if f.known else ''}{says if f.known else says[:1].upper() + says[1:]} ({f.status})"
        for f in one.figures
        for says in (words.clean(f.says),)
    ]


def counts(one: Lookout) -> list[str]:
    """What the counts say."""
    return [words.sentence(line[:1].upper() + line[1:]) for line in map(words.clean, one.counts)]


def enemies(one: Lookout) -> list[str]:
    """Its natural enemies, in one sentence or none."""
    return [f"Natural enemies, to be spared: {words.clean(one.enemies)}."] if one.enemies else []


def step_rows(one: Lookout) -> list[tuple[str, ...]]:
    """Each step of life with its odds."""
    return [_step(s) for s in one.steps]


def step_words(step: LifeStep) -> str:
    """The same in a sentence."""
    span = f"{_day(step.low)} to {_day(step.high)}"
    if step.come >= 0.99:
        return f"{words.clean(step.event)}: has come ({step.status})"
    chances = f"{words.in_ten(step.come)} that it has come, {words.in_ten(step.week)} for the coming week"
    return f"{words.clean(step.event)}: {chances}; {span} ({step.status})"


def glances(stop: Stop) -> list[Lookout]:
    """Due ones that need no more than a glance."""
    return [k for k in stop.lookouts if k.due and k.effort == "in passing"]


def glance(one: Lookout) -> str:
    """One of them: 'Late blight on potatoes: anywhere, often upper leaves.'"""
    return words.sentence(f"{title(one)}: {words.clean(one.where)}")


def again(stop: Stop) -> str:
    """What was looked for and is not due yet, in one sentence."""
    later = [f"{k.name} on {words.day_of_week(k.next_look)}" for k in stop.lookouts if not k.due and not k.counts]
    return f"Again: {', '.join(map(words.clean, later))}." if later else ""


def passing(stop: Stop) -> str:
    """Due ones that need no more than a glance, and those that are not due, in one sentence each."""
    named = [words.clean(k.name) for k in glances(stop)]
    said = [f"In passing: {', '.join(named)}."] if named else []
    return " ".join([*said, *filter(None, [again(stop)])])


def looked(one: Lookout) -> str:
    """What was counted and is not due again yet: what the counts say, and when to look again."""
    return f"{title(one)}: {' '.join(counts(one))} Look again on {words.day_of_week(one.next_look)}."


def counted(stop: Stop) -> list[Lookout]:
    """What was counted and is not due again yet."""
    return [k for k in stop.lookouts if not k.due and k.counts]


def closely(stop: Stop) -> list[Lookout]:
    """What is to be looked for closely today."""
    return [k for k in stop.lookouts if k.due and k.effort == "closely"]


def usual(stop: Stop) -> list[Lookout]:
    """What is to be looked for as usual today."""
    return [k for k in stop.lookouts if k.due and k.effort == "as usual"]


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
    )


def _day(day: date | None) -> str:
    return "beyond" if day is None else words.short_day(day)
