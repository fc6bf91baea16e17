"""What is it? Answers to plain questions become causes with ranges; what is found is kept, with what it rests on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from kailyard.desk import typed
from kailyard.desk.answer import once
from kailyard.desk.beds import in_order, known_bed
from kailyard.desk.desk import Desk
from kailyard.desk.forms import bed_name, planting_name
from kailyard.desk.handles import handles, undo
from kailyard.desk.plantings import known_planting, of_earlier_years
from kailyard.desk.shelf import handbook
from kailyard.desk.take import Written, take
from kailyard.desk.view import season_view
from kailyard.documents.diagnosis import Answer, Diagnosis
from kailyard.documents.table import Table
from kailyard.errors import DataError, NotFound, UsageError
from kailyard.garden.model import Garden, Planting
from kailyard.handbook.signs import Sign, sign, signs
from kailyard.handbook.troubles import trouble
from kailyard.publish.words import day as say_day
from kailyard.season.view import SeasonView
from kailyard.troubles.diagnosis import Heading, Question
from kailyard.troubles.diagnosis import diagnose as weigh_up
from kailyard.troubles.setting import proposed, setting

_ANSWERS: Mapping[str, Answer] = {
    "yes": "yes", "y": "yes", "no": "no", "n": "no", "can't tell": "can't tell", "cant-tell": "can't tell",
    "can't-tell": "can't tell", "unknown": "can't tell", "?": "can't tell",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class SignOf:
    """One sign of a form."""

    id: str
    slug: str
    question: str
    hint: str = ""
    """How to find out."""


def diagnose(desk: Desk, planting: str, words: Sequence[str], *, seen: str | None = None) -> Diagnosis:
    """What the trouble of a planting may be, from words like 'edge-gradient=yes'."""
    return diagnosis(desk, planting, read_answers(words), seen=seen)


def diagnosis(desk: Desk, planting: str, answers: Mapping[str, Answer], *, seen: str | None = None) -> Diagnosis:
    """The same from answers by sign."""
    garden = desk.garden()
    one, today = known_planting(garden, planting), desk.today(garden)
    view = _view(desk)
    first_seen = None if seen is None else typed.past_day(seen, today, "seen")
    question = Question(
        answers={sign(name).id: answer for name, answer in answers.items()},
        setting=setting(garden, one, today, view),
        proposed=proposed(garden, one, today),
        first_seen=first_seen,
    )
    return weigh_up(question, _head(desk, garden, one, today))


def read_answers(words: Sequence[str]) -> dict[str, Answer]:
    """Answers by sign from words like 'web=no'; a bare sign says yes."""
    out: dict[str, Answer] = {}
    for word in words:
        name, equals, value = word.partition("=")
        id_ = sign(name).id
        answer = _ANSWERS.get(value.strip().lower()) if equals else "yes"
        if answer is None:
            raise UsageError(f"diagnose: {typed.shown(word)}: answer yes, no or ? (can't tell).")
        if out.get(id_, answer) != answer:
            raise UsageError(f"diagnose: '{sign(name).slug}' is answered twice, and not alike.")
        out[id_] = answer
    return out


def said_answers(answers: Mapping[str, Answer]) -> str:
    """Answers as an entry keeps them: 'web=no; white-powder-upper=yes'."""
    return "; ".join(f"{sign(name).slug}={answer}" for name, answer in sorted(answers.items()))


def keep_found(
    desk: Desk,
    planting: str,
    name: str,
    answers: Mapping[str, Answer],
    *,
    settled: bool = False,
    seen: str | None = None,
    text: str = "",
    id_: str | None = None,
) -> Table:
    """Keep what was found, with the answers it rests on. `text`: by whom or what it was settled, or anything more."""
    garden = desk.garden()
    one, today = known_planting(garden, planting), desk.today(garden)
    found = trouble(name)
    fields = {"trouble": found.slug, "sure": "settled" if settled else "likely"}
    fields |= {"signs": said_answers(answers), "first_seen": seen or ""}
    kept = take(desk, Written(id=id_ or once(), kind="found", target=one.id, fields=fields, text=text))
    said = (str(today), "found", one.id, f"{found.name}, {fields['sure']}")
    notes = (undo(handles(desk).of(desk.store.known([kept])[kept])),)
    return Table("Entered", ("day", "kind", "of", "what"), (said,), notes)


def signs_table() -> Table:
    """Every sign that can be answered, by group."""
    rows = tuple((s.group, s.slug, s.question) for s in _by_group())
    how = "Answer them: `kailyard diagnose tomato-1 old-leaves-first=yes web=no frass=?`."
    return Table("Signs of trouble", ("where to look", "sign", "what is seen"), rows, (how,))


def signs_by_group() -> tuple[tuple[str, tuple[SignOf, ...]], ...]:
    """The same for a form."""
    groups: dict[str, list[SignOf]] = {}
    for s in _by_group():
        groups.setdefault(s.group, []).append(SignOf(s.id, s.slug, s.question))
    return tuple((group, tuple(those)) for group, those in groups.items())


@dataclass(frozen=True, slots=True)
class WhatForm:
    """What the page asks, beside its answer."""

    plantings: tuple[tuple[str, tuple[tuple[str, str], ...]], ...]
    """(bed, its plantings as (identifier, name)), the beds in order; what is over this year stands last."""
    asked: tuple[SignOf, ...] = ()
    """Signs worth checking next."""
    answered: tuple[tuple[SignOf, str], ...] = ()
    """The gardener's own answers."""
    by_record: tuple[tuple[SignOf, str], ...] = ()
    """What the daybook itself answers, with its words."""
    rest: tuple[tuple[str, tuple[SignOf, ...]], ...] = ()
    """All other signs, by group."""
    found: tuple[tuple[str, str], ...] = ()
    """(name as typed, name) of what may be kept as found."""
    herbicide: bool = False
    """Whether injury by a herbicide is among the causes shown."""
    before: tuple[tuple[str, str], ...] = ()
    """(what was found and when, the answers as words) of this planting, the latest first."""


