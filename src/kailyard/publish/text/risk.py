"""Risks of diseases for a terminal."""

from __future__ import annotations

from kailyard.documents.risk import Risk, RuleRisk
from kailyard.publish import plain, words
from kailyard.publish.say_risk import (
    DAY_COLUMNS,
    RULE_COLUMNS,
    day_rows,
    known_words,
    quiet_words,
    rule_row,
    status_words,
    sum_words,
    worth_telling,
)


def render(document: Risk, *, width: int = 80, ascii_only: bool = False) -> str:
    """Rules at a glance, then each by its days; then conditions in words."""
    rows = plain.block(f"{words.clean(document.garden)}, {words.full_day(document.on)}", width)
    rows += plain.block("When the weather favours diseases of what stands", width)
    told = worth_telling(document)
    if told:
        rows += ["", *plain.table(RULE_COLUMNS, [rule_row(rule, document) for rule in told], width)]
    if quiet := quiet_words(document):
        rows += ["", *plain.block(quiet, width)]
    for rule in told:
        rows += ["", *_rule(rule, document, width)]
    if document.conditions:
        rows += ["", *plain.block("No rule of weather is published for these in gardens; what favours them:", width)]
    for one in document.conditions:
        said = f"{words.clean(one.name)}: {words.clean(one.says)}; first seen: {words.clean(one.look)} ({one.status})"
        rows += plain.block(words.sentence(said), width, first="- ")
    if document.notes:
        rows.append("")
    for note in document.notes:
        rows += plain.block(words.clean(note), width)
    return plain.finish(rows, ascii_only=ascii_only)


def _rule(rule: RuleRisk, document: Risk, width: int) -> list[str]:
    rows = plain.block(f"{words.clean(rule.name)} ({words.clean('; '.join(rule.of))})", width)
    rows += plain.block(f"The rule: {words.sentence(rule.says)} {sum_words(rule)}".strip(), width, first="  ")
    rows += plain.block(status_words(rule), width, first="  ")
    rows += plain.block(f"Hours: {known_words(rule)}.", width, first="  ")
    return rows + ["  " + row for row in plain.table(DAY_COLUMNS, day_rows(rule), width - 2)]
