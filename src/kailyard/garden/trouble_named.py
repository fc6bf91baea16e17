"""Entries that name a trouble: it is one of the handbook's, so that it can be counted with others of its kind."""

from __future__ import annotations

from kailyard.errors import NotFound


def trouble_problem(id_: str) -> str:
    """What is wrong with a trouble's identifier as an entry has it; '' where the handbook knows it."""
    from kailyard.handbook.troubles import trouble  # loaded for an entry that names one

    try:
        trouble(id_)
    except NotFound as err:
        return str(err)
    return ""
