"""Signs of trouble: what can be asked, how often each cause shows it, and what settles a doubt."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache, partial
from types import MappingProxyType
from typing import Literal, get_args

from kailyard.errors import DataError, NotFound
from kailyard.handbook.troubles import CAUSE_COLUMNS, FOLDER, troubles
from kailyard.handbook.whole_tables import read_table

_rows_of = partial(read_table, FOLDER)

SIGN_COLUMNS = ("id", "group", "question", "default", "status")
HowOften = Literal["always", "often", "sometimes", "rarely", "never"]
HOW_OFTEN: tuple[HowOften, ...] = get_args(HowOften)


@dataclass(frozen=True, slots=True)
class Sign:
    """One thing that can be seen, and the plain question for it."""

    id: str
    group: str
    """'where', 'colour', 'growth seen', 'spots', 'shape', 'chewing', 'wilt', 'fruit', 'root and bulb', 'pattern',
    'timing'."""
    question: str
    default: HowOften
    """How often a cause shows it that has no row of its own for it."""
    status: str

    @property
    def slug(self) -> str:
        """The name as typed: 'edge-gradient'."""
        return self.id.replace("_", "-")


@dataclass(frozen=True, slots=True)
class Frequency:
    """How often one cause shows one sign."""

    cause: str
    sign: str
    how_often: HowOften
    status: str
    """Of the word: our reading, from memory."""
    evidence: str
    """'published' where a guide names the sign for the cause; ''."""
    source: str


@dataclass(frozen=True, slots=True)
class Disorder:
    """What is known of a cause beyond its signs."""

    cause: str
    kind: str
    drivers: str
    numbers: str
    when: str
    do_now: str
    prevent: str
    eat: str
    settles_it: str
    status: str
    eat_status: str
    """Its own: whether it may be eaten was looked up apart."""
    source: str


@dataclass(frozen=True, slots=True)
class Settles:
    """A small test that decides: rub, cut, bag, lens, tap, dig, look, watch, night, bioassay, lab."""

    cause: str
    how: str
    sign: str
    """The sign that it answers."""
    what: str
    status: str
    source: str


@dataclass(frozen=True, slots=True)
class ReportFirst:
    """Who hears of it before anything is moved."""

    cause: str
    says: str
    status: str
    source: str


@dataclass(frozen=True, slots=True)
class Sample:
    """What to send to a laboratory for one kind of cause, and for how long it is worth it."""

    category: str
    what: str
    days: int
    """Days from the first sight within which a sample is still worth taking."""
    says: str
    status: str


@dataclass(frozen=True, slots=True)
class HerbicideFact:
    """One fact about injury by herbicides."""

    topic: str
    fact: str
    status: str
    source: str


@dataclass(frozen=True, slots=True)
class Sensitivity:
    """How easily a herbicide hurts a crop."""

    herbicide: str
    group: str
    crop: str
    sensitivity: str
    note: str
    status: str
    source: str


@cache
def signs() -> Mapping[str, Sign]:
    """Every sign by its id, in the order of the table; those of our own last."""
    rows = (*_rows_of("signs.csv", SIGN_COLUMNS), *_rows_of("signs_more.csv", SIGN_COLUMNS))
    return MappingProxyType({r[0]: Sign(r[0], r[1], r[2], _word(r[3], f"signs: {r[0]}"), r[4]) for r in rows})


@cache
def signs_more() -> frozenset[str]:
    """Of these, the ones that stand in `signs_more.csv`: added by us, beside the table that was carried over."""
    return frozenset(row[0] for row in _rows_of("signs_more.csv", SIGN_COLUMNS))


def sign(id_: str) -> Sign:
    """The sign called `id_`, with '_' or '-'; NotFound names those spelt nearly alike."""
    known = signs()
    key = id_.strip().lower().replace("-", "_").replace(" ", "_")
    if key in known:
        return known[key]
    near = get_close_matches(key, known, n=3) or [k for k in known if key[:4] in k][:3]
    hint = f" Did you mean {' or '.join(known[k].slug for k in near)}?" if near else ""
    raise NotFound(f"There is no sign '{id_}'.{hint}")


@cache
def frequencies() -> Mapping[tuple[str, str], Frequency]:
    """By (cause, sign): the cells that are not the sign's default, and those that rest on a guide."""
    rows = _rows_of("frequencies.csv", ("cause", "sign", "how_often", "status", "evidence", "source"))
    known, found = signs(), {}
    for cause, sign_, word, status, evidence, source in rows:
        if cause not in troubles() or sign_ not in known:
            raise DataError(f"troubles/frequencies.csv: {cause} / {sign_}: no such cause or sign.")
        word_ = _word(word, f"frequencies.csv: {cause} / {sign_}")
        found[cause, sign_] = Frequency(cause, sign_, word_, status, evidence, source)
    return MappingProxyType(found)


