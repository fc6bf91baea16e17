"""Hours as columns, forecasts as issued, stated means by month."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"


def _keys(*names_and_lengths: tuple[str, int]) -> list[sa.Column[str]]:
    pairs = (("garden", 32), *names_and_lengths)
    return [sa.Column(name, sa.String(length), primary_key=True) for name, length in pairs]


def _text(name: str, length: int | None = None) -> sa.Column[str]:
    return sa.Column(name, sa.String(length) if length else sa.Text(), nullable=False)


def upgrade() -> None:
    """Four empty tables more."""
    op.create_table(
        "hours",
        *_keys(("id", 64)),
        _text("name", 80),
        _text("imported", 20),
        _text("forecast", 64),
        _text("source"),
        _text("first", 20),
        _text("last", 20),
        sa.Column("count", sa.Integer, nullable=False),
        sa.Column("wind_height_m", sa.Float(53), nullable=False),
        _text("set_aside"),
    )
    op.create_table(
        "hours_column",
        *_keys(("hours", 64), ("name", 40)),
        _text("encoding", 20),
        sa.Column("cells", sa.LargeBinary, nullable=False),
    )
    op.create_table(
        "issued_forecast",
        *_keys(("id", 64)),
        _text("source", 40),
        _text("issued", 20),
        _text("kept", 20),
        _text("body"),
    )
    op.create_table("normals", *_keys(("id", 64)), _text("kept", 20), _text("body"))
