"""Troubles by name: causes that signs point to, and the pests and diseases that other tables tell apart more finely.

Loaded when first asked for, so that a sheet on which nothing is sick does not wait for it.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache, partial
from types import MappingProxyType
from typing import Literal, cast, get_args

from kailyard.errors import DataError, NotFound
from kailyard.handbook.whole_tables import read_table

HowCommon = Literal["common", "now and then", "seldom", "rare"]

LISTED = 1.0
"""Weight of a crop that is named among a trouble's hosts, or of any crop where any is."""
NOT_THE_MOST = 0.6
"""Weight of a crop where any may be hit but others are hit most."""
KIN = 0.25
"""Weight of a crop that is not named but is of the family of one that is."""
STRANGER = 0.05
"""Weight of any other crop: lists of hosts are never whole, so it is small and never nothing."""
NARROW = 0.01
"""The same where a cause, or each finer one that it stands for, keeps to one family: a list of hosts may be short, but
hardly misses a whole family."""

FOLDER = "troubles"
CAUSE_COLUMNS = ("id", "name", "category", "hosts", "telling_sign", "how_common", "stage", "signs_status", "status",
                 "source")  # fmt: skip
_rows_of = partial(read_table, FOLDER)
_ANY = re.compile(r"all\b|most\b|seedlings|new transplants")
_GROUPS = MappingProxyType({"cucurbits": "Cucurbitaceae", "cabbage family": "Brassicaceae"})
"""Words for a whole family in the lists of hosts."""
_NO_BROADLEAF = frozenset({"Poaceae", "Amaryllidaceae", "Asparagaceae"})


@dataclass(frozen=True, slots=True)
class Trouble:
    """A pest, disease, disorder or other cause, or something normal that is taken for one (category 'none')."""

    id: str
    """As in the tables: 'powdery_mildew_cucurbit'."""
    name: str
    category: str
    """'fungus', 'oomycete', 'bacterium', 'virus', 'insect', 'mite', 'nematode', 'abiotic', 'nutrient', 'herbicide',
    'animal', ...; 'none': normal or harmless."""
    hosts: tuple[str, ...]
    """Words of the list of hosts, as the table has them."""
    telling_sign: str = ""
    how_common: HowCommon = "seldom"
    """Our reading of how often a kitchen garden meets it. (memory)"""
    cause: str = ""
    """The row of the table of signs that stands for it: itself, a wider one, or '' where there is none."""
    status: str = "memory"
    source: str = ""
    stage: str = ""
    """When in the plant's life it is met: 'seedling', 'flower', 'fruit', 'ripe'; '' any time. (memory)"""

    @property
    def slug(self) -> str:
        """The name as typed and shown: 'powdery-mildew-cucurbit'."""
        return self.id.replace("_", "-")

    @property
    def harmless(self) -> bool:
        """Whether it is normal or harmless, so that there is nothing to do."""
        return self.category == "none"


@dataclass(frozen=True, slots=True)
class CropWords:
    """What the lists of hosts call a crop, and its family."""

    words: tuple[str, ...]
    family: str
    fruit: bool = True
    """Whether it bears fruit, pods or ears that are picked. True where nothing is known of it."""


@cache
def troubles() -> Mapping[str, Trouble]:
    """Every trouble by its id, the causes of the table of signs first."""
    found: dict[str, Trouble] = {}
    rows = (*_rows_of("causes.csv", CAUSE_COLUMNS), *_rows_of("causes_more.csv", CAUSE_COLUMNS))
    for id_, name, category, hosts, telling, often, stage, _, status, source in rows:
        if often not in get_args(HowCommon):
            raise DataError(f"troubles/causes: {id_}: how_common '{often}' is none of {get_args(HowCommon)}.")
        found[id_] = Trouble(
            id_, name, category, _hosts(hosts), telling, cast(HowCommon, often), id_, status, source, stage
        )
    for id_, name, category, hosts, cause, status in _rows_of(
        "kindred.csv", ("id", "name", "category", "hosts", "cause", "status")
    ):
        common: HowCommon = found[cause].how_common if cause else "seldom"
        found[id_] = Trouble(id_, name, category, _hosts(hosts), "", common, cause, status)
    return MappingProxyType(found)


def all_troubles() -> tuple[Trouble, ...]:
    """Every trouble, sorted by id."""
    return tuple(sorted(troubles().values(), key=lambda t: t.id))


def trouble(id_: str) -> Trouble:
    """The trouble called `id_`, with '_' or '-'; NotFound names those spelt nearly alike."""
    known = troubles()
    key = id_.strip().lower().replace("-", "_").replace(" ", "_")
    if key in known:
        return known[key]
    near = get_close_matches(key, known, n=3) or [k for k in known if k.startswith(key[:4])][:3]
    hint = f" Did you mean {' or '.join(known[k].slug for k in near)}?" if near else ""
    raise NotFound(f"There is no trouble '{id_}'.{hint}")


