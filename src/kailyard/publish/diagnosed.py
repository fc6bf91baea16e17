"""Sentences of a diagnosis that every form says alike."""

from __future__ import annotations

from datetime import date

from kailyard.documents.diagnosis import Cause, Diagnosis, NextSign, ToSend
from kailyard.publish import words
from kailyard.publish.say import ground
from kailyard.publish.words import clean, sentence


def title(document: Diagnosis) -> str:
    """'What is it? Zucchini, Bed 3'."""
    plants = clean(document.plants)
    return f"What is it? {words.named(plants[:1].upper() + plants[1:], document.where)}"


def chance(cause: Cause) -> str:
    """'likely (possible to very likely)', or one word where the whole range says it."""
    return clean(cause.says) if cause.says == cause.span else f"{clean(cause.says)} ({clean(cause.span)})"


def doing(cause: Cause) -> str:
    """Who hears of it first, and what to do now; '' where nothing is known."""
    first = f"Report first: {clean(cause.report)}." if cause.report else ""
    now = f"Now: {clean(cause.do_now).rstrip('.')}." if cause.do_now and cause.do_now != "none" else ""
    if cause.harmless:
        now = "Normal or harmless: nothing to do."
    return " ".join(part for part in (first, now) if part)


def eating(cause: Cause) -> str:
    """Whether it may be eaten, with its own ground."""
    if not cause.eat:
        return ""
    said = f"Eat: {clean(cause.eat).rstrip('.')}"
    return f"{said} ({ground(cause.eat_rests_on)})." if cause.eat_rests_on else f"{said}."


def sides(sign: NextSign) -> str:
    """What either answer would point to."""
    return f"yes points to {clean(sign.if_yes)}; no to {clean(sign.if_no)}"


def testing(what: str) -> str:
    """A small test as a sentence."""
    said = clean(what)
    return sentence(said[:1].upper() + said[1:])


def sampling(sample: ToSend, on: date) -> str:
    """What to send and by when."""
    by = f", by {words.day(sample.by, on)}" if sample.by is not None else ""
    return sentence(f"For a laboratory{by}: {clean(sample.what)}; {clean(sample.says)}")
