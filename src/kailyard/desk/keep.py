"""Keeping the garden safe: backup, restore, verify; and the whole garden as one file, out and in."""

from __future__ import annotations

import os
from pathlib import Path
from uuid import uuid4

from kailyard.desk.desk import Desk
from kailyard.documents.table import Table
from kailyard.errors import Conflict, DataError

LARGEST_BYTES = 500_000_000
"""A garden's JSON beyond this is no garden's: a century of one is some tens of megabytes."""


def back_up(desk: Desk, to: str) -> Table:
    """Copy the garden to a new folder, there whole or not at all."""
    from kailyard.store.backup import backup

    made = backup(desk.folder, Path(to))
    note = f"Each file carries its digest. `kailyard restore {to} NEW-FOLDER` makes a garden of it."
    return Table(f"Backed up to {made}", notes=(note,))


def restore(desk: Desk, source: str) -> Table:
    """Make the garden of a backup anew in the desk's folder, never over one that exists."""
    from kailyard.store.backup import restore as restore_backup

    found = restore_backup(Path(source), desk.folder)
    return Table(f"Restored to {desk.folder}", notes=(_what_there_is(desk), *found))


def verify(desk: Desk, *, rebuild: bool = False) -> Table:
    """Look for everything wrong or odd in what is kept; DataError names it all.

    With `rebuild` the tables of beds, cultivars and plantings are first made anew from the daybook.
    """
    if rebuild:
        desk.store.rebuild()
    problems = desk.store.verify()
    if problems:
        raise DataError(problems)
    notes = ("The tables of beds, cultivars and plantings were made anew.",) if rebuild else ()
    return Table("The garden is sound", notes=(*notes, _what_there_is(desk)))


def export(desk: Desk, to: str) -> Table:
    """Write the whole garden as one JSON file, never over one that exists."""
    from kailyard.store.exchange import export_garden
    from kailyard.store.files import sync_folder, write_file

    content, path = export_garden(desk.store), Path(to)
    part = path.with_name(f".{path.name}.{uuid4().hex}")
    try:
        if path.exists():
            raise Conflict(f"{path} exists already. Choose another name; nothing was written.")
        write_file(part, content)
        os.rename(part, path)
        sync_folder(path.parent)
    except OSError as err:
        raise DataError(f"{path} cannot be written: {err.strerror}. Choose another place.") from err
    finally:
        part.unlink(missing_ok=True)
    return Table(
        f"Exported to {path}", notes=(_what_there_is(desk), f"{len(content):,} bytes. Read it: `kailyard import`.")
    )


def import_(desk: Desk, file: str) -> Table:
    """Make a garden from an exported file anew in the desk's folder, never over one that exists."""
    from kailyard.store.exchange import import_garden

    path = Path(file)
    try:
        size = path.stat().st_size
        if size > LARGEST_BYTES:
            raise DataError(
                f"{path}: {size:,} bytes; a garden's file has {LARGEST_BYTES:,} at most. Is it the right one?"
            )
        content = path.read_bytes()
    except OSError as err:
        raise DataError(f"{path} cannot be read: {err.strerror}. Name a file that `kailyard export` wrote.") from err
    import_garden(content, desk.folder)
    return Table(f"Imported to {desk.folder}", notes=(_what_there_is(desk),))


def _what_there_is(desk: Desk) -> str:
    entries, records = desk.store.entries(), desk.store.weather_imports()
    beds, plantings = len(desk.store.beds()), len(desk.store.plantings())
    return f"{len(entries)} entries, {beds} beds, {plantings} plantings, {len(records)} weather records."
