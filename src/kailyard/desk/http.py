"""Asking a service over the network: only when the gardener asks, only the host that was asked for.

Answers lie in the garden's folder under `fetched/` and may be deleted at any time. An answer that still stands is not
asked for again; an older one is asked for with its mark (ETag, Last-Modified), so that an unchanged one is not sent
twice (RFC 9110, RFC 9111).
"""

from __future__ import annotations

import hashlib
import os
import re
import time
from collections.abc import Callable, Mapping
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from email.utils import parsedate_to_datetime
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import urljoin, urlsplit
from uuid import uuid4

import msgspec

from kailyard import __version__
from kailyard.errors import KailyardError
from kailyard.weather.files import shown
from kailyard.weather.services._answers import Answered
from kailyard.weather.services._hosts import HOSTS

if TYPE_CHECKING:
    import httpx2

FOLDER = "fetched"
USER_AGENT = f"kailyard/{__version__} (a garden's record; asks only when its gardener asks)"
TIMEOUT_S = 20.0
TRIES = 3
FIRST_WAIT_S = 1.0
"""Before the second try; twice as long before each further one."""
LONGEST_WAIT_S = 10.0
"""A service that asks for a longer pause is left alone until then."""
MOST_BYTES = 60_000_000
MOST_MOVES = 3
KEPT_DAYS = 30
"""Answers not asked for in so many days are deleted."""

_STAYS = "Nothing was changed; what is kept stays."
_BUSY = (429, 500, 502, 503, 504)


class Unreachable(KailyardError):
    """A service gave no usable answer. What is kept stays as it was."""

    exit_code = 7


class _Mark(msgspec.Struct):
    """What is known of an answer that lies here."""

    address: str
    at: datetime
    """When it was sent."""
    stands_until: datetime
    etag: str = ""
    last_modified: str = ""


class _Pause(msgspec.Struct):
    """A service asked to be left alone."""

    until: datetime


class Fetcher:
    """Asks services on behalf of one garden. Makes no folder and no connection before it is asked for something."""

    def __init__(
        self, folder: Path, *, now: Callable[[], datetime], sleep: Callable[[float], None] = time.sleep
    ) -> None:
        self._folder = folder / FOLDER
        self._now = now
        self._sleep = sleep

    def get(self, host: str, path: str) -> Answered:
        """What the service `host` (a key of `HOSTS`) answers at `path`.

        Raises
        ------
        Unreachable
            In one line: no network, an error of the service, a pause that it asked for.
        """
        base = HOSTS[host]
        address = urljoin(base, path)
        name = urlsplit(base).hostname or host
        self._heed_pause(name)
        key = hashlib.sha256(address.encode()).hexdigest()[:32]
        mark, body = self._kept(key, address)
        if mark is not None and self._now() < mark.stands_until:
            return Answered(body, mark.at)
        self._tidy()
        answer = self._ask(base, address, name, mark)
        now = self._now()
        if answer.status == 304 and mark is not None:
            mark.at, mark.stands_until = now, now + answer.stands
            self._keep(key, mark, None)
            return Answered(body, now)
        if answer.status != 200:
            raise Unreachable(_refused(name, answer))
        mark = _Mark(
            address, now, now + answer.stands, answer.headers.get("etag", ""), answer.headers.get("last-modified", "")
        )
        self._keep(key, mark, answer.body)
        return Answered(answer.body, now)

    def _ask(self, base: str, address: str, name: str, mark: _Mark | None) -> _Answer:
        import httpx2  # 0.1 s to import: not on the way to anything but fetching

        headers = {"User-Agent": USER_AGENT, "Accept": "application/geo+json, application/json"}
        if mark is not None and mark.etag:
            headers["If-None-Match"] = mark.etag
        if mark is not None and mark.last_modified:
            headers["If-Modified-Since"] = mark.last_modified
        wait = FIRST_WAIT_S
        with httpx2.Client(timeout=TIMEOUT_S, headers=headers, follow_redirects=False) as client:
            for attempt in range(1, TRIES + 1):
                try:
                    answer = _moved(client, base, address, name)
                except httpx2.TimeoutException:
                    raise Unreachable(f"{name} did not answer within {TIMEOUT_S:g} s. {_STAYS} Try later.") from None
                except (httpx2.TransportError, httpx2.InvalidURL) as err:
                    raise Unreachable(
                        f"{name} cannot be reached ({shown(str(err), 80) or type(err).__name__}): is there a network? "
                        f"{_STAYS}"
                    ) from None
                if answer.status not in _BUSY:
                    return answer
                asked = _retry_after(answer.headers.get("retry-after", ""), self._now())
                if asked is not None and asked > LONGEST_WAIT_S:
                    raise self._pause(name, asked)
                if attempt < TRIES:
                    self._sleep(wait if asked is None else asked)
                    wait *= 2
        raise Unreachable(
            f"{name} is busy or out of order (status {answer.status}, asked {TRIES} times). {_STAYS} Try later."
        )

    def _pause(self, name: str, asked_s: float) -> Unreachable:
        until = self._now() + timedelta(seconds=asked_s)
        self._write(self._folder / f"{_plain(name)}.pause", msgspec.json.encode(_Pause(until)))
        return Unreachable(_paused(name, until))

    def _heed_pause(self, name: str) -> None:
        path = self._folder / f"{_plain(name)}.pause"
        with suppress(OSError, msgspec.DecodeError):
            pause = msgspec.json.decode(path.read_bytes(), type=_Pause)
            if self._now() < pause.until:
                raise Unreachable(_paused(name, pause.until))
            path.unlink(missing_ok=True)

    def _kept(self, key: str, address: str) -> tuple[_Mark | None, bytes]:
        """The answer that lies here, where it is whole."""
        try:
            mark = msgspec.json.decode((self._folder / f"{key}.json").read_bytes(), type=_Mark)
            body = (self._folder / f"{key}.body").read_bytes()
        except (OSError, msgspec.DecodeError):
            return None, b""
        return (mark, body) if mark.address == address else (None, b"")

    def _keep(self, key: str, mark: _Mark, body: bytes | None) -> None:
        if body is not None:
            self._write(self._folder / f"{key}.body", body)
        self._write(self._folder / f"{key}.json", msgspec.json.encode(mark))

    def _write(self, path: Path, content: bytes) -> None:
        """Whole or not at all; where nothing can be written the answer is used all the same."""
        part = path.with_name(f".{path.name}.{uuid4().hex}")
        with suppress(OSError):
            self._folder.mkdir(exist_ok=True)
            part.write_bytes(content)
            os.replace(part, path)
        with suppress(OSError):
            part.unlink(missing_ok=True)

    def _tidy(self) -> None:
        with suppress(OSError):
            for mark in self._folder.glob("*.json"):
                try:
                    old = msgspec.json.decode(mark.read_bytes(), type=_Mark).at < self._now() - timedelta(
                        days=KEPT_DAYS
                    )
                except msgspec.DecodeError:
                    old = True
                if old:
                    mark.with_suffix(".body").unlink(missing_ok=True)
                    mark.unlink(missing_ok=True)


