"""The application: every page of the register on its path, the calls of the telephone's queue, and what guards them."""

from __future__ import annotations

import contextlib
from collections.abc import AsyncIterator, Callable
from datetime import datetime
from pathlib import Path

from starlette.applications import Starlette
from starlette.concurrency import run_in_threadpool
from starlette.exceptions import HTTPException
from starlette.middleware import Middleware
from starlette.middleware.gzip import GZipMiddleware
from starlette.requests import Request
from starlette.responses import PlainTextResponse, Response
from starlette.routing import Route

from kailyard.desk.serving import Served
from kailyard.errors import KailyardError
from kailyard.web import api, register, statics, trust
from kailyard.web.door import Door, status_of
from kailyard.web.headers import HEADERS, THIS_MACHINE, Guard
from kailyard.web.serve_page import endpoint, problem, to_login

_SAYS = {404: "There is no such page.", 405: "That address is not asked that way."}
_TITLES = {404: "Not found", 405: "Not that way", 413: "Too long"}


def create_app(
    folder: Path,
    *,
    lan: Served | None = None,
    clock: Callable[[], datetime] | None = None,
    secure: bool = False,
) -> Starlette:
    """The pages of the garden in `folder`.

    `lan`: how other machines reach it; None: this machine alone, where without names the door stands open.
    `secure`: it is spoken to over TLS. `clock`: another clock, for trying out.
    """
    door = Door(folder, lan=lan, secure=secure, clock=clock)

    @contextlib.asynccontextmanager
    async def lifespan(app: Starlette) -> AsyncIterator[None]:
        yield
        door.close()

    async def stopped(request: Request, err: Exception) -> Response:
        """One handler for what people can mend and for what Starlette refuses."""
        status = err.status_code if isinstance(err, HTTPException) else 500
        says = _SAYS.get(status, str(err.detail)) if isinstance(err, HTTPException) else str(err)
        if isinstance(err, KailyardError):
            status = status_of(err)
        caller = await run_in_threadpool(door.caller, request)
        if request.url.path.startswith(api.PATHS):
            return api.refused(says, status) if caller.visitor.known else api.stranger()
        if not caller.visitor.known:
            return to_login(request)
        title = _TITLES.get(status, "That cannot be done")
        return await run_in_threadpool(problem, door, caller, request, title, says, status)

    routes = [
        *api.routes(door),
        *trust.certificate_routes(folder),
        Route("/static/{name}", statics.send, name="static"),
        *(Route(page.path, endpoint(page, door), methods=_methods(page), name=page.name) for page in register.pages()),
    ]
    app = Starlette(
        routes=routes,
        middleware=[
            Middleware(Guard, hosts=(*THIS_MACHINE, *(lan.hosts if lan else ())), secure=secure),
            Middleware(GZipMiddleware, minimum_size=1000, compresslevel=5),
        ],
        exception_handlers={HTTPException: stopped, KailyardError: stopped, Exception: _fault},
        lifespan=lifespan,
    )
    app.state.door = door
    return app


async def _fault(request: Request, err: Exception) -> Response:
    """A fault of ours: nothing of it is told outside; the traceback goes to the terminal."""
    says = "A fault of the program stopped this. What was entered before is kept. The terminal says more."
    return PlainTextResponse(says, status_code=500, headers={**HEADERS, "Cache-Control": "no-store"})


def _methods(page: register.Page) -> list[str]:
    return [*(["GET"] if page.page else []), *(["POST"] if page.post else [])]
