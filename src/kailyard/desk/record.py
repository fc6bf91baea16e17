"""Keeping what was done, seen, picked and measured; putting right what was entered by mistake."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import get_close_matches

from kailyard.desk import typed
from kailyard.desk.daybook import what_it_says
from kailyard.desk.desk import Desk
from kailyard.desk.fill import fill, kind_says
from kailyard.desk.gauge_asked import gauge_question
from kailyard.desk.handles import Handles, handles, undo
from kailyard.desk.held import after_entry
from kailyard.desk.uses import pick_questions
from kailyard.desk.withdraw import refuse_if_out
from kailyard.documents.table import Table
from kailyard.errors import NotFound, UsageError
from kailyard.garden.identifiers import thing_id_problem
from kailyard.garden.kinds import Kind, kind, names
from kailyard.garden.model import Entry, Garden
from kailyard.handbook.check import STAGES
from kailyard.units import Units

COMMAND_OF = {
    "bed": "kailyard bed",
    "cultivar": "kailyard cultivar",
    "forecast": "kailyard forecast",
    "garden": "kailyard garden",
    "label": "kailyard label",
    "planting": "kailyard planting",
    "weather-aside": "kailyard weather",
    "weather-left": "kailyard weather",
    "withdraw": "kailyard withdraw",
}
"""Kinds that have a command of their own, since they keep what is not named or name another entry."""

MORE_STAGES = ("last-harvest", "tops-down")
"""Stages of the daybook that no leg of the handbook ends in."""


def kinds_of_entry(desk: Desk) -> Table:
    """Every kind of entry with its words."""
    units = _units(desk)
    rows = []
    for name in names():
        known = kind(name)
        target = " or ".join(word for word in known.target if word != "garden")
        if target and "garden" in known.target:
            target = f"[{target}]"
        words = f"see `{COMMAND_OF[name]} --help`" if name in COMMAND_OF else kind_says(known, units)
        words = "its text" if name == "note" else words
        rows.append((name, target, words, known.help))
    notes = (
        "A word with '?' may be left out. Any can be named: `share=70%`. `--on` says the day, `--text` the rest.",
        "Example: `kailyard enter stage pea-6 first-flower --on yesterday`.",
    )
    return Table("Kinds of entry", ("kind", "said of", "words", "what it is"), tuple(rows), notes)


def enter(
    desk: Desk, kind_name: str, words: Sequence[str], *, on: str | None = None, text: str = "", puts_right: str = ""
) -> Table:
    """Keep one entry. Nothing is kept where any word of it is wrong."""
    if kind_name in COMMAND_OF:
        raise UsageError(f"`{COMMAND_OF[kind_name]}` keeps entries of kind '{kind_name}'; its --help tells how.")
    known, garden = kind(kind_name), desk.garden()
    today = desk.today(garden)
    happened = typed.past_day(on, today, "--on")
    target, rest = _target(known, words, garden)
    if kind_name == "note":
        text, rest = " ".join([*rest, *([text] if text else [])]), []
        if not text.strip():
            raise UsageError("enter note: write its text, as in `kailyard enter note bed-3 'Mulched with straw.'`.")
    filled = fill(known, rest, units=garden.units, today=today)
    notes: list[str] = []
    if kind_name == "stage":
        notes += _stage_notes(str(filled.payload["stage"]))
    if kind_name == "decide":
        target = target or _target_of_line(str(filled.payload["line"]), garden, notes)
    by_handle = handles(desk)
    wrong = _to_put_right(desk, by_handle, puts_right) if puts_right else None
    entry = desk.entry(
        kind_name,
        happened=happened,
        target=target,
        quantity=filled.quantity,
        unit=filled.unit,
        text="; ".join(part for part in (filled.counted, text) if part),
        supersedes=wrong.id if wrong else "",
        payload=filled.payload,
    )
    desk.keep([entry])
    said = (str(happened), kind_name, target, what_it_says(entry, garden.units))
    handle = handles(desk).of(entry)
    if kind_name == "rain":
        notes += [question] if (question := gauge_question(desk, happened)) else []
    elif said_too := after_entry(desk, entry):
        notes.append(said_too)
    notes += pick_questions(desk, entry)
    if wrong:
        notes.append(f"It puts right entry {by_handle.of(wrong)}, which no longer counts.")
        notes.append(f"Entry {handle}. `kailyard withdraw {handle}` takes it back; the one it put right stays out.")
    else:
        notes.append(undo(handle))
    return Table("Entered", ("day", "kind", "of", "what"), (said,), tuple(notes))


def _units(desk: Desk) -> Units:
    """The garden's units; metric where there is no garden to ask."""
    try:
        return desk.garden().units
    except NotFound:
        return "metric"


def _target(known: Kind, words: Sequence[str], garden: Garden) -> tuple[str, Sequence[str]]:
    """What the entry speaks of, and the words after it."""
    wanted = [word for word in known.target if word != "garden"]
    if not wanted:
        return "", words
    what = " or ".join(wanted)
    there = [*(garden.plantings if "planting" in wanted else ()), *(garden.beds if "bed" in wanted else ())]
    first = words[0] if words else ""
    if first in there:
        return first, words[1:]
    near = get_close_matches(first, there, n=3)
    hint = f" Did you mean {' or '.join(near)}?" if near else f" `kailyard {wanted[0]}` lists them."
    if "garden" in known.target:
        looks_like_one = first and not thing_id_problem(first) and "-" in first and first[-1].isdigit()
        if looks_like_one:
            raise NotFound(f"There is no {what} {typed.shown(first)}.{hint}")
        return "", words
    if not first:
        raise UsageError(f"enter {known.name}: say which {what}, as in `kailyard enter {known.name} {_like(there)}`.")
    raise NotFound(f"There is no {what} {typed.shown(first)}.{hint}")


def _like(there: list[str]) -> str:
    return sorted(there)[0] if there else "pea-1"


def _stage_notes(stage: str) -> list[str]:
    known = (*STAGES, *MORE_STAGES)
    if stage in known:
        return []
    near = get_close_matches(stage, known, n=2, cutoff=0.75)
    if near:
        raise UsageError(f"There is no stage {typed.shown(stage)}. Did you mean {' or '.join(near)}?")
    return [f"No stage of the handbook is called {typed.shown(stage)}: it is kept, and teaches nothing."]


def _target_of_line(line: str, garden: Garden, notes: list[str]) -> str:
    """The planting that a line of the sheet is about; a doubt where it seems to be about one that is not there."""
    name = line.split("/")[1] if line.count("/") >= 1 else ""
    if name in garden.plantings:
        return name
    if "/" not in line or (name and not thing_id_problem(name) and name[-1].isdigit() and name not in garden.beds):
        notes.append(f"No line of the sheet is likely called {typed.shown(line)}; look at its right edge for the name.")
    return ""


def _to_put_right(desk: Desk, by_handle: Handles, handle: str) -> Entry:
    wrong = by_handle.find(handle, "--puts-right")
    refuse_if_out(wrong, desk.store.entries(), by_handle)
    if wrong.kind in COMMAND_OF:
        raise UsageError(
            f"--puts-right {by_handle.of(wrong)}: an entry of kind '{wrong.kind}' is put right with "
            f"`{COMMAND_OF[wrong.kind]}` or `kailyard withdraw`."
        )
    return wrong
