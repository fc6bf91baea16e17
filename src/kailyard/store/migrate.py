"""Bringing the tables of an older program up to this one's. Alembic is imported here and nowhere else."""

from __future__ import annotations

from pathlib import Path

from alembic import command
from alembic.config import Config
from sqlalchemy import Engine

from kailyard.store import schema
from kailyard.store.files import copy_database
from kailyard.store.sql import WRITES

MIGRATIONS = Path(__file__).with_name("migrations")


def config() -> Config:
    """Alembic's settings: where the steps lie."""
    made = Config()
    made.set_main_option("script_location", str(MIGRATIONS).replace("%", "%%"))
    return made


def migrate(path: Path, engine: Engine) -> None:
    """Bring the SQLite database at `path` to state `schema.NUMBER`, all steps or none.

    A copy as it was is left beside it, `garden.db.before-NNNN`.
    """
    copy_database(path, path.with_name(f"{path.name}.before-{schema.NUMBER:04d}"))
    steps = config()
    with engine.execution_options(**{WRITES: True}).begin() as db:
        steps.attributes["connection"] = db
        command.upgrade(steps, "head")
