"""How an entry is called at the keyboard: by its identifier, or by as much of its end as tells it apart."""

from __future__ import annotations

import re
from collections.abc import Iterable
from difflib import get_close_matches

from kailyard.desk.desk import Desk
from kailyard.desk.typed import shown
from kailyard.errors import NotFound, UsageError
from kailyard.garden.model import Entry

FEWEST = 6
_MADE_HERE = re.compile(r"[0-9]{8}-[0-9]{6}-[0-9a-f]{12,22}")


class Handles:
    """The handles of a daybook's entries."""

    def __init__(self, entries: Iterable[Entry]) -> None:
        self._entries = {entry.id: entry for entry in entries}
        backwards = sorted(id_[::-1] for id_ in self._entries if _MADE_HERE.fullmatch(id_))
        self._short = {
            id_[::-1]: _apart(id_, [*backwards[max(i - 1, 0) : i], *backwards[i + 1 : i + 2]])[::-1]
            for i, id_ in enumerate(backwards)
        }

    def of(self, entry: Entry) -> str:
        """The shortest handle; an identifier that was not made by this program stands whole."""
        return self.of_id(entry.id)

    def of_id(self, id_: str) -> str:
        """The same, by identifier; one that is not in the daybook stands whole."""
        return self._short.get(id_, id_)

    def find(self, handle: str, what: str = "ENTRY") -> Entry:
        """The entry called `handle`. NotFound where there is none, UsageError where several fit."""
        if handle in self._entries:
            return self._entries[handle]
        found = sorted(
            id_ for id_ in self._entries if len(handle) >= FEWEST and (id_.endswith(handle) or id_.startswith(handle))
        )
        if len(found) == 1:
            return self._entries[found[0]]
        if found:
            some = ", ".join(self.of_id(id_) for id_ in found[:4])
            raise UsageError(
                f"{what}: {len(found)} entries begin or end with {shown(handle)}: {some}. Write more of it."
            )
        near = get_close_matches(handle, [self.of_id(id_) for id_ in self._entries], n=2)
        hint = f" Did you mean {' or '.join(near)}?" if near else ""
        raise NotFound(f"{what}: no entry {shown(handle)} is in the daybook.{hint} `kailyard daybook` lists them.")


def handles(desk: Desk) -> Handles:
    """The handles of the desk's daybook as it stands now."""
    return Handles(desk.store.entries())


def undo(handle: str, *, was: bool = False) -> str:
    """What to say under an answer that kept an entry."""
    after = "; what was before it holds again" if was else ""
    return f"Entry {handle}. Undo: `kailyard withdraw {handle}`{after}."


def _apart(text: str, neighbours: list[str]) -> str:
    """The shortest beginning of `text`, `FEWEST` long or more, that no neighbour in sorted order shares."""
    for length in range(FEWEST, len(text)):
        if not any(other.startswith(text[:length]) for other in neighbours):
            return text[:length]
    return text