@cache
def readings_more() -> Mapping[tuple[str, str], Frequency]:
    """By (cause, sign): readings beside those of the table. For a cell of the table a second guide's, which widens the
    range; for a cause or a sign that stands in no table but ours the only one.
    """
    rows = _rows_of("frequencies_more.csv", ("cause", "sign", "how_often", "status", "source", "locator"))
    found = {}
    for cause, sign_, word, status, source, locator in rows:
        if cause not in troubles() or sign_ not in signs():
            raise DataError(f"troubles/frequencies_more.csv: {cause} / {sign_}: no such cause or sign.")
        word_ = _word(word, f"frequencies_more.csv: {cause} / {sign_}")
        evidence = "published" if locator else ""
        named = f"{source}, {locator}" if locator else source
        found[cause, sign_] = Frequency(cause, sign_, word_, status, evidence, named)
    return MappingProxyType(found)


@cache
def readings(cause: str, sign_: str) -> tuple[HowOften, ...]:
    """The words for how often a cause shows a sign, the rarest last: one, or two where guides differ."""
    row, more = frequencies().get((cause, sign_)), readings_more().get((cause, sign_))
    if cause in causes_more() or sign_ in signs_more():
        return (signs()[sign_].default if more is None else more.how_often,)
    said = {signs()[sign_].default if row is None else row.how_often} | ({more.how_often} if more else set())
    return tuple(word for word in HOW_OFTEN if word in said)


def how_often(cause: str, sign_: str) -> HowOften:
    """How often a cause shows a sign: its own row, or the sign's default. Where guides differ, what the table says."""
    if cause in causes_more() or sign_ in signs_more():
        return readings(cause, sign_)[0]
    row = frequencies().get((cause, sign_))
    return signs()[sign_].default if row is None else row.how_often


def grounds(cause: str, sign_: str) -> Frequency | None:
    """The row that names a guide for a cell, else any row of it; None where the sign's default stands."""
    rows = [r for r in (frequencies().get((cause, sign_)), readings_more().get((cause, sign_))) if r is not None]
    return next((r for r in rows if r.evidence == "published"), rows[0] if rows else None)


@cache
def causes() -> tuple[str, ...]:
    """Ids of all causes that signs point to, sorted."""
    return tuple(sorted(id_ for id_, t in troubles().items() if t.cause == id_))


@cache
def causes_more() -> frozenset[str]:
    """Of these, the ones that stand in `causes_more.csv`: added by us, beside the table that was carried over."""
    return frozenset(row[0] for row in _rows_of("causes_more.csv", CAUSE_COLUMNS))


@cache
def disorders() -> Mapping[str, Disorder]:
    """By cause."""
    columns = ("cause", "kind", "drivers", "numbers", "when", "do_now", "prevent", "eat", "settles_it", "status",
               "eat_status", "source")  # fmt: skip
    return MappingProxyType({r[0]: Disorder(*r) for r in _rows_of("disorders.csv", columns)})


@cache
def settles() -> Mapping[str, Settles]:
    """By cause: the small test that decides."""
    rows = _rows_of("settles.csv", ("cause", "how", "sign", "what", "status", "source"))
    return MappingProxyType({r[0]: Settles(*r) for r in rows})


@cache
def report_first() -> Mapping[str, ReportFirst]:
    """By cause: what is to be reported before anything is moved."""
    rows = _rows_of("report_first.csv", ("cause", "says", "status", "source"))
    return MappingProxyType({r[0]: ReportFirst(*r) for r in rows})


@cache
def samples() -> Mapping[str, Sample]:
    """By kind of cause."""
    rows = _rows_of("samples.csv", ("category", "what", "days", "says", "status"))
    return MappingProxyType({r[0]: Sample(r[0], r[1], int(r[2]), r[3], r[4]) for r in rows})


@cache
def herbicide_facts() -> Mapping[str, HerbicideFact]:
    """By topic."""
    rows = _rows_of("herbicide_facts.csv", ("topic", "fact", "status", "source"))
    return MappingProxyType({r[0]: HerbicideFact(*r) for r in rows})


@cache
def sensitivities() -> tuple[Sensitivity, ...]:
    """Every row, in the order of the table."""
    columns = ("herbicide", "group", "crop", "sensitivity", "note", "status", "source")
    return tuple(Sensitivity(*r) for r in _rows_of("herbicide_sensitivity.csv", columns))


def _word(text: str, where: str) -> HowOften:
    if text not in HOW_OFTEN:
        raise DataError(f"troubles/{where}: '{text}' is none of {', '.join(HOW_OFTEN)}.")
    return text
