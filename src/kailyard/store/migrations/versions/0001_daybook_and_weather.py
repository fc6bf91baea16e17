"""The daybook, the projections made from it, and weather as columns."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None


def _keys(*names_and_lengths: tuple[str, int]) -> list[sa.Column[str]]:
    pairs = (("garden", 32), *names_and_lengths)
    return [sa.Column(name, sa.String(length), primary_key=True) for name, length in pairs]


def _text(name: str, length: int | None = None) -> sa.Column[str]:
    return sa.Column(name, sa.String(length) if length else sa.Text(), nullable=False)


def upgrade() -> None:
    """From an empty database."""
    op.create_table("garden", sa.Column("id", sa.String(32), primary_key=True))
    op.create_table(
        "entry",
        *_keys(("id", 64)),
        _text("kind", 40),
        sa.Column("version", sa.Integer, nullable=False),
        _text("happened", 10),
        _text("written", 20),
        _text("who", 80),
        _text("target", 40),
        sa.Column("quantity", sa.Float(53)),
        _text("unit", 80),
        _text("text"),
        _text("supersedes", 64),
        _text("payload"),
    )
    op.create_index("entry_kind", "entry", ["garden", "kind"])
    op.create_index("entry_supersedes", "entry", ["garden", "supersedes"])
    op.create_table("bed", *_keys(("id", 40)), _text("body"), _text("entry", 64))
    op.create_table("cultivar", *_keys(("crop", 40), ("name", 80)), _text("body"), _text("entry", 64))
    op.create_table("planting", *_keys(("id", 40)), _text("body"), _text("entry", 64))
    op.create_table(
        "weather",
        *_keys(("id", 64)),
        _text("name", 80),
        _text("imported", 20),
        _text("source"),
        _text("first", 10),
        sa.Column("days", sa.Integer, nullable=False),
        _text("set_aside"),
    )
    op.create_table(
        "weather_column",
        *_keys(("weather", 64), ("name", 40)),
        _text("encoding", 20),
        sa.Column("cells", sa.LargeBinary, nullable=False),
    )
