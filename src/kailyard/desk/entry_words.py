"""An entry in the words in which a gardener would say it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from kailyard.desk.daybook import what_it_says
from kailyard.garden.model import Entry
from kailyard.publish.words import day
from kailyard.season.stage_words import words
from kailyard.units import Units

_DONE = {
    "air-temperature": "air temperature",
    "clear": "cleared",
    "harden": "hardening begun",
    "look": "looked at",
    "pick": "picked",
    "plant": "planted",
    "protect": "covered",
    "set-out": "set out",
    "soil-temperature": "soil temperature",
    "sow": "sown",
    "support": "support put up",
    "work": "",
}


def entry_says(entry: Entry, units: Units) -> str:
    """'picked 1.2 kg', 'first flower not yet seen', 'rain 7 mm': what an entry says, without its day and target."""
    payload = dict(entry.payload)
    lead = _DONE.get(entry.kind, entry.kind.replace("-", " "))
    if entry.kind == "stage":
        lead = f"{words(str(payload.pop('stage', '')))} {payload.pop('state', 'seen')}".replace(
            "not yet", "not yet seen"
        )
        if (share := payload.pop("share", None)) is not None:
            lead += f" on {round(float(share) * 100)} %"
    elif entry.kind == "decide":
        lead = f"{payload.pop('verdict', '')}: {payload.pop('line', '')}"
        if until := payload.pop("until", None):
            lead += f", until {day(date.fromisoformat(str(until)), entry.happened)}"
    elif entry.kind == "look" and payload.get("sound") is True:
        payload.pop("sound")
        lead += ", sound"
    rest = what_it_says(replace(entry, payload=payload), units)
    return " ".join(part for part in (lead, rest) if part)
