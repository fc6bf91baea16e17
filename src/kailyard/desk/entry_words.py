"""An entry in the words in which a gardener would say it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from kailyard.desk.daybook import what_it_says
from kailyard.garden.model import Entry
from kailyard.publish.words import day
from kailyard.season.stage_words import words
from kailyard.units import Units

DONE_WORDS = {
    "air-temperature": "air temperature",
    "clear": "cleared",
    "harden": "hardening begun",
    "look": "looked at",
    "moisture": "soil moisture",
    "pick": "picked",
    "plant": "planted",
    "protect": "covered",
    "set-out": "set out",
    "soil-temperature": "soil temperature",
    "sow": "sown",
    "support": "support put up",
    "use": "picked for",
    "want": "wanted a week",
    "water": "watered",
    "work": "",
}
_DAYS = {"until": "until", "next_look": "to be looked at again", "day": "for"}
"""Fields that hold a day, and how it is led up to."""


def counted(entry: Entry) -> tuple[str, str, str] | None:
    """(number, word, rest of the text) of an amount that was counted: '12', 'heads', ''; None where none was."""
    if entry.unit != "count" or entry.quantity is None:
        return None
    said, _, rest = entry.text.partition("; ")
    number, _, word = said.partition(" ")
    if number == f"{entry.quantity:g}" and word.isalpha():
        return number, word, rest
    return f"{entry.quantity:g}", "pieces", entry.text


def entry_says(entry: Entry, units: Units) -> str:
    """'picked 1.2 kg', 'first flower not yet seen', 'rain 7 mm': what an entry says, without its day and target."""
    payload = dict(entry.payload)
    lead = DONE_WORDS.get(entry.kind, entry.kind.replace("-", " "))
    if entry.kind == "stage":
        state = "not yet seen" if payload.pop("state", "seen") == "not yet" else "seen"
        lead = f"{words(str(payload.pop('stage', '')))} {state}"
        if (share := payload.pop("share", None)) is not None:
            lead += f" on {round(float(share) * 100)} %"
    elif entry.kind == "decide":
        lead = f"{payload.pop('verdict', '')}: {payload.pop('line', '')}"
    elif entry.kind == "water":
        counts = [f"{n:g} {name}" for name in ("minutes", "cans") if (n := payload.pop(name, None)) is not None]
        by = f" with the {outlet}" if (outlet := payload.pop("outlet", "")) else ""
        lead = " ".join((lead, *counts)) + by
    elif entry.kind == "look" and payload.get("sound") is True:
        payload.pop("sound")
        lead += ", sound"
    if amount := counted(entry):
        number, word, text = amount
        lead += f" {number} {word}"
        entry = replace(entry, quantity=None, unit="", text=text)
    days = [
        f"{called} {day(date.fromisoformat(str(said)), entry.happened)}"
        for name, called in _DAYS.items()
        if (said := payload.pop(name, None))
    ]
    rest = ", ".join(part for part in (what_it_says(replace(entry, payload=payload), units), *days) if part)
    if not lead or not rest:
        return lead or rest
    return f"{lead} {rest}" if entry.quantity is not None or not (payload or entry.text) else f"{lead}: {rest}"
