"""Marks of the tables of troubles as grounds of reasons."""

from __future__ import annotations

from kailyard.documents._parts import Status


def as_status(text: str) -> Status:
    """A table's mark: what is neither published nor from memory is common practice."""
    return "published" if text == "published" else "memory" if text == "memory" else "common practice"
