"""Bringing the tables of an older program up to this one's. Alembic is imported here and nowhere else."""

from __future__ import annotations

import os
from contextlib import closing
from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import Engine

from kailyard.store import schema
from kailyard.store.sql import WRITES

MIGRATIONS = Path(__file__).with_name("migrations")


def config() -> Config:
    """Alembic's settings: where the steps lie."""
    made = Config()
    made.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    return made


def migrate(path: Path, engine: Engine, number: int) -> None:
    """Bring the SQLite database at `path` from state `number` to `schema.NUMBER`, all steps or none.

    A copy as it was is left beside it, `garden.db.before-NNNN`.
    """
    copy_database(path, path.with_name(f"{path.name}.before-{schema.NUMBER:04d}"))
    steps = config()
    with engine.execution_options(**{WRITES: True}).begin() as db:
        steps.attributes["connection"] = db
        command.upgrade(steps, "head")


def copy_database(path: Path, to: Path) -> None:
    """A whole copy of the SQLite database at `path`, even while another program writes it; `to` appears complete."""
    from kailyard.store.sqlite import connect, sync_folder

    part = to.with_name(f".{to.name}.part")
    part.unlink(missing_ok=True)
    part.touch()
    with closing(connect(path)) as source, closing(connect(part)) as copy:
        source.backup(copy)
    os.replace(part, to)
    sync_folder(to.parent)
