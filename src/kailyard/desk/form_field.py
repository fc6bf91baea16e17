"""One field of a form for an entry."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class FormField:
    """One field of the kind."""

    name: str
    label: str
    takes: str
    """'text', 'number', 'count', 'share', 'yes or no', 'day' or 'word'."""
    unit: str
    choices: tuple[tuple[str, str], ...]
    """(value, label) of a choice."""
    value: str
    needed: bool
    blank: str
    """How a choice that is left open is called; '' where one always stands."""
