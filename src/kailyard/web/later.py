"""Forms that waited on a device for signal: each is taken as its page takes it, and answered on its own.

A page takes them where it says WAITS. The identifier in the form, made where it was typed, makes it one entry however
often it is sent.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from typing import Annotated, Literal

import msgspec
from starlette.routing import compile_path

from kailyard.desk.later import LaterDesk
from kailyard.desk.people import Visitor
from kailyard.errors import Conflict, DataError, NotFound, UsageError
from kailyard.web import typed
from kailyard.web.register import Page, pages

MOST_FORMS = 100
FIELD = "id"
"""The field of a form that holds its identifier."""
_Desk = Callable[[], AbstractContextManager[LaterDesk]]


@dataclass(frozen=True, slots=True)
class Typed:
    """One form as it was typed."""

    id: str
    to: str
    """The path it is sent to: '/enter'."""
    typed: Annotated[datetime, msgspec.Meta(tz=True)]
    """When, by the device's clock; with its time zone."""
    fields: tuple[tuple[str, str], ...]
    """(name, value), `id` among them."""


@dataclass(frozen=True, slots=True)
class Became:
    """What became of it."""

    id: str
    answer: Literal["recorded", "conflict", "refused"]
    """'recorded': it is in the daybook, now or already, and survives a crash."""
    reason: str = ""
    """Why it is not."""
    to: str = ""
    """Where its page would have led."""
    message: str = ""


def receive(open_desk: _Desk, sent: Sequence[Typed], person: Visitor) -> tuple[Became, ...]:
    """Take each form, or say why not. `open_desk`: makes a desk for one form."""
    return tuple(_receive(open_desk, one, person) for one in sent)


def _receive(open_desk: _Desk, sent: Typed, person: Visitor) -> Became:
    try:
        page, named = _page(sent.to)
        if dict(sent.fields).get(FIELD) != sent.id or not sent.id:
            raise UsageError("The form does not carry its own identifier.")
        assert page.post is not None
        assert page.form is not None
        form = typed.read(page.form, [*sent.fields, *named.items()])
        with open_desk() as desk:
            desk.is_typed(sent.typed)
            moved = page.post(desk, form, person)
    except Conflict as err:
        return Became(sent.id, "conflict", str(err))
    except (DataError, NotFound, UsageError) as err:
        return Became(sent.id, "refused", str(err))
    return Became(sent.id, "recorded", to=moved.to, message=moved.message)


def waiting_pages() -> tuple[Page, ...]:
    """The pages whose forms may wait."""
    return tuple(page for page in pages() if page.waits)


@cache
def addresses() -> str:
    """Their paths, parted by blanks."""
    return " ".join(page.path for page in waiting_pages())


def _page(path: str) -> tuple[Page, dict[str, str]]:
    for page in waiting_pages():
        if found := compile_path(page.path)[0].fullmatch(path):
            return page, found.groupdict()
    raise NotFound("No page takes that form later. Enter it anew.")
