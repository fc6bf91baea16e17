"""Where on one host, and in which of its stages, a trouble is looked for: beans have no ears that a borer bores."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from kailyard.errors import DataError
from kailyard.handbook.diseases import words
from kailyard.handbook.troubles import FOLDER, CropWords, troubles
from kailyard.handbook.whole_tables import read_table


@dataclass(frozen=True, slots=True)
class HostLook:
    """How one trouble is looked for on one crop; what is '' or () stands as the trouble's own table has it."""

    trouble: str
    crops: tuple[str, ...]
    """Words of the lists of hosts; 'all' is any crop."""
    host_stages: tuple[str, ...]
    """'young', 'growing', 'flowering', 'bearing': our reading of the sources' words."""
    where: str
    how: str
    status: str
    source: str


@cache
def _looks() -> Mapping[str, tuple[HostLook, ...]]:
    found: dict[str, list[HostLook]] = {}
    for id_, crops, stages, where, how, status, source in read_table(
        FOLDER, "looks.csv", ("trouble", "crops", "host_stages", "where", "how", "status", "source")
    ):
        one = HostLook(id_, words(crops), words(stages), where, how, status, source)
        found.setdefault(id_, []).append(one)
    strange = sorted(set(found) - set(troubles()))
    if strange:
        raise DataError(f"troubles/looks.csv: no trouble is called {', '.join(strange)}.")
    return MappingProxyType({id_: tuple(rows) for id_, rows in found.items()})


def look_on(trouble: str, crop: CropWords) -> HostLook | None:
    """How a trouble is looked for on a crop; None where its own table says all there is."""
    rows = _looks().get(trouble, ())
    mine = (one for one in rows if any(word in crop.words for word in one.crops))
    return next(mine, None) or next((one for one in rows if "all" in one.crops), None)


def all_looks() -> tuple[HostLook, ...]:
    """Every row, in the table's order."""
    return tuple(one for rows in _looks().values() for one in rows)