def host_weight(trouble: Trouble, crop: str) -> float:
    """How well a crop fits the list of a trouble's hosts: 1 named, less for kin, little and never 0 for any other.

    Parameters
    ----------
    crop
        Key of the handbook ('tomato-determinate') or a plain name ('tomato').
    """
    known = crop_words(crop)
    best = STRANGER
    for host in trouble.hosts:
        best = max(best, _fits(host, known, trouble.hosts))
    return best


@cache
def fit(cause: str, crop: str) -> float:
    """How well a crop fits a cause of the table of signs, for weighing it before any sign; above 0 for every crop.

    As `host_weight`, and wider: hosts of the finer names that the cause stands for count too (cucumber beetles for leaf
    beetles), and those of `hosts_more.csv`. And finer: where some hosts are named, 'transplants of all kinds' counts
    less than a named one; where each of its finer names keeps to one family (a rust for beans, a rust for corn), a crop
    of no such family counts less.
    """
    lists = [one.hosts for one in troubles().values() if one.cause == cause]
    finer = lists[1:] if len(lists) > 2 else lists[:1]
    more = [row.hosts for row in hosts_more() if row.cause == cause]
    best = max(_fits_best(hosts, crop, named=any(not _ANY.match(host) for host in hosts)) for hosts in lists)
    best = max([best, *(_fits_best(hosts, crop, named=True) for hosts in more)])
    if best > STRANGER:
        return best
    return NARROW if all(_one_family(hosts) for hosts in finer) else STRANGER


def _fits_best(hosts: tuple[str, ...], crop: str, *, named: bool) -> float:
    """The best fit in one list; where some hosts are `named`, words for any plant count as for the rest of them."""
    known = crop_words(crop)
    ceiling = {host: NOT_THE_MOST if named and _ANY.match(host) else LISTED for host in hosts}
    return max(min(_fits(host, known, hosts), most) for host, most in ceiling.items())


def _one_family(hosts: tuple[str, ...]) -> bool:
    families = {_GROUPS.get(host) or _family(host) for host in hosts}
    return len(families) == 1 and "" not in families


@dataclass(frozen=True, slots=True)
class HostsMore:
    """Hosts of a cause that its list in the reference does not name."""

    cause: str
    hosts: tuple[str, ...]
    status: str
    source: str


@cache
def hosts_more() -> tuple[HostsMore, ...]:
    """Every row; they widen the weighing of causes and nothing else."""
    rows = _rows_of("hosts_more.csv", ("cause", "hosts", "status", "source"))
    return tuple(HostsMore(cause, _hosts(hosts), status, source) for cause, hosts, status, source in rows)


@cache
def crop_words(crop: str) -> CropWords:
    """What the lists of hosts call a crop: by its key, by a plain name, or as it stands where it is unknown."""
    table = _crop_table()
    if crop in table:
        return table[crop]
    name = crop.lower().replace("-", " ")
    for plain in dict.fromkeys((name, *_singular(name))):
        for known in table.values():
            if plain in map(str.lower, known.words):
                return CropWords(tuple(dict.fromkeys((plain, *known.words))), known.family, known.fruit)
    pieces = [plain for piece in re.split(r"[ ,]+", name) if piece for plain in (piece, *_singular(piece))]
    family = next((found for piece in pieces if (found := _family(piece))), "")
    return CropWords(tuple(dict.fromkeys((name, *pieces))), family)


def _singular(name: str) -> tuple[str, ...]:
    """What a word may be one of: 'tomatoes' of tomato, 'cherries' of cherry."""
    endings = (("ies", "y"), ("es", ""), ("s", ""))
    return tuple(
        name.removesuffix(end) + put for end, put in endings if name.endswith(end) and len(name) > len(end) + 2
    )


@cache
def _crop_table() -> Mapping[str, CropWords]:
    rows = _rows_of("crop_words.csv", ("crop", "words", "family", "picked_for_fruit"))
    return MappingProxyType(
        {crop: CropWords(tuple(words.split("; ")), family, fruit == "yes") for crop, words, family, fruit in rows}
    )


@cache
def _family(word: str) -> str:
    return next((known.family for known in _crop_table().values() if word in known.words), "")


def _hosts(cell: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in re.split(r"[,;:]", cell) if part.strip())


def _fits(host: str, known: CropWords, hosts: tuple[str, ...]) -> float:
    plain = host.removesuffix(" most")
    if plain in known.words:
        return LISTED
    if plain == "all broadleaves":
        return KIN if known.family in _NO_BROADLEAF else NOT_THE_MOST
    if _ANY.match(host):
        return NOT_THE_MOST if any(h.endswith(" most") for h in hosts) else LISTED
    family = _GROUPS.get(plain) or _family(plain)
    if not family or family != known.family:
        return STRANGER
    return LISTED if plain in _GROUPS else KIN
