"""Risks in words: for terminal and page alike."""

from __future__ import annotations

from kailyard.documents.risk import DayRisk, Risk, RuleRisk
from kailyard.publish import words

RULE_COLUMNS = ("rule", "past week", "coming week", "later")
DAY_COLUMNS = ("day", "chance", "its hours are")


def rule_row(rule: RuleRisk, document: Risk) -> tuple[str, ...]:
    """Name, and the chance that it is reached on any day of each stretch."""
    return (name_words(rule, document), _odds(rule.past_week), _odds(rule.coming_week), _odds(rule.later))


def name_words(rule: RuleRisk, document: Risk) -> str:
    """Its name; with the plants where the same rule is told of others too."""
    name = words.clean(rule.name)
    if not rule.of or sum(each.model == rule.model for each in document.rules) < 2:
        return name
    more = f" and {len(rule.of) - 1} more" if len(rule.of) > 1 else ""
    return f"{name}: {words.clean(rule.of[0])}{more}"


LEAST = 0.05
"""Chances below it are 'hardly' and get no line of their own."""


def worth_telling(document: Risk) -> list[RuleRisk]:
    """Rules with a chance worth a line."""
    return [r for r in document.rules if any((odds or 0) >= LEAST for odds in (r.past_week, r.coming_week, r.later))]


def quiet_words(document: Risk) -> str:
    """The others, in one sentence."""
    told = worth_telling(document)
    spoken = {rule.name for rule in told}
    quiet = [rule for rule in document.rules if rule not in told]
    names, lacking = (
        dict.fromkeys(words.clean(r.name) if r.name not in spoken else name_words(r, document) for r in some)
        for some in ([r for r in quiet if r.days], [r for r in quiet if not r.days])
    )
    said = f"Hardly a chance in these weeks: {'; '.join(names)}." if names else ""
    if lacking:
        said += f" Not told, for want of hours that were observed or forecast: {'; '.join(lacking)}."
    sums = [
        f"{name_words(rule, document)} {rule.sum_so_far:g} of {rule.level:g}"
        for rule in document.rules
        if rule.sum_so_far and rule not in told
    ]
    return (f"{said} Sums so far: {'; '.join(sums)}." if sums else said).strip()


def day_rows(rule: RuleRisk) -> list[tuple[str, ...]]:
    """Each day on which there is a chance worth a line."""
    return [(words.day_of_week(d.day), words.in_ten(d.chance), d.known) for d in rule.days if d.chance >= LEAST]


def known_words(rule: RuleRisk) -> str:
    """How the days' hours are known, stretch by stretch."""
    parts: list[tuple[str, DayRisk, DayRisk]] = []
    for each in rule.days:
        if parts and parts[-1][0] == each.known:
            parts[-1] = (each.known, parts[-1][1], each)
        else:
            parts.append((each.known, each, each))
    return "; ".join(f"{words.span(first.day, last.day)} {known}" for known, first, last in parts)


def sum_words(rule: RuleRisk) -> str:
    """Of rules that add up: how far the sum has come."""
    if rule.sum_so_far is None:
        return ""
    begun = "" if rule.since is None else f" since {words.short_day(rule.since)}"
    anew = f", when {words.clean(rule.after)} was put on" if rule.after else ""
    return f"The sum{begun}{anew} stood at {rule.sum_so_far:g} of {rule.level:g} yesterday."


def status_words(rule: RuleRisk) -> str:
    """What the rule rests on."""
    note = f" {words.sentence(rule.note[0].upper() + rule.note[1:])}" if rule.note else ""
    return f"{rule.status.capitalize()}: {words.clean(rule.source).rstrip('.')}.{note}"


def _odds(chance: float | None) -> str:
    if chance is None:
        return "not told"
    return "hardly" if chance < LEAST else words.in_ten(chance)
