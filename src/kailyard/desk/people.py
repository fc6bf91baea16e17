"""Who may come in by the pages: names with passphrases, sessions that last a season, and patience with strangers.

Without names the door stands open to whoever sits at this machine. With one or more, everybody gives name and
passphrase. Passphrases are kept as argon2id hashes (RFC 9106), sessions as SHA-256 of a random token of 256 bits.
"""

from __future__ import annotations

import hmac
import secrets
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from functools import cache
from hashlib import sha256
from pathlib import Path
from threading import BoundedSemaphore
from typing import TYPE_CHECKING

from kailyard.desk.desk import Desk
from kailyard.desk.passphrases import too_common
from kailyard.errors import KailyardError, NotFound, UsageError
from kailyard.garden.identifiers import name_problem, tidy_name
from kailyard.store.people import Attempts, Person, Session
from kailyard.store.people import People as Kept

if TYPE_CHECKING:
    from argon2 import PasswordHasher

SEASON = timedelta(days=180)
"""A session lasts so long."""
SHORTEST, LONGEST = 12, 200
"""Of a passphrase, in characters. OWASP ASVS 4.0.3, 2.1.1 and 2.1.2."""
FREE_OF_NAME, FREE_OF_ADDRESS = 4, 12
"""So many failures cost no waiting; each further one doubles it, from 2 s."""
LONGEST_WAIT = timedelta(minutes=15)
_FORGET = timedelta(days=2)
_DEVICE = 80
_hashing = BoundedSemaphore(2)
"""Each hash takes 64 MiB for a moment; strangers who ask many at once wait in line."""


class NotLetIn(KailyardError):
    """Name and passphrase do not go together, or somebody may not do what was asked."""

    exit_code = 7


class TooSoon(NotLetIn):
    """Too many failures: `seconds` are to be waited."""

    def __init__(self, seconds: int) -> None:
        self.seconds = seconds
        super().__init__(f"Too many tries. Wait {seconds} s and try again.")


@dataclass(frozen=True, slots=True)
class Visitor:
    """Who is at the door."""

    known: bool
    """False: a stranger, who sees the way in and nothing else."""
    name: str = ""
    """'' for a stranger, and where nobody has a name and the visitor sits at this machine."""
    keeper: bool = False
    session: str = ""
    """Of the device; '' without one."""
    address: str = ""
    device: str = ""
    """What the browser says it is."""


