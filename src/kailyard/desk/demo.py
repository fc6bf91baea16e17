"""Writing the demo garden: the story's daybook and the invented weather, into a folder of its own."""

from __future__ import annotations

from datetime import UTC, datetime

from kailyard.demo import DEMO_DATE
from kailyard.demo.story import demo_entries
from kailyard.demo.weather import demo_record
from kailyard.desk.desk import Desk
from kailyard.desk.view import season_view
from kailyard.documents.sheet import Sheet
from kailyard.season.sheet import compose


def write_demo(desk: Desk) -> Sheet:
    """Write the demo garden into the desk's folder, never over one that exists, and answer its sheet."""
    from kailyard.store.sqlite import create_store

    with create_store(desk.folder, first=demo_entries()) as store:
        read = datetime(2025, 10, 1, 19, 0, tzinfo=UTC)
        store.add_weather(demo_record(), imported=read, name="demo")
    return compose(season_view(desk, on=DEMO_DATE))
