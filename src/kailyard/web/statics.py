"""Static files: a fixed list made at start from the package. No name that a visitor sends reaches the file system."""

from __future__ import annotations

import hashlib
import mimetypes
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from starlette.requests import Request
from starlette.responses import Response

from kailyard.errors import NotFound

FOREVER = "public, max-age=31536000, immutable"
_TYPES = {
    ".svg": "image/svg+xml; charset=utf-8",
    ".woff2": "font/woff2",
    ".webmanifest": "application/manifest+json",
    ".js": "text/javascript",
}


@dataclass(frozen=True, slots=True)
class Static:
    """One file as it is sent."""

    name: str
    content: bytes
    type: str
    digest: str


@cache
def statics() -> Mapping[str, Static]:
    """Every static file by name: those of `web/static`, the style and the type that files on paper have too."""
    shared = files("kailyard.publish")
    found = {"style.css": shared.joinpath("style.css").read_bytes()}
    for folder in (shared.joinpath("fonts"), files("kailyard.web").joinpath("static")):
        for file in folder.iterdir():
            if file.is_file() and not file.name.endswith(".md"):
                found[file.name] = file.read_bytes()
    made = {name: _static(name, content) for name, content in found.items() if not name.endswith(".css")}
    for name, content in found.items():
        if name.endswith(".css"):
            for other, static in list(made.items()):
                content = content.replace(f'url("{other}")'.encode(), f'url("{other}?v={static.digest}")'.encode())
            made[name] = _static(name, content)
    return dict(sorted(made.items()))


def address(name: str) -> str:
    """The address of a static file, with its digest: it may be kept for ever."""
    return f"/static/{name}?v={statics()[name].digest}"


async def send(request: Request) -> Response:
    """One static file. The digest in the address, where there is one, must be that of the file."""
    static = statics().get(request.path_params["name"])
    if static is None:
        raise NotFound("There is no such file.")
    headers = {"Cache-Control": FOREVER if request.query_params.get("v") == static.digest else "no-cache"}
    headers["ETag"] = f'"{static.digest}"'
    if static.name == "worker.js":
        headers["Service-Worker-Allowed"] = "/"
    if request.headers.get("if-none-match") == headers["ETag"]:
        return Response(status_code=304, headers=headers)
    return Response(static.content, media_type=static.type, headers=headers)


def _static(name: str, content: bytes) -> Static:
    ending = name[name.rfind(".") :]
    kind = _TYPES.get(ending) or mimetypes.types_map.get(ending, "text/plain")
    return Static(name, content, kind, hashlib.sha256(content).hexdigest()[:12])
