"""What an entry did to the odds: a planting's stages before and after it, said in one line."""

from __future__ import annotations

from collections.abc import Mapping

from kailyard.desk.ask import stages
from kailyard.desk.desk import Desk
from kailyard.desk.view import season_view
from kailyard.errors import DataError, NotFound

SAYS_NOTHING = ("decide", "harden", "note")
"""Kinds of entry from which no stage is known better."""


def foreseen(desk: Desk, planting: str, kind: str) -> Mapping[str, str]:
    """Each stage still to come with its odds in words, by its name in running text; empty where none is foreseen.

    Empty too where an entry of this kind cannot change them.
    """
    try:
        if kind in SAYS_NOTHING or planting not in desk.garden().plantings:
            return {}
        with desk.settled(lambda: season_view(desk)):
            return {one.words: one.odds_words for one in stages(desk, planting).stages if one.seen is None}
    except (DataError, NotFound):
        return {}


def narrowed(before: Mapping[str, str], after: Mapping[str, str]) -> str:
    """'First picking is now foreseen 28 June to 8 July, 8 in 10; it was 28 June to 17 July, 8 in 10.' or ''."""
    changed = [(stage, before[stage], odds) for stage, odds in after.items() if before.get(stage, odds) != odds]
    if not changed:
        return ""
    stage, was, now = changed[0]
    return f"{stage[:1].upper()}{stage[1:]} is now foreseen {now}; it was {was}."
