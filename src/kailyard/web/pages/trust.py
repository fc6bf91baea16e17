"""How a telephone comes to trust this garden; with the picture that leads it here."""

from __future__ import annotations

from dataclasses import dataclass

from kailyard.desk.cache import WarmDesk
from kailyard.desk.people import Visitor
from kailyard.web.trust import CERTIFICATE, TEMPLATE, Trust, qr

PATH = "/trust"
TITLE = "Telephones"
MENU = None
OPEN = True


@dataclass(frozen=True, slots=True)
class Query:
    """Nothing is asked."""


QUERY = Query
__all__ = ["MENU", "OPEN", "PATH", "QUERY", "TEMPLATE", "TITLE", "page"]


def page(desk: WarmDesk, query: Query, person: Visitor) -> Trust:
    """The steps, with the address that a telephone begins at."""
    served = desk.served
    if served is None:
        return Trust("", CERTIFICATE, "", "", "")
    start = served.trust or served.address
    return Trust(served.address, CERTIFICATE, served.fingerprint, qr(start), served.trust)
