"""A copy of a garden that is known to be whole, and a garden made from one."""

from __future__ import annotations

import hashlib
from contextlib import closing
from pathlib import Path

import msgspec

from kailyard.errors import DataError, NotFound
from kailyard.store import sqlite
from kailyard.store.base import StoreError
from kailyard.store.files import DATABASE, OWN_FACTS, connect, copy_database, new_folder, read_head, write_file
from kailyard.store.trouble import told

MANIFEST = "backup.json"
SCHEMA = "kailyard.backup/1"
_KEPT = (DATABASE, OWN_FACTS)


class _Manifest(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What a backup holds: SHA-256 of each file, in hexadecimal."""

    schema: str
    garden: str
    files: dict[str, str]


def backup(folder: Path, to: Path) -> Path:
    """Copy the garden in `folder` to a new folder `to`, there whole or not at all, even while it is being written.

    Raises NotFound where there is no garden, Conflict where `to` exists and is not empty.
    """
    _, garden = read_head(folder)
    with new_folder(to) as part:
        with told(folder):
            copy_database(folder / DATABASE, part / DATABASE)
        if (folder / OWN_FACTS).is_file():
            write_file(part / OWN_FACTS, (folder / OWN_FACTS).read_bytes())
        files = {name: _digest(part / name) for name in _KEPT if (part / name).exists()}
        write_file(part / MANIFEST, msgspec.json.format(msgspec.json.encode(_Manifest(SCHEMA, garden, files))))
    return to


def restore(source: Path, folder: Path) -> tuple[str, ...]:
    """Make the garden in the backup `source` anew in `folder`, never over an existing one; what `verify` says of it.

    Every file is checked first. Raises NotFound where `source` is no backup, DataError where a file is not as it was
    backed up, StoreError where the database in it is damaged, Conflict where `folder` exists and is not empty.
    """
    manifest = _read_manifest(source)
    with new_folder(folder) as part:
        for name, digest in sorted(manifest.files.items()):
            content = (source / name).read_bytes() if (source / name).is_file() else b""
            if hashlib.sha256(content).hexdigest() != digest:
                raise DataError(f"{source / name} is missing or not as it was backed up. Use another backup.")
            write_file(part / name, content)
        with told(source), closing(connect(part / DATABASE)) as db:
            said = db.execute("PRAGMA integrity_check(1)").fetchone()[0]
        if said != "ok":
            raise StoreError(f"The database in {source} is damaged ({said}). Use another backup.")
        with sqlite.open_store(part) as store:
            found = store.verify()
    return found


def _digest(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _read_manifest(source: Path) -> _Manifest:
    path = source / MANIFEST
    if not path.is_file():
        raise NotFound(f"There is no backup at {source}: it has no {MANIFEST}. `kailyard backup` makes one.")
    try:
        manifest = msgspec.json.decode(path.read_bytes(), type=_Manifest)
    except (msgspec.DecodeError, RecursionError) as err:
        raise DataError(f"{path}: {err}. Use another backup.") from None
    if manifest.schema != SCHEMA:
        raise DataError(f"{path}: its form is {manifest.schema!a}, not '{SCHEMA}'. It may be a newer Kailyard's.")
    if DATABASE not in manifest.files or not set(manifest.files) <= set(_KEPT):
        raise DataError(f"{path}: it names other files than a backup holds ({', '.join(_KEPT)}). Use another backup.")
    return manifest
