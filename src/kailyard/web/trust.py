"""How a telephone comes to trust the garden's own certificate authority: the page, and a door of its own without TLS.

A telephone that does not trust the authority yet can fetch it nowhere but over plain HTTP, so that door serves the
certificate, the page that explains it and the page's own files, and knows nothing of the garden.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from dataclasses import dataclass
from io import StringIO
from pathlib import Path

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.middleware import Middleware
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response
from starlette.routing import Route

from kailyard.desk.certificates import authority
from kailyard.desk.serving import Served
from kailyard.errors import NotFound
from kailyard.publish.markup import Markup, el
from kailyard.web import statics, templates
from kailyard.web.headers import Guard

CERTIFICATE = "/kailyard-authority.crt"
TEMPLATE = "trust.html"


@dataclass(frozen=True, slots=True)
class Trust:
    """What a telephone needs to know."""

    address: str
    """Of the garden's pages."""
    certificate: str
    """Where the authority's certificate is fetched."""
    fingerprint: str
    qr: Markup | str
    """The address of this page to be read by a telephone; '' on the telephone's own."""
    trust: str


def qr(address: str) -> Markup:
    """An address as a picture that a telephone's camera reads."""
    import segno

    drawn = segno.make(address, error="m").svg_inline(scale=4, border=3, light="#fff", omitsize=True)
    return el("span", Markup(drawn.replace("<svg ", '<svg aria-hidden="true" ', 1)), role="img", aria_label=address)


def terminal_qr(address: str) -> str:
    """The same drawn with characters, for a terminal."""
    import segno

    out = StringIO()
    segno.make(address, error="l").terminal(out, compact=True, border=2)
    return out.getvalue()


def trust_app(folder: Path, served: Served) -> Starlette:
    """The door without TLS: one page, one certificate, and everything else leads to that page."""

    async def page(request: Request) -> Response:
        made = Trust(served.address, CERTIFICATE, served.fingerprint, "", served.trust)
        around = templates.Frame("Trust this garden", "", (), "", "", "/")
        return HTMLResponse(templates.fill(TEMPLATE, around, made))

    async def elsewhere(request: Request, err: Exception) -> Response:
        return RedirectResponse("/", status_code=303)

    routes = [
        Route("/", page),
        Route("/static/{name}", statics.send, name="static"),
        *certificate_routes(folder),
    ]
    return Starlette(
        routes=routes,
        middleware=[Middleware(Guard, hosts=served.hosts, secure=False)],
        exception_handlers={404: elsewhere, 405: elsewhere, NotFound: elsewhere},
    )


def certificate_routes(folder: Path) -> list[Route]:
    """The authority's certificate as telephones take it. It is public: whoever asks may have it."""
    return [Route(CERTIFICATE, _certificate(folder), name="certificate")]


def _certificate(folder: Path) -> Callable[[Request], Awaitable[Response]]:
    async def send(request: Request) -> Response:
        made = await run_in_threadpool(authority, folder)
        headers = {"Content-Disposition": 'attachment; filename="kailyard-authority.crt"'}
        return Response(made.certificate, media_type="application/x-x509-ca-cert", headers=headers)

    return send