def what_form(desk: Desk, document: Diagnosis | None, answers: Mapping[str, Answer], *, bed: str = "") -> WhatForm:
    """The form under a diagnosis; None: the planting is still to be chosen, of `bed` where it is named."""
    if document is None:
        return WhatForm(_plantings(desk, bed))
    known = {s.slug: SignOf(s.id, s.slug, s.question) for s in signs().values()}
    own = {sign(name).slug: answer for name, answer in answers.items()}
    asked = tuple(replace(known[n.sign], hint=n.how) for n in document.next)
    out = {*own, *(one.slug for one in asked)}
    rest = tuple((group, tuple(s for s in those if s.slug not in out)) for group, those in signs_by_group())
    return WhatForm(
        plantings=(),
        asked=asked,
        answered=tuple((known[slug], answer) for slug, answer in own.items()),
        by_record=tuple((known[one.sign], one.proposed) for one in document.answered if one.proposed),
        rest=tuple((group, those) for group, those in rest if those),
        found=tuple((c.id, c.name) for c in document.causes if c.id != "other"),
        herbicide=any(c.category == "herbicide" for c in document.causes),
        before=_before(desk, document.planting) if not own else (),
    )


def category_of(name: str) -> str:
    """'herbicide', 'fungus' ... of a trouble; 'harmless' where there is nothing to do."""
    one = trouble(name)
    return "harmless" if one.harmless else one.category


def _before(desk: Desk, planting: str) -> tuple[tuple[str, str], ...]:
    """What was found on a planting with the answers it rested on, so that they can be gone on from."""
    garden = desk.garden()
    today = desk.today(garden)
    mine = [e for e in garden.entries_of(planting) if e.kind == "found" and e.payload.get("signs")]
    out = []
    for e in reversed(mine):
        try:
            name = trouble(str(e.payload["trouble"])).name
            read_answers(_kept(str(e.payload["signs"])))
        except (NotFound, UsageError):
            continue  # a sign or a trouble of a newer program
        out.append((f"{name}, {say_day(e.happened, today)}", str(e.payload["signs"])))
    return tuple(out)


def _kept(said: str) -> list[str]:
    return [part.strip() for part in said.split(";") if part.strip()]


def kept_answers(said: str) -> dict[str, str]:
    """Answers by sign from the words in which an entry keeps them."""
    return dict(read_answers(_kept(said)))


def _plantings(desk: Desk, bed: str) -> tuple[tuple[str, tuple[tuple[str, str], ...]], ...]:
    garden, book = desk.garden(), handbook(desk)
    if bed:
        known_bed(garden, bed)
    today = desk.today(garden)
    groups: dict[str, list[tuple[bool, str, str]]] = {b: [] for b in sorted(garden.beds, key=in_order)}
    for p in garden.plantings.values():
        entries = garden.entries_of(p.id)
        if (bed and p.bed != bed) or of_earlier_years(p, entries, today):
            continue
        over = any(e.kind == "clear" and e.happened <= today for e in entries)
        name = f"{planting_name(p, book)} ({p.id}{', over' if over else ''})"
        groups.setdefault(p.bed, []).append((over, name, p.id))
    named = {b: garden.beds[b].name if b in garden.beds else b for b in groups}
    return tuple(
        (named[b], tuple((id_, name) for _, name, id_ in sorted(those))) for b, those in groups.items() if those
    )


def _by_group() -> list[Sign]:
    order = list(dict.fromkeys(s.group for s in signs().values()))
    return sorted(signs().values(), key=lambda s: order.index(s.group))


def _head(desk: Desk, garden: Garden, one: Planting, today: date) -> Heading:
    book = handbook(desk)
    plants = (book.text(one.crop, "plain_name") or book.text(one.crop, "common_name") or one.crop).lower()
    return Heading(garden.name, today, garden.units, one.id, plants, bed_name(garden, one))


def _view(desk: Desk) -> SeasonView | None:
    """The season foreseen; None without weather: then the plant's age and the last days' weather are unknown."""
    try:
        return season_view(desk)
    except DataError:
        return None
