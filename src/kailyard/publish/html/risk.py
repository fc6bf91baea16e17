"""Risks of diseases as a page: rules at a glance, each with its days folded away; conditions in words."""

from __future__ import annotations

from kailyard.documents.risk import Conditions, Risk, RuleRisk
from kailyard.publish import words
from kailyard.publish.html._page import Body, Paper, heading, page, table, why
from kailyard.publish.markup import Markup, el, spaced, together
from kailyard.publish.say_risk import (
    DAY_COLUMNS,
    RULE_COLUMNS,
    day_rows,
    known_words,
    name_words,
    quiet_words,
    rule_row,
    status_words,
    sum_words,
    worth_telling,
)


def render(document: Risk, *, paper: Paper | None = None) -> str:
    """A file that stands alone."""
    return page(body(document), paper=paper)


def body(document: Risk) -> Body:
    """Rules, then conditions, then how hours are known."""
    title = "When the weather favours diseases"
    rules = Markup()
    if document.rules:
        told = worth_telling(document)
        rows = [rule_row(rule, document) for rule in told]
        rules = together(
            table(RULE_COLUMNS, rows, numeric=[False] * len(RULE_COLUMNS)) if rows else Markup(),
            el("p", quiet_words(document)),
            *(_rule(rule, document) for rule in told),
        )
    else:
        rules = el("p", "No published rule speaks of anything that stands in the beds now.")
    parts = (
        heading(words.full_day(document.on), f"{title}, {document.garden}"),
        el("section", rules),
        _conditions(document.conditions),
        el("footer", *(el("p", words.clean(note)) for note in document.notes)),
    )
    return Body(f"{title}, {document.garden}", parts)


def _rule(rule: RuleRisk, document: Risk) -> Markup:
    days = day_rows(rule)
    said = spaced(f"The rule: {words.sentence(rule.says)}", sum_words(rule), status_words(rule))
    return el(
        "details",
        el("summary", name_words(rule, document)),
        el("p", words.clean("; ".join(rule.of)) + "."),
        el("p", said),
        el("p", f"Hours: {known_words(rule)}.", class_="lost"),
        table(DAY_COLUMNS, days, numeric=[False] * len(DAY_COLUMNS))
        if days
        else el("p", "Hardly on any of these days."),
        why(rule.reasons, document.units),
    )


def _conditions(conditions: tuple[Conditions, ...]) -> Markup:
    if not conditions:
        return Markup()
    items = [_condition(one) for one in conditions]
    return el(
        "section",
        el("h2", "Without a published rule for gardens"),
        el("p", f"{len(items)} diseases of what stands: nothing is reckoned for them."),
        el("details", el("summary", "What favours them, in words"), el("ul", *items)),
    )


def _condition(one: Conditions) -> Markup:
    said = f"({words.clean('; '.join(one.of))}): {words.clean(one.says)}. First seen: {words.clean(one.look)}."
    ground = el("span", f"{one.status}: {words.clean(one.source)}", class_="lost")
    return el("li", spaced(el("b", words.clean(one.name)), said, ground))
