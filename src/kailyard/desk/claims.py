"""Claims are kept: today's sheet as it was issued, with the program and the facts that made it."""

from __future__ import annotations

from kailyard import __version__
from kailyard.desk.desk import Desk
from kailyard.documents.sheet import Sheet
from kailyard.handbook.load import fingerprint
from kailyard.publish.codec import to_json
from kailyard.store.base import Issued, StoreError


def keep_claims(desk: Desk, sheet: Sheet) -> None:
    """Keep a sheet as issued, the same sheet once. Where nothing can be written the sheet still stands."""
    issued = Issued(
        schema=sheet.schema,
        on=sheet.first,
        as_known=None,
        made_at=desk.now(),
        version=__version__,
        facts=fingerprint(desk.own_facts()),
        body=to_json(sheet).decode(),
    )
    try:
        desk.store.keep_issued(issued)
    except StoreError:
        return