class People:
    """The people of one garden, asked from any thread."""

    def __init__(
        self, folder: Path, *, clock: Callable[[], datetime] | None = None, called: Callable[[], str] = lambda: ""
    ) -> None:
        self._kept = Kept(folder)
        self._called = called
        self._clock = clock or (lambda: datetime.now(UTC))

    def everybody(self) -> tuple[Person, ...]:
        """Everybody with a name."""
        return self._kept.people()

    def visitor(self, token: str, *, alone: bool, address: str = "", device: str = "") -> Visitor:
        """Who holds `token`. `alone`: only this machine can reach the door."""
        id_ = _digest(token)
        found = self._kept.session(id_) if token else None
        now = self._now()
        device = " ".join("".join(c if c.isprintable() else " " for c in device).split())[:_DEVICE]
        if found is None or found[0].ends <= now:
            first = alone and not self._kept.people()
            return Visitor(first, keeper=first, address=address, device=device)
        session, person = found
        if now - session.seen > timedelta(days=1):
            self._kept.seen(id_, now)
        return Visitor(True, person.name, person.keeper, session.id, address, device)

    def let_in(self, name: str, passphrase: str, *, at: Visitor) -> str:
        """A new session's token for whoever stands at the door. Raises NotLetIn, TooSoon.

        Takes the same time whether the name is known or not. A session that the device was in with ends.
        """
        folded = _folded(name)
        keys = (f"name {_digest(folded)}", f"address {_digest(at.address)}")
        self._count(keys)
        person = self._kept.person(folded)
        fits = _fits(person.hash if person else _nobody(), passphrase)
        if person is None or not fits:
            raise NotLetIn("Name and passphrase do not go together.")
        now = self._now()
        self._kept.forget_attempts(*keys, before=now - _FORGET)
        if _hasher().check_needs_rehash(person.hash):
            self._kept.set_hash(person.name, _hash(passphrase))
        token = secrets.token_urlsafe(32)
        self.let_out(at)
        self._kept.begin(Session(_digest(token), person.name, now, now, now + SEASON, at.device))
        return token

    def let_out(self, visitor: Visitor) -> None:
        """End the session that the visitor is in with."""
        if visitor.session:
            self._kept.end(visitor.name, only=visitor.session)

    def add(self, name: str, passphrase: str, *, by: Visitor) -> Person:
        """Give somebody a name. The first one keeps the others."""
        _must_keep(by)
        tidy = tidy_name(name)
        if problem := name_problem(tidy):
            raise UsageError(f"The name {problem}. Type another.")
        self._check_passphrase(passphrase, tidy)
        first = not self._kept.people()
        person = Person(tidy, _folded(tidy), first, _hash(passphrase), self._now())
        self._kept.add(person)
        return person

    def remove(self, name: str, *, by: Visitor) -> None:
        """Take somebody's name and sessions away. What they entered stays."""
        _must_keep(by)
        person = self._known(name)
        if person.keeper:
            raise UsageError(f"'{person.name}' keeps the names and cannot be removed.")
        self._kept.remove(person.name)

    def forget(self, name: str) -> Person:
        """Take away any name, given at this machine; where the keeper goes, the earliest other one keeps the names."""
        person = self._known(name)
        self._kept.remove(person.name)
        if person.keeper and (rest := self._kept.people()):
            self._kept.set_keeper(rest[0].name)
        return person

    def change(self, passphrase: str, *, old: str, by: Visitor) -> None:
        """Another passphrase for the visitor; every other session of theirs ends."""
        person = self._known(by.name)
        keys = (f"name {_digest(person.folded)}", f"address {_digest(by.address)}")
        self._count(keys)
        if not _fits(person.hash, old):
            raise NotLetIn("The present passphrase is another. Nothing was changed.")
        self._kept.forget_attempts(*keys, before=self._now() - _FORGET)
        self._check_passphrase(passphrase, person.name)
        self._kept.set_hash(person.name, _hash(passphrase))
        self._kept.end(person.name, but=by.session)

    def reset(self, name: str, passphrase: str) -> Person:
        """Another passphrase for somebody who has forgotten theirs, given at this machine; all their sessions end."""
        person = self._known(name)
        self._check_passphrase(passphrase, person.name)
        self._kept.set_hash(person.name, _hash(passphrase))
        self._kept.end(person.name)
        return person

    def sessions(self, visitor: Visitor) -> tuple[Session, ...]:
        """The visitor's sessions that have not ended."""
        now = self._now()
        return tuple(s for s in self._kept.sessions(visitor.name) if s.ends > now)

    def end(self, session: str, *, by: Visitor) -> None:
        """End one of the visitor's own sessions; NotFound where it is none of theirs."""
        if not session or not self._kept.end(by.name, only=session):
            raise NotFound("That session has ended already.")

    def end_others(self, visitor: Visitor) -> int:
        """End all of the visitor's sessions but the present one."""
        return self._kept.end(visitor.name, but=visitor.session)

    def _known(self, name: str) -> Person:
        person = self._kept.person(_folded(name))
        if person is None:
            raise NotFound(f"Nobody here is called '{tidy_name(name)[:80]}'.")
        return person

    def _count(self, keys: tuple[str, str]) -> None:
        """Count a try before it is judged, so that many at once gain nothing; TooSoon where it comes too soon."""
        now = self._now()
        with self._kept.attempt(*keys) as held:
            wait = max(
                _wait(a.failures, free) - max(now - a.last, timedelta(0))
                for key, free in zip(keys, (FREE_OF_NAME, FREE_OF_ADDRESS), strict=True)
                for a in (held.get(key, Attempts(key, 0, now)),)
            )
            if wait > timedelta(0):
                raise TooSoon(max(1, -(-int(wait.total_seconds() * 1000) // 1000)))
            for key in keys:
                held[key] = replace(held.get(key, Attempts(key, 0, now)), last=now)
                held[key] = replace(held[key], failures=held[key].failures + 1)

    def _check_passphrase(self, passphrase: str, name: str) -> None:
        said = unicodedata.normalize("NFKC", passphrase)
        if not SHORTEST <= len(said) <= LONGEST:
            raise UsageError(
                f"A passphrase has {SHORTEST} to {LONGEST} characters; four or five words make a good one."
            )
        rest = said.casefold().replace(name.casefold(), "")
        if len(set(rest)) < 5 or too_common(said, (name, self._called())):
            raise UsageError(
                "That passphrase is among those that are tried first: common words, rows of keys, years, names of this "
                "garden. Take four or five words that mean nothing together."
            )

    def _now(self) -> datetime:
        return self._clock().replace(microsecond=0)


def people_of(desk: Desk) -> People:
    """The people of the desk's garden."""

    def called() -> str:
        try:
            return desk.garden().name
        except NotFound:
            return ""

    return People(desk.folder, clock=desk.now, called=called)


def fresh_token() -> str:
    """A token for a device that holds none yet."""
    return secrets.token_urlsafe(32)


def sign(token: str) -> str:
    """What a form sends back to show that it came from a page of ours: differs each time, so that nothing that
    compresses the page can guess it byte by byte."""
    salt = secrets.token_hex(8)
    return f"{salt}{_mark(token, salt)}"


def signed(token: str, sent: str) -> bool:
    """Whether `sent` was made by `sign` for the device that holds `token`."""
    return bool(token) and hmac.compare_digest(_mark(token, sent[:16]).encode(), sent[16:].encode())


def _mark(token: str, salt: str) -> str:
    return hmac.new(token.encode(), f"form {salt}".encode(), sha256).hexdigest()


def _digest(text: str) -> str:
    return sha256(text.encode("utf-8", "replace")).hexdigest()


def _folded(name: str) -> str:
    return tidy_name(name).casefold()


def _wait(failures: int, free: int) -> timedelta:
    over = failures - free
    return min(timedelta(seconds=2 ** min(over, 20)), LONGEST_WAIT) if over > 0 else timedelta(0)


def _must_keep(by: Visitor) -> None:
    if not by.keeper:
        raise NotLetIn("Only the one who keeps the names may do that.")


@cache
def _hasher() -> PasswordHasher:
    from argon2 import PasswordHasher

    return PasswordHasher()


@cache
def _nobody() -> str:
    """The hash that is tried where the name is unknown."""
    return _hash(secrets.token_urlsafe(32))


def _hash(passphrase: str) -> str:
    with _hashing:
        return _hasher().hash(unicodedata.normalize("NFKC", passphrase))


def _fits(hash_: str, passphrase: str) -> bool:
    from argon2.exceptions import InvalidHashError, VerificationError

    if len(passphrase) > LONGEST:
        passphrase = ""  # no passphrase is so long, and hashing a megabyte takes its time
    try:
        with _hashing:
            return _hasher().verify(hash_, unicodedata.normalize("NFKC", passphrase))
    except (VerificationError, InvalidHashError):
        return False


__all__ = [
    "NotLetIn",
    "People",
    "Person",
    "Session",
    "TooSoon",
    "Visitor",
    "fresh_token",
    "people_of",
    "sign",
    "signed",
]
