"""What all requests share: the garden's folder, who is at the door, what is to be said once, what an error becomes."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from threading import Lock

from starlette.requests import Request
from starlette.responses import Response

from kailyard.desk.cache import Keeper, WarmDesk
from kailyard.desk.later import LaterDesk
from kailyard.desk.people import NotLetIn, People, TooSoon, Visitor, fresh_token, sign, signed
from kailyard.desk.serving import Served
from kailyard.errors import Conflict, DataError, KailyardError, NotFound, UsageError

_MOST_MESSAGES = 500
_STATUS: tuple[tuple[type[KailyardError], int], ...] = (
    (TooSoon, 429),
    (NotLetIn, 403),
    (UsageError, 400),
    (NotFound, 404),
    (Conflict, 409),
    (DataError, 422),
)
ELSEWHERE = "That form did not come from a page of this garden, or the page is too old. Load it again and send it anew."


def status_of(err: KailyardError) -> int:
    """The status of an answer that an error stopped; 503 where the garden cannot be used just now."""
    return next((status for kind, status in _STATUS if isinstance(err, kind)), 503)


@dataclass(frozen=True, slots=True)
class Caller:
    """Whoever sent a request."""

    token: str
    """What the device holds in its cookie, or was given with this answer."""
    new: bool
    """The token was made for this request."""
    visitor: Visitor


class Door:
    """One garden's door. Asked from many threads."""

    def __init__(self, folder: Path, *, lan: Served | None, secure: bool, clock: Callable[[], datetime] | None) -> None:
        self.folder = folder
        self.lan = lan
        self.secure = secure
        self.clock = clock
        self.keeper = Keeper(folder)
        self.people = People(folder, clock=clock)
        self.cookie = "__Host-kailyard" if secure else "kailyard"
        self._messages: OrderedDict[str, str] = OrderedDict()
        self._wrote: OrderedDict[str, int] = OrderedDict()
        self._lock = Lock()

    @contextmanager
    def desk(self, who: str) -> Iterator[WarmDesk]:
        """A desk for one request; entries made at it are `who`'s."""
        desk = WarmDesk(self.folder, keeper=self.keeper, clock=self.clock, who=who, served=self.lan)
        try:
            yield desk
        finally:
            desk.close()

    @contextmanager
    def later_desk(self, who: str) -> Iterator[LaterDesk]:
        """A desk for one form of `who`'s that was typed some time ago."""
        desk = LaterDesk(self.folder, keeper=self.keeper, clock=self.clock, who=who, served=self.lan)
        try:
            yield desk
        finally:
            desk.close()

    def has_garden(self) -> bool:
        """Whether there is a garden in the folder yet."""
        with self.desk("") as desk:
            return desk.is_there()

    def caller(self, request: Request) -> Caller:
        """Who sent a request."""
        held = request.cookies.get(self.cookie, "")
        address = request.client.host if request.client else ""
        device = request.headers.get("user-agent", "")
        visitor = self.people.visitor(held, alone=self.lan is None, address=address, device=device)
        return Caller(held or fresh_token(), not held, visitor)

    def token_for(self, caller: Caller) -> str:
        """What the caller's next form sends back."""
        return sign(caller.token)

    def check(self, request: Request, caller: Caller, sent: str) -> None:
        """NotLetIn unless what was sent comes from a page of ours that this very device was given."""
        site = request.headers.get("sec-fetch-site", "same-origin")
        ours = f"{request.url.scheme}://{request.url.netloc}"
        # Browsers write 'null' for our own forms too, since our pages send no referrer.
        from_us = site in ("same-origin", "none") and request.headers.get("origin", "null") in ("null", ours)
        if not from_us or caller.new or not signed(caller.token, sent):
            raise NotLetIn(ELSEWHERE)

    def hand(self, response: Response, token: str, *, lasts: bool) -> None:
        """Give the device its token; `lasts`: for a season, else until the browser is closed."""
        response.set_cookie(
            self.cookie,
            token,
            max_age=15_552_000 if lasts else None,
            path="/",
            secure=self.secure,
            httponly=True,
            samesite="lax",
        )

    def say_once(self, token: str, message: str) -> None:
        """Keep a message for the next page that the holder of `token` sees."""
        with self._lock:
            self._messages[token] = message
            while len(self._messages) > _MOST_MESSAGES:
                self._messages.popitem(last=False)

    def said(self, token: str) -> str:
        """The message kept for the holder of `token`, which then is gone."""
        with self._lock:
            return self._messages.pop(token, "")

    def wrote(self, token: str, desk: WarmDesk) -> None:
        """Remember that what the garden now knows must stand in whatever the holder of `token` sees next."""
        if not desk.is_there():
            return
        known = desk.now_known()
        with self._lock:
            self._wrote[token] = known
            self._wrote.move_to_end(token)
            while len(self._wrote) > _MOST_MESSAGES:
                self._wrote.popitem(last=False)

    def must_know(self, token: str) -> int:
        """What a page for the holder of `token` must rest on at least, by `WarmDesk.now_known`."""
        with self._lock:
            # Whoever is forgotten has written long ago; 0 is the garden as it last was.
            return self._wrote.get(token, 0)

    def close(self) -> None:
        """Let go of the garden."""
        self.keeper.close()
