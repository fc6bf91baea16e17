"""One page's request: who asks, what the address says, one function of the page, one template."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import date
from typing import Any
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from kailyard.desk.cache import Behind
from kailyard.desk.clock import ahead_s, pretended_day
from kailyard.desk.people import TooSoon, fresh_token
from kailyard.desk.view import season_view
from kailyard.errors import KailyardError, NotFound
from kailyard.web import bodies, later, templates, typed
from kailyard.web.door import Caller, Door, status_of
from kailyard.web.register import Moved, Page, menu
from kailyard.web.said import on_a_page

LOGIN = "/login"
KEEP = "Kailyard-Keep"
"""Says that a device may keep a copy, and for which session: with another session's mark all older copies go."""
COPY = "Kailyard-Copy"
"""Asks for a page that nobody reads yet: a copy for a device to keep."""
NEW_GARDEN = "/garden"
"""Where a folder without a garden begins."""


@dataclass(frozen=True, slots=True)
class Problem:
    """What stands on the page of an error."""

    title: str
    says: str


def endpoint(page: Page, door: Door) -> Callable[[Request], Awaitable[Response]]:
    """What serves `page`."""

    async def serve(request: Request) -> Response:
        caller = await run_in_threadpool(door.caller, request)
        if not caller.visitor.known and not page.open:
            return to_login(request)
        if request.method == "POST":
            said = await bodies.form(request, page.most_bytes)
            return await run_in_threadpool(_post, page, door, request, caller, said)
        return await run_in_threadpool(_get, page, door, request, caller)

    serve.__name__ = page.name
    return serve


def to_login(request: Request) -> Response:
    """A stranger is led to the way in, and from there back."""
    if request.method not in ("GET", "HEAD") or request.url.path == "/":
        return RedirectResponse(LOGIN, status_code=303)
    asked = request.url.path if not request.url.query else f"{request.url.path}?{request.url.query}"
    return RedirectResponse(f"{LOGIN}?next={quote(asked, safe='')}", status_code=303)


def problem(door: Door, caller: Caller, request: Request, title: str, says: str, status: int) -> Response:
    """The page of an error."""
    made = frame(door, caller, request, title)
    return _answer(door, caller, templates.fill("problem.html", made, Problem(title, says)), status)


def frame(door: Door, caller: Caller, request: Request, title: str, **more: Any) -> templates.Frame:
    """What stands around a page; a stranger learns nothing of the garden."""
    path = request.url.path
    known = caller.visitor.known
    garden, pretended, ahead = _garden(door) if known else ("", None, 0)
    return templates.Frame(
        title=title,
        garden=garden,
        menu=tuple(tuple((p.title, p.path, p.path == path) for p in row) for row in menu()) if known else (),
        person=caller.visitor.name,
        token=door.token_for(caller),
        path=path,
        pretended=pretended,
        ahead_s=ahead,
        waits=later.addresses() if known else "",
        **more,
    )


def _get(page: Page, door: Door, request: Request, caller: Caller) -> Response:
    if page.page is None:
        return problem(door, caller, request, "Nothing to see", "That address only takes forms.", 405)
    # What is said once is said to a person, not to the worker that fetches a copy of the page meanwhile.
    said = "" if COPY in request.headers else door.said(caller.token)
    try:
        text, behind = _render(page, door, request, caller, _asked(request), message=said)
    except _Elsewhere as led:
        return RedirectResponse(led.to, status_code=303)
    except KailyardError as err:
        if isinstance(err, NotFound) and request.url.path != NEW_GARDEN and not door.has_garden():
            return RedirectResponse(NEW_GARDEN, status_code=303)
        title = "Not found" if isinstance(err, NotFound) else "That cannot be shown"
        return problem(door, caller, request, title, on_a_page(str(err)), status_of(err))
    response = _answer(door, caller, text, 200)
    if page.keeps and not said and behind is None:
        response.headers[KEEP] = caller.visitor.session[:16] or "here"
    return response


def _post(page: Page, door: Door, request: Request, caller: Caller, said: list[tuple[str, Any]]) -> Response:
    if page.post is None or page.form is None:
        return problem(door, caller, request, "Nothing taken", "That address takes no forms.", 405)
    try:
        door.check(request, caller, next((v for name, v in reversed(said) if name == "token" and v), ""))
        form = typed.read(page.form, [*said, *request.path_params.items()])
        with door.desk(caller.visitor.name) as desk:
            moved = page.post(desk, form, caller.visitor)
            door.wrote(caller.token if moved.token is None else moved.token, desk)
    except KailyardError as err:
        return _again(page, door, request, caller, said, err)
    response = RedirectResponse(moved.to, status_code=303)
    token = caller.token if moved.token is None else moved.token or fresh_token()
    if token != caller.token:
        door.hand(response, token, lasts=bool(moved.token))
    if moved.token == "":
        # Not "storage": entries that wait to be sent lie there.
        response.headers["Clear-Site-Data"] = '"cache"'
    if moved.message:
        door.say_once(token, moved.message)
    return response


def _again(
    page: Page, door: Door, request: Request, caller: Caller, said: list[tuple[str, Any]], err: KailyardError
) -> Response:
    """The page once more with what was wrong, and what was typed still in it."""
    text = ""
    if page.page is not None:
        kept = {name: value for name, value in said if isinstance(value, str) and name not in _SECRET}
        with suppress(
            KailyardError, _Elsewhere
        ):  # where the page itself cannot be made, the first error is the one to show
            text, _ = _render(page, door, request, caller, _asked(request), problem=on_a_page(str(err)), typed=kept)
    if not text:
        return problem(door, caller, request, "Nothing was changed", on_a_page(str(err)), status_of(err))
    response = _answer(door, caller, text, status_of(err))
    if isinstance(err, TooSoon):
        response.headers["Retry-After"] = str(err.seconds)
    return response


def _asked(request: Request) -> list[tuple[str, Any]]:
    return [*request.query_params.multi_items(), *request.path_params.items()]


class _Elsewhere(Exception):
    """What was asked for stands on another page."""

    def __init__(self, to: str) -> None:
        super().__init__(to)
        self.to = to


def _render(
    page: Page, door: Door, request: Request, caller: Caller, asked: list[tuple[str, Any]], **around: Any
) -> tuple[str, Behind | None]:
    assert page.page is not None
    with door.desk(caller.visitor.name) as desk:
        query = typed.read(page.query, asked)
        if page.foresees and desk.is_there():
            with desk.settled(lambda: season_view(desk), least=door.must_know(caller.token)) as behind:
                made = page.page(desk, query, caller.visitor)
        else:
            made, behind = page.page(desk, query, caller.visitor), None
    if isinstance(made, Moved):
        raise _Elsewhere(made.to)
    title = getattr(made, "title", page.title)
    kind = getattr(made, "kind", None) or ""
    framed = frame(door, caller, request, title, kind=kind, behind=behind, **around)
    return templates.fill(page.template, framed, made), behind


def _garden(door: Door) -> tuple[str, date | None, int]:
    """The garden's name, and where the day is a pretended one, it and how far it is ahead. [s]"""
    try:
        with door.desk("") as desk:
            return desk.garden().name, pretended_day(desk), ahead_s(desk)
    except KailyardError:
        return "", None, 0


def _answer(door: Door, caller: Caller, text: str, status: int) -> Response:
    response = HTMLResponse(text, status_code=status)
    if caller.new:
        door.hand(response, caller.token, lasts=False)
    return response


_SECRET = ("token", "passphrase", "old", "again")
"""Fields that are never sent back."""
