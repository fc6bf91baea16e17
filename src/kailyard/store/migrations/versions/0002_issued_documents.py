"""Documents as issued: claims are kept."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"


def upgrade() -> None:
    """An empty table more."""
    op.create_table(
        "issued",
        sa.Column("garden", sa.String(32), primary_key=True),
        sa.Column("id", sa.String(64), primary_key=True),
        sa.Column("schema", sa.String(80), nullable=False),
        sa.Column("for_day", sa.String(10), nullable=False),
        sa.Column("as_known", sa.String(10)),
        sa.Column("made_at", sa.String(20), nullable=False),
        sa.Column("version", sa.String(40), nullable=False),
        sa.Column("facts", sa.String(80), nullable=False),
        sa.Column("body", sa.Text, nullable=False),
    )
