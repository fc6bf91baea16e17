"""Loading: the package's tables, each file when it is first asked for; a gardener's own facts on top."""

from __future__ import annotations

import tomllib
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache
from hashlib import sha256
from importlib import resources
from importlib.resources.abc import Traversable
from pathlib import Path
from types import MappingProxyType, ModuleType

from kailyard import discover
from kailyard.errors import DataError, FactError
from kailyard.handbook.check import Found, check_facts, check_leg_rows, check_order, misplaced
from kailyard.handbook.legs import build_legs, check_legs
from kailyard.handbook.quantities import quantities
from kailyard.handbook.rows import LARGEST_BYTES, LEG_COLUMNS, LegRow, make_fact, make_leg_row, one_line, read_rows
from kailyard.handbook.shelf import Shelf
from kailyard.handbook.types import Citation, Fact, Handbook, Leg

_TABLES = "kailyard.handbook.tables"
_OWN_OPTIONAL = {"from_stage": "", "to_stage": "", "order": "1", "status": "", "source": "", "locator": "", "note": ""}
_OWN_LOCATOR = "own facts"


@dataclass(slots=True)
class _Read:
    """What one reading of a data folder or of own facts gave."""

    facts: dict[str, list[Fact]] = field(default_factory=dict)
    """By table."""
    legs: dict[str, list[LegRow]] = field(default_factory=dict)
    problems: list[str] = field(default_factory=list)


def load_handbook(own: Path | str | None = None) -> Handbook:
    """The handbook, a gardener's own facts winning.

    Parameters
    ----------
    own : Path, str or None
        The gardener's `facts.csv`: a Path to it (absent: none), or its text. Columns as in the package; `subject`,
        `quantity`, `value` and `unit` must be there. Rows with `from_stage` and `to_stage` are development legs,
        and take the place of every leg the package has for that stretch. Status is always 'yours'.

    Raises
    ------
    FactError
        If own rows break a rule: every one of them is named.
    DataError
        If the file is too large or not text.
    """
    base = _package()
    text = _own_text(own)
    if text is None:
        return base
    name = own.name if isinstance(own, Path) else "facts.csv"
    read = _read_own(text, file=name, base=base)
    if read.problems:
        raise FactError(read.problems)
    return _with_own(base, read)


def check_handbook(data: Path | Traversable | None = None, own: Path | str | None = None) -> tuple[str, ...]:
    """Every bad row at once, one line each: `file:line: what, which rule, what next`. Nothing wrong: empty.

    `data` is a folder laid out as the package's own (None); `own` as for `load_handbook`.
    """
    folder = _data() if data is None else data
    problems: list[str] = []
    citations = _citations(folder, problems)
    read = _read_folder(folder)
    problems += read.problems
    found: list[Found] = []
    for module in discover.modules(_TABLES):
        facts, rows = read.facts.get(module.NAME, []), read.legs.get(module.NAME, [])
        found += check_facts(facts, table=module.DECLARED, ordered=module.ORDERED, sources=citations)
        found += check_leg_rows(rows, table=module.DECLARED, ordered=module.ORDERED, sources=citations)
        if module.BY_SUBJECT:
            found += misplaced([*facts, *(row.fact for row in rows)])
        crops = {fact.subject for fact in read.facts.get("crops", [])}
        found += [
            (
                row.fact.file,
                row.fact.line,
                f"'{row.fact.subject}' has legs but no facts. Add crops/{row.fact.subject}.csv.",
            )
            for row in rows
            if row.fact.subject not in crops
        ]
        legs = build_legs(rows)
        found += check_legs(leg for those in legs.values() for leg in those)
    problems += _lines(found)
    if own is not None:
        try:
            text = _own_text(own)
            if text is not None:
                name = own.name if isinstance(own, Path) else "facts.csv"
                problems += _read_own(text, file=name, base=_handbook(citations, read)).problems
        except DataError as err:
            problems += err.problems
    return tuple(problems)


def fingerprint(own: Path | str | None = None) -> str:
    """Sixteen digits that change with any fact: the package's tables byte by byte, and the gardener's own on top."""
    found = sha256(_package_bytes().encode())
    found.update((_own_text(own) or "").encode())
    return found.hexdigest()[:16]


@cache
def _package_bytes() -> str:
    found = sha256()
    for module in discover.modules(_TABLES):
        for path in _files(_data(), module):
            found.update(path.read_bytes())
    return found.hexdigest()


