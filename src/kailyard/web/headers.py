"""What surrounds every answer: whose host this is, and what a browser may do with the page."""

from __future__ import annotations

from collections.abc import Collection

from starlette.datastructures import MutableHeaders
from starlette.responses import PlainTextResponse
from starlette.types import ASGIApp, Message, Receive, Scope, Send

POLICY = (
    "default-src 'self'; script-src 'self'; style-src 'self'; img-src 'self' blob:; font-src 'self'; "
    "connect-src 'self'; worker-src 'self'; manifest-src 'self'; object-src 'none'; base-uri 'none'; "
    "form-action 'self'; frame-ancestors 'none'"
)
"""No script, style, picture or connection from anywhere else, and none that stands in the page itself."""
HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "no-referrer",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=(), payment=(), usb=()",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
}
STRICT_TRANSPORT = {"Strict-Transport-Security": "max-age=31536000"}
THIS_MACHINE = ("localhost", "127.0.0.1", "::1")


class Guard:
    """Refuses hosts that are not ours (a name made to point here cannot read the garden), and adds the headers."""

    def __init__(self, app: ASGIApp, *, hosts: Collection[str], secure: bool) -> None:
        self._app = app
        self._hosts = frozenset(host.lower() for host in hosts)
        self._secure = secure

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Serve one request."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return

        host = host_of(scope)
        # Browsers hold 'localhost' to it for every other program of this machine too.
        strict = STRICT_TRANSPORT if self._secure and host not in THIS_MACHINE else {}

        async def send_with_headers(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                for name, value in (*HEADERS.items(), *strict.items()):
                    headers.setdefault(name, value)
                headers.setdefault("Cache-Control", "no-store")
            await send(message)

        if host in self._hosts:
            await self._app(scope, receive, send_with_headers)
        else:
            refuse = PlainTextResponse("This garden is not served under that name.", status_code=421)
            await refuse(scope, receive, send_with_headers)


def host_of(scope: Scope) -> str:
    """The host that was asked for, without its port, in small letters; '' where the request names none."""
    said = [value for name, value in scope["headers"] if name == b"host"]
    host = said[0].decode("latin-1").lower() if len(said) == 1 else ""
    if host.startswith("["):
        return host[1:].partition("]")[0]
    return host.partition(":")[0]
