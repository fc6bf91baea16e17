"""Claims are kept: today's sheet as it was issued, with the program and the facts that made it."""

from __future__ import annotations

from hashlib import sha256

from kailyard import __version__
from kailyard.desk.desk import Desk
from kailyard.documents.sheet import Sheet
from kailyard.handbook.types import Handbook
from kailyard.publish.codec import to_json
from kailyard.store.base import Issued, StoreError


def keep_claims(desk: Desk, sheet: Sheet, handbook: Handbook) -> None:
    """Keep a sheet as issued, the same sheet once. Where nothing can be written the sheet still stands."""
    issued = Issued(
        schema=sheet.schema,
        on=sheet.first,
        as_known=None,
        made_at=desk.now(),
        version=__version__,
        facts=digest(handbook),
        body=to_json(sheet).decode(),
    )
    try:
        desk.store.keep_issued(issued)
    except StoreError:
        return


def digest(handbook: Handbook) -> str:
    """Fingerprint of every fact, own ones included."""
    lines = (
        f"{f.subject},{f.quantity},{f.value},{f.unit},{f.status}"
        for facts in handbook.facts.values()
        for f in facts.values()
    )
    return sha256("\n".join(sorted(lines)).encode()).hexdigest()[:16]