class _Answer(msgspec.Struct):
    status: int
    headers: Mapping[str, str]
    body: bytes

    @property
    def stands(self) -> timedelta:
        """How long the answer stands, as it says itself."""
        found = re.search(r"(?:^|[,\s])max-age=(\d{1,9})", self.headers.get("cache-control", ""))
        never = re.search(r"no-store|no-cache", self.headers.get("cache-control", ""))
        return timedelta(seconds=0 if never or not found else min(int(found[1]), 86_400))


def _moved(client: httpx2.Client, base: str, address: str, name: str) -> _Answer:
    """The answer, after moves within the same host; a move to another is refused."""
    home = urlsplit(base)
    for _ in range(MOST_MOVES + 1):
        with client.stream("GET", address) as response:
            status = response.status_code
            headers = {k.lower(): v for k, v in response.headers.items()}
            if status not in (301, 302, 307, 308):
                taken = bytearray()
                for chunk in response.iter_bytes():
                    taken.extend(chunk)
                    if len(taken) > MOST_BYTES:
                        raise Unreachable(f"{name} sends more than {MOST_BYTES // 1_000_000} MB. Nothing was kept.")
                return _Answer(status, headers, bytes(taken))
        address = urljoin(address, headers.get("location", ""))
        there = urlsplit(address)
        if (there.scheme, there.netloc) != (home.scheme, home.netloc):
            raise Unreachable(
                f"{name} sends us on to {shown(there.netloc)}, which nobody asked for. Nothing was changed."
            )
    raise Unreachable(f"{name} sends us in circles. Nothing was changed.")


def _retry_after(text: str, now: datetime) -> float | None:
    """Seconds that the service asks to wait; None where it asks for none."""
    if text.isascii() and text.isdecimal():
        return float(min(int(text), 7 * 86_400)) if len(text) < 10 else 7 * 86_400.0
    try:
        when = parsedate_to_datetime(text)
    except (ValueError, TypeError):
        return None
    when = when if when.tzinfo else when.replace(tzinfo=UTC)
    return min(max((when - now).total_seconds(), 0.0), 7 * 86_400.0)


def _paused(name: str, until: datetime) -> str:
    return f"{name} asks to be left alone until {until.astimezone(UTC):%Y-%m-%d %H:%M} UTC. {_STAYS}"


def _refused(name: str, answer: _Answer) -> str:
    said = ""
    with suppress(msgspec.DecodeError):
        found = msgspec.json.decode(answer.body)
        if isinstance(found, dict):
            said = next((str(found[k]) for k in ("reason", "detail", "errorMessage", "title") if found.get(k)), "")
    words = f": {shown(said, 160)}" if said else ""
    return f"{name} refuses (status {answer.status}){words}. {_STAYS}"


def _plain(name: str) -> str:
    return re.sub(r"[^a-z0-9.-]", "_", name.lower())
