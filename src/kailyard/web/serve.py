"""Serving until it is stopped: the garden's pages, and beside them under --lan the page that telephones begin at."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from threading import Thread
from typing import Any

import uvicorn
from starlette.types import ASGIApp

from kailyard.desk.serving import Served, listen
from kailyard.web.app import create_app
from kailyard.web.trust import trust_app

_STOP_S = 3


def serve(
    folder: Path,
    *,
    port: int,
    lan: Served | None,
    clock: Callable[[], datetime] | None = None,
    ready: Callable[[], None] = lambda: None,
) -> None:
    """Serve the garden in `folder` until Ctrl-C. `ready` is called once connections are taken.

    Raises UsageError where a port cannot be had.
    """
    app = create_app(folder, lan=lan, clock=clock, secure=lan is not None)
    tls = {"ssl_certfile": lan.certificate, "ssl_keyfile": lan.key} if lan else {}
    server = server_of(app, **tls)
    with listen(port, lan=lan is not None) as taken, _beside(folder, lan):
        ready()
        try:
            server.run(sockets=[taken])
        except KeyboardInterrupt:
            return  # stopped as it should be: what was being answered has been


@contextmanager
def _beside(folder: Path, lan: Served | None) -> Iterator[None]:
    """The door without TLS, where the garden's own authority is to be fetched."""
    if lan is None or not lan.trust:
        yield
        return
    server = server_of(trust_app(folder, lan))
    with listen(lan.trust_port, lan=True) as taken:
        thread = Thread(target=server.run, kwargs={"sockets": [taken]}, daemon=True)
        thread.start()
        try:
            yield
        finally:
            server.should_exit = True
            thread.join(_STOP_S)


def server_of(app: ASGIApp, **more: Any) -> uvicorn.Server:
    """A server for one application; `more`: its certificate. TLS 1.2 and 1.3, as Python's own default has it."""
    config = uvicorn.Config(
        app,
        log_level="warning",
        access_log=False,
        server_header=False,
        proxy_headers=False,  # an address that a stranger names himself would get round the throttle
        timeout_keep_alive=20,
        timeout_graceful_shutdown=_STOP_S,
        limit_concurrency=400,
        **more,
    )
    return uvicorn.Server(config)
