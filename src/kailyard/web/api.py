"""What a script of ours asks for: entries sent, who is in, and what this interface says of itself."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from typing import Any, TypeVar

import msgspec
from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import JSONResponse, Response
from starlette.routing import Route

from kailyard.desk.receive import MOST_ENTRIES, Sent, receive
from kailyard.errors import DataError, UsageError
from kailyard.web import bodies, later
from kailyard.web.door import Caller, Door
from kailyard.web.openapi import description

PATHS = ("/entries", "/api/")
"""Paths that begin so are answered in JSON, errors too."""
TOKEN = "X-Kailyard-Token"
MOST_BYTES = 2_000_000
_Item = TypeVar("_Item")
_Call = Callable[[Request, Caller], Awaitable[Any]]


def routes(door: Door) -> list[Route]:
    """The routes of the interface. None answers a stranger."""

    def known(call: _Call) -> Callable[[Request], Awaitable[Response]]:
        async def serve(request: Request) -> Response:
            caller = await run_in_threadpool(door.caller, request)
            if not caller.visitor.known:
                return stranger()
            if request.method == "POST":
                door.check(request, caller, request.headers.get(TOKEN, ""))
            response = _json(await call(request, caller))
            if caller.new:
                door.hand(response, caller.token, lasts=False)
            return response

        return serve

    async def session(request: Request, caller: Caller) -> Any:
        """Who is in, and what the next sending must carry."""
        return {"person": caller.visitor.name, "token": door.token_for(caller)}

    async def schema(request: Request, caller: Caller) -> Any:
        """This interface, described."""
        return description()

    async def entries(request: Request, caller: Caller) -> Any:
        """Take entries, each answered separately."""
        sent = _read(request, await bodies.body(request, MOST_BYTES), list[Sent], MOST_ENTRIES)

        def take() -> Any:
            with door.desk(caller.visitor.name) as desk:
                answers = receive(desk, sent)
                door.wrote(caller.token, desk)
                return {"answers": answers}

        return await run_in_threadpool(take)

    async def forms(request: Request, caller: Caller) -> Any:
        """Take forms that waited, each answered separately."""
        sent = _read(request, await bodies.body(request, MOST_BYTES), list[later.Typed], later.MOST_FORMS)
        visitor = caller.visitor

        def take() -> Any:
            answers = later.receive(lambda: door.later_desk(visitor.name), sent, visitor)
            with door.desk(visitor.name) as desk:
                door.wrote(caller.token, desk)
            return {"answers": answers}

        return await run_in_threadpool(take)

    return [
        Route("/entries", known(entries), methods=["POST"], name="entries"),
        Route("/entries/typed", known(forms), methods=["POST"], name="forms"),
        Route("/api/session", known(session), name="session"),
        Route("/api/openapi.json", known(schema), name="openapi"),
    ]


def stranger() -> Response:
    """What a stranger is told."""
    return refused("You are not in. Give your name and passphrase.", 401)


def refused(says: str, status: int) -> Response:
    """Why nothing was done."""
    return JSONResponse({"error": says}, status_code=status)


def _read(request: Request, content: bytes, kind: type[list[_Item]], most: int) -> list[_Item]:
    said = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if said != "application/json":
        raise UsageError("Entries are sent as JSON: the content type must be application/json.")
    try:
        sent = msgspec.json.decode(content, type=kind)
    except (msgspec.DecodeError, UnicodeDecodeError) as err:
        raise DataError(f"What was sent is no list of entries: {err}.") from None
    if len(sent) > most:
        raise UsageError(f"{len(sent)} entries at once; at most {most}. Send them in parts.")
    return sent


def _json(value: Any) -> Response:
    return Response(msgspec.json.encode(value), media_type="application/json")


__all__ = ["PATHS", "TOKEN", "refused", "routes", "stranger"]