@cache
def _package() -> Handbook:
    """The package's handbook: files named by their subject are opened when somebody asks for it."""
    problems: list[str] = []
    citations = _citations(_data(), problems)
    places: dict[str, list[tuple[ModuleType, Traversable | Path]]] = {}
    stretches: dict[str, list[tuple[ModuleType, Traversable | Path]]] = {}
    read, crops, plants = _Read(problems=problems), list[str](), list[str]()
    for module in discover.modules(_TABLES):
        for path in _files(_data(), module):
            if not module.BY_SUBJECT:
                _read_file(path, module, read)
                continue
            subject = path.name.removesuffix(".csv")
            (stretches if module.ROW is LegRow else places).setdefault(subject, []).append((module, path))
            if module.NAME in ("crops", "plants"):
                (crops if module.NAME == "crops" else plants).append(subject)
    if read.problems:
        raise FactError(read.problems)
    rest = _by_subject(fact for those in read.facts.values() for fact in those)

    def facts_of(subject: str) -> Mapping[str, Fact]:
        if subject in rest:
            return rest[subject]
        return _by_subject(fact for those in _opened(places[subject]).facts.values() for fact in those)[subject]

    def legs_of(crop: str) -> tuple[Leg, ...]:
        return build_legs(row for rows in _opened(stretches[crop]).legs.values() for row in rows)[crop]

    return Handbook(
        facts=Shelf(sorted({*places, *rest}), facts_of),
        legs=Shelf(sorted(stretches), legs_of),
        citations=MappingProxyType(dict(citations)),
        crops=tuple(sorted({*crops, *plants})),
        plants=tuple(sorted(plants)),
    )


def _opened(files: Iterable[tuple[ModuleType, Traversable | Path]]) -> _Read:
    read = _Read()
    for module, path in files:
        _read_file(path, module, read)
    if read.problems:
        raise FactError(read.problems)
    return read


def _by_subject(facts: Iterable[Fact]) -> dict[str, Mapping[str, Fact]]:
    found: dict[str, dict[str, Fact]] = {}
    for fact in facts:
        found.setdefault(fact.subject, {}).setdefault(fact.quantity, fact)
    return {subject: MappingProxyType(those) for subject, those in found.items()}


def _data() -> Traversable:
    return resources.files("kailyard.handbook").joinpath("data")


def _handbook(citations: Mapping[str, Citation], read: _Read) -> Handbook:
    """A handbook of rows that are all read already: that of a folder being checked."""
    legs: dict[str, tuple[Leg, ...]] = {}
    for rows in read.legs.values():
        legs |= build_legs(rows)
    plants = {fact.subject for fact in read.facts.get("plants", [])}
    return Handbook(
        facts=MappingProxyType(_by_subject(fact for those in read.facts.values() for fact in those)),
        legs=MappingProxyType(legs),
        citations=MappingProxyType(dict(citations)),
        crops=tuple(sorted({*plants, *(fact.subject for fact in read.facts.get("crops", []))})),
        plants=tuple(sorted(plants)),
    )


def _with_own(base: Handbook, read: _Read) -> Handbook:
    mine = _by_subject(fact for those in read.facts.values() for fact in those)
    rows = [row for those in read.legs.values() for row in those]
    told = {(row.fact.subject, row.from_stage, row.to_stage) for row in rows}
    own_legs = build_legs(rows)

    def facts_of(subject: str) -> Mapping[str, Fact]:
        if subject not in mine:
            return base.facts[subject]
        return MappingProxyType({**base.facts.get(subject, {}), **mine[subject]})

    def legs_of(crop: str) -> tuple[Leg, ...]:
        if crop not in own_legs:
            return base.legs[crop]
        kept = (leg for leg in base.legs.get(crop, ()) if (crop, leg.from_stage, leg.to_stage) not in told)
        return tuple(sorted((*kept, *own_legs[crop]), key=lambda leg: (leg.from_stage, leg.to_stage, leg.order)))

    return Handbook(
        facts=Shelf(sorted({*base.facts, *mine}), facts_of),
        legs=Shelf(sorted({*base.legs, *own_legs}), legs_of),
        citations=base.citations,
        crops=tuple(sorted({*base.crops, *(fact.subject for fact in read.facts.get("crops", []))})),
        plants=base.plants,
    )


def _read_folder(folder: Path | Traversable) -> _Read:
    read = _Read()
    for module in discover.modules(_TABLES):
        subfolder = module.FILES.partition("/")[0]
        if not folder.joinpath(subfolder).is_dir():
            read.problems.append(f"{subfolder}/: the folder of the table '{module.NAME}' is missing.")
            continue
        for path in _files(folder, module):
            _read_file(path, module, read)
    return read


def _files(folder: Path | Traversable, module: ModuleType) -> list[Traversable | Path]:
    """The files of a table, by name."""
    subfolder, _, pattern = module.FILES.partition("/")
    found = (p for p in folder.joinpath(subfolder).iterdir() if p.name.endswith(pattern.removeprefix("*")))
    return sorted(found, key=lambda p: p.name)


def _read_file(path: Path | Traversable, module: ModuleType, read: _Read) -> None:
    file = f"{module.FILES.partition('/')[0]}/{path.name}"
    text = _decoded(path.read_bytes(), file=file, problems=read.problems)
    if text is not None:
        rows = module.parse(text, file=file, problems=read.problems)
        (read.legs if module.ROW is LegRow else read.facts).setdefault(module.NAME, []).extend(rows)


