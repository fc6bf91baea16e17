"""Are flowers open, and who is in them? Never on open flowers, even where no bee is seen."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from kailyard.handbook.remedies import bloom_of
from kailyard.troubles.case import Case, asked, by_fact, by_rule, by_weather, read_it
from kailyard.troubles.label import silent
from kailyard.troubles.verdict import Finding

NAME = "bees"


def check(case: Case) -> Iterator[Finding]:
    """By the crop's bloom, the material's class and the hour; open flowers stop every material."""
    remedy, label = case.remedy, case.label
    if label.bees:
        says = f"The label says: “{label.bees.rstrip('.')}”. Obey it."
        yield Finding(NAME, "may", says, by_rule("S25"), beside=True)
    elif not silent(label, "bees"):
        yield read_it(case, NAME, "what it says of bees")
    says = "Open flowers: nothing is sprayed on them, even when no bee is seen. Wait till they shut, or mow the weeds."
    yield asked(case, NAME, "no-open-flowers", says)
    kind = remedy.bee_class if remedy else ""
    if case.flowers_in_bed and kind not in ("low", "none", "moderate"):
        says = f"{_named(case.flowers_in_bed)} may flower in the same bed, and it is highly toxic to bees."
        says = (
            says if kind else f"{_named(case.flowers_in_bed)} may flower in the same bed; how toxic it is is unknown."
        )
        yield Finding(NAME, "not now" if kind else "unknown", says, by_rule("S27"))
    near = (*case.flowers_in_bed, *case.flowers_near)
    if near:
        says = f"{_named(near)} may be in flower about then: let none of it drift there, and see to weeds in flower."
        yield Finding(NAME, "may", says, by_rule("S22"), beside=True)
    if case.in_bloom is False:
        yield Finding(NAME, "may", "The planting is not in flower about then.", by_rule("S27"))
    elif case.in_bloom is None and (kind not in ("low", "none", "moderate") or not case.seen("no-open-flowers")):
        yield Finding(NAME, "unknown", "Whether the planting flowers about then is unknown.", by_rule("S27"))
    elif case.in_bloom is None and bloom_of(case.crop) is not None:
        yield from _open_hours(case)
    elif case.in_bloom is None:
        yield Finding(NAME, "may", "Somebody there has seen that nothing is in flower.", by_rule("S22"))
    elif kind == "high":
        says = "Highly toxic to bees, and the planting flowers day after day: not until it is out of flower."
        yield Finding(NAME, "not now", says, by_fact(remedy.ground("bee_class") if remedy else None, remedy))
    elif not kind:
        yield Finding(NAME, "unknown", "How toxic it is to bees is unknown.", by_rule("S27"))
    else:
        yield from _open_hours(case)
    said = remedy.facts.get("bee_residual") if remedy else None
    if said is not None and said.value not in ("none", "none of note", "not applicable"):
        yield Finding(NAME, "may", f"{said.value[0].upper()}{said.value[1:]}.", by_fact(said, remedy), beside=True)


def _named(things: tuple[str, ...]) -> str:
    words = f"{', '.join(things[:-1])} and {things[-1]}" if len(things) > 1 else things[0]
    return f"{words[0].upper()}{words[1:]}"


def _open_hours(case: Case) -> Iterator[Finding]:
    """In bloom, with a material that is not of the worst: by the hours in which its flowers are open."""
    bloom, sun = bloom_of(case.crop), case.weather.sun.get(case.day)
    if bloom is None:
        says = "The planting is in flower: only where none of its flowers is within reach, in the evening."
        yield Finding(NAME, "may", says, by_rule("S22"), beside=True)
        yield Finding(NAME, "may", "Open flowers decide: see there.", by_rule("S22"))
        return
    if case.hour is None or sun is None:
        yield Finding(NAME, "unknown", "Its flowers open at first light; the hour is not known.", by_weather(case))
        return
    shut = sun.rises + timedelta(hours=bloom.shuts_hours_after_sunrise)
    if case.hour < shut:
        says = (
            f"Its flowers open at first light with {bloom.who} in them: not before they have shut, about {shut:%H:%M}."
        )
        yield Finding(NAME, "not now", says, by_rule("S38"), until=shut)
    else:
        yield Finding(NAME, "may", "By then the day's flowers have shut; not into them, and no drench.", by_rule("S39"))
