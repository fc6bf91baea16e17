"""What is sent to us, read up to a stated length and no further."""

from __future__ import annotations

from typing import Any

from starlette.datastructures import FormData, UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.types import Message

from kailyard.web.register import Upload

MOST_FIELDS = 2_000
MOST_FILES = 20


async def body(request: Request, most_bytes: int) -> bytes:
    """The whole body; 413 where it is longer than `most_bytes`."""
    said = request.headers.get("content-length", "")
    if said.isdecimal() and int(said) > most_bytes:
        raise HTTPException(413, f"That is too long: at most {most_bytes:,} bytes are taken here.")
    taken = bytearray()
    async for chunk in request.stream():
        taken.extend(chunk)
        if len(taken) > most_bytes:
            raise HTTPException(413, f"That is too long: at most {most_bytes:,} bytes are taken here.")
    return bytes(taken)


async def form(request: Request, most_bytes: int) -> list[tuple[str, Any]]:
    """Names and values of a form, files as `Upload`."""
    content = await body(request, most_bytes)

    async def again() -> Message:
        return {"type": "http.request", "body": content, "more_body": False}

    read = Request(request.scope, again)
    async with read.form(max_files=MOST_FILES, max_fields=MOST_FIELDS, max_part_size=most_bytes) as found:
        return [(name, await _value(value)) for name, value in _items(found)]


def _items(found: FormData) -> list[tuple[str, Any]]:
    return list(found.multi_items())


async def _value(value: Any) -> Any:
    return Upload(value.filename or "", await value.read()) if isinstance(value, UploadFile) else value
