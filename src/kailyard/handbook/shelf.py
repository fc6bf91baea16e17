"""Read when asked for: a mapping over many small files that opens only those that somebody wants."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any, Generic, TypeVar

V = TypeVar("V")


class Shelf(Mapping[str, V], Generic[V]):
    """Keys known from the start, values read at the first asking and kept. It cannot be written to.

    Parameters
    ----------
    keys : iterable of str
        Every key there is, in the order in which they are to be walked.
    read : callable
        Gives the value of one key. Two threads that ask at the same moment may both read it; the values are alike.
    """

    __slots__ = ("_kept", "_keys", "_read")

    def __init__(self, keys: Iterable[str], read: Callable[[str], V]) -> None:
        self._keys = dict.fromkeys(keys)
        self._kept: dict[str, V] = {}
        self._read = read

    def __getitem__(self, key: str) -> V:
        try:
            return self._kept[key]
        except KeyError:
            if key not in self._keys:
                raise
        value = self._read(key)
        self._kept[key] = value
        return value

    def get(self, key: str, default: Any = None) -> Any:
        """The value; `default` where there is no such key. What was read before is at hand at once."""
        kept = self._kept.get(key)
        if kept is not None:
            return kept
        return self[key] if key in self._keys else default

    def __contains__(self, key: object) -> bool:
        return key in self._keys

    def __iter__(self) -> Iterator[str]:
        return iter(self._keys)

    def __len__(self) -> int:
        return len(self._keys)