def _citations(folder: Path | Traversable, problems: list[str]) -> Mapping[str, Citation]:
    file = "sources.toml"
    try:
        table = tomllib.loads(folder.joinpath(file).read_bytes().decode("utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as err:
        problems.append(f"{file}: cannot be read ({err}). It holds [ID] with text = and caution =.")
        return {}
    citations: dict[str, Citation] = {}
    for name, entry in table.items():
        text = entry.get("text") if isinstance(entry, dict) else None
        if not isinstance(text, str) or not text or not isinstance(entry.get("caution", ""), str):
            problems.append(f'{file}: [{name}] needs text = "...", and caution = "..." where there is one.')
            continue
        citations[name] = Citation(name, text, entry.get("caution", ""))
    return citations


def _own_text(own: Path | str | None) -> str | None:
    """The text of own facts, refused by its size before it is read; None where there is none."""
    if own is None or (isinstance(own, Path) and not own.exists()):
        return None
    name = own.name if isinstance(own, Path) else "facts.csv"
    size = own.stat().st_size if isinstance(own, Path) else len(own)
    if size > LARGEST_BYTES:
        raise DataError(
            f"{name}: {size:,} bytes; own facts may be {LARGEST_BYTES:,} at most. Nothing was read. "
            "Is it the right file? It holds one fact a line."
        )
    if isinstance(own, str):
        return own
    problems: list[str] = []
    try:
        text = _decoded(own.read_bytes(), file=name, problems=problems)
    except OSError as err:
        raise DataError(f"{name}: cannot be read ({err.strerror}). It must be a readable file.") from err
    if text is None:
        raise DataError(problems)
    return text


def _decoded(content: bytes, *, file: str, problems: list[str]) -> str | None:
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as err:
        line = content.count(b"\n", 0, err.start) + 1
        problems.append(f"{file}:{line}: not UTF-8 text (byte {err.start}). Save the table as CSV in UTF-8.")
        return None
    if "\0" in text:
        line = text.count("\n", 0, text.index("\0")) + 1
        problems.append(f"{file}:{line}: a zero byte: this is no text file. Save the table as CSV in UTF-8.")
        return None
    return text


def _read_own(text: str, *, file: str, base: Handbook) -> _Read:
    """Own rows, read and judged: facts go to the table that declares their quantity, rows with stages to the legs."""
    read = _Read()
    declared = quantities()
    tables = {quantity: table for table, those in declared.items() if table != "development" for quantity in those}
    flat = {quantity: declared[table][quantity] for quantity, table in tables.items()}
    for line, cells in read_rows(text, file=file, columns=LEG_COLUMNS, problems=read.problems, optional=_OWN_OPTIONAL):
        subject, from_stage, to_stage, _, *rest = cells
        rest[5] = rest[5] or _OWN_LOCATOR
        if from_stage or to_stage:
            leg_cells = [*cells[:4], *rest]
            row = make_leg_row(
                leg_cells, known=declared["development"], file=file, line=line, problems=read.problems, own=True
            )
            if row is not None:
                read.legs.setdefault("development", []).append(row)
            continue
        fact = make_fact([subject, *rest], known=flat, file=file, line=line, problems=read.problems, own=True)
        if fact is not None:
            read.facts.setdefault(tables[fact.quantity], []).append(fact)
    read.problems += _lines(_judge_own(read, base=base))
    read.problems = [one_line(problem) for problem in read.problems]
    return read


def _judge_own(read: _Read, *, base: Handbook) -> list[Found]:
    named = {fact.subject for those in read.facts.values() for fact in those if fact.quantity == "common_name"}
    known: Collection[str] = {*base.facts, *named}
    everything = [fact for those in read.facts.values() for fact in those]
    everything += [row.fact for rows in read.legs.values() for row in rows]
    found = [
        (fact.file, fact.line, _unknown_subject(fact.subject, base)) for fact in everything if fact.subject not in known
    ]
    for module in discover.modules(_TABLES):
        facts, rows = read.facts.get(module.NAME, []), read.legs.get(module.NAME, [])
        found += check_facts(facts, table=module.DECLARED, ordered=(), sources=base.citations)
        found += check_leg_rows(rows, table=module.DECLARED, ordered=module.ORDERED, sources=base.citations)
        found += check_legs(leg for those in build_legs(rows).values() for leg in those)
        merged = {
            (subject, fact.quantity): fact
            for subject in sorted({fact.subject for fact in facts})
            for fact in base.facts.get(subject, {}).values()
        } | {(fact.subject, fact.quantity): fact for fact in facts}
        found += check_order(merged, ordered=module.ORDERED)
    return found


def _unknown_subject(subject: str, base: Handbook) -> str:
    near = [crop for crop in base.crops if subject and crop.startswith(subject[:3])]
    hint = f"Did you mean {', '.join(near)}? " if near else ""
    return f"no crop {subject!r} in the handbook. {hint}To add a crop of your own, give it a row 'common_name'."


def _lines(found: Iterable[Found]) -> list[str]:
    return [f"{file}:{line}: {message}" for file, line, message in sorted(set(found))]
