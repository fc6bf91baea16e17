"""The tables, in types that any SQL database has. Days and moments are ISO 8601 text: it sorts as time does.

`NUMBER` is the state of the tables that this program writes; it stands in `alembic_version`, as text of four digits,
and each step to it is a file of `migrations/versions`.
"""

from __future__ import annotations

from sqlalchemy import Column, Float, Index, Integer, LargeBinary, MetaData, String, Table, Text

NUMBER = 3

metadata = MetaData()

version = Table("alembic_version", metadata, Column("version_num", String(32), primary_key=True))

garden = Table("garden", metadata, Column("id", String(32), primary_key=True))

entry = Table(
    "entry",
    metadata,
    Column("garden", String(32), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("kind", String(40), nullable=False),
    Column("version", Integer, nullable=False),
    Column("happened", String(10), nullable=False),
    Column("written", String(20), nullable=False),
    Column("who", String(80), nullable=False),
    Column("target", String(40), nullable=False),
    Column("quantity", Float(53)),
    Column("unit", String(80), nullable=False),
    Column("text", Text, nullable=False),
    Column("supersedes", String(64), nullable=False),
    Column("payload", Text, nullable=False),
    Index("entry_kind", "garden", "kind"),
    Index("entry_supersedes", "garden", "supersedes"),
)

# Projections: `body` is the thing as JSON, `entry` the one that last defined it.
bed = Table(
    "bed",
    metadata,
    Column("garden", String(32), primary_key=True),
    Column("id", String(40), primary_key=True),
    Column("body", Text, nullable=False),
    Column("entry", String(64), nullable=False),
)
cultivar = Table(
    "cultivar",
    metadata,
    Column("garden", String(32), primary_key=True),
    Column("crop", String(40), primary_key=True),
    Column("name", String(80), primary_key=True),
    Column("body", Text, nullable=False),
    Column("entry", String(64), nullable=False),
)
planting = Table(
    "planting",
    metadata,
    Column("garden", String(32), primary_key=True),
    Column("id", String(40), primary_key=True),
    Column("body", Text, nullable=False),
    Column("entry", String(64), nullable=False),
)

weather = Table(
    "weather",
    metadata,
    Column("garden", String(32), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("name", String(80), nullable=False),
    Column("imported", String(20), nullable=False),
    Column("source", Text, nullable=False),
    Column("first", String(10), nullable=False),
    Column("days", Integer, nullable=False),
    Column("set_aside", Text, nullable=False),
)
weather_column = Table(
    "weather_column",
    metadata,
    Column("garden", String(32), primary_key=True),
    Column("weather", String(64), primary_key=True),
    Column("name", String(40), primary_key=True),
    Column("encoding", String(20), nullable=False),
    Column("cells", LargeBinary, nullable=False),
)

# Documents as they went out, so that a season's review can say how right they were.
issued = Table(
    "issued",
    metadata,
    Column("garden", String(32), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("schema", String(80), nullable=False),
    Column("for_day", String(10), nullable=False),
    Column("as_known", String(10)),
    Column("made_at", String(20), nullable=False),
    Column("version", String(40), nullable=False),
    Column("facts", String(80), nullable=False),
    Column("body", Text, nullable=False),
)

# Hours as they were read, and the hours of forecasts; `first` and `last` are beginnings of hours, in UTC.
hours = Table(
    "hours",
    metadata,
    Column("garden", String(32), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("name", String(80), nullable=False),
    Column("imported", String(20), nullable=False),
    Column("forecast", String(64), nullable=False),
    Column("source", Text, nullable=False),
    Column("first", String(20), nullable=False),
    Column("last", String(20), nullable=False),
    Column("count", Integer, nullable=False),
    Column("wind_height_m", Float(53), nullable=False),
    Column("set_aside", Text, nullable=False),
)
hours_column = Table(
    "hours_column",
    metadata,
    Column("garden", String(32), primary_key=True),
    Column("hours", String(64), primary_key=True),
    Column("name", String(40), primary_key=True),
    Column("encoding", String(20), nullable=False),
    Column("cells", LargeBinary, nullable=False),
)

# Forecasts as they were issued: the days as JSON, their hours in the tables above.
issued_forecast = Table(
    "issued_forecast",
    metadata,
    Column("garden", String(32), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("source", String(40), nullable=False),
    Column("issued", String(20), nullable=False),
    Column("kept", String(20), nullable=False),
    Column("body", Text, nullable=False),
)

# Stated means by month, to compare with.
normals = Table(
    "normals",
    metadata,
    Column("garden", String(32), primary_key=True),
    Column("id", String(64), primary_key=True),
    Column("kept", String(20), nullable=False),
    Column("body", Text, nullable=False),
)
