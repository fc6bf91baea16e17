"""What may be done about a trouble: prevention first, leaving it alone with its cost, the best of it together.

It is no fixed ladder: what kills a whole planting is taken out at once. A step that is not possible here is taken off
and the next one shows. Nothing that needs a label is allowed here: `checking` decides that, hour by hour.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Literal

from kailyard.documents._parts import Reason, RestsOn
from kailyard.garden.model import Entry
from kailyard.handbook.practices import Practice, asking, practices_for
from kailyard.handbook.remedies import Against, Course, Remedy, courses, remedies, remedies_for
from kailyard.handbook.signs import report_first
from kailyard.handbook.troubles import Trouble, crop_words, trouble
from kailyard.season.measures import day_words
from kailyard.troubles.label import Record, against, on_crop
from kailyard.troubles.marks import as_status

Count = Literal["", "above", "below", "undecided"]
Kind = Literal["removal", "prevention", "hand", "barrier", "biological", "product", "leave alone"]

NEXT_TIME = frozenset({"rotation", "hotwater_seed", "solarize"})
"""What helps the next sowing and not this one."""
LOOK_AGAIN_DAYS = 7
"""From doing something to looking at the new growth."""
LOOK_SOON_DAYS = 3
"""The same for what is taken out at once: whether its neighbours show it."""
LOOK_LATER_DAYS = 14
"""The same for weedkillers: new tips show in two or three weeks whether it is outgrown."""
MOST_BY_HAND = 3
"""Steps of prevention and hand work advised together: more is not done."""
MOST_PREVENTION = 2
"""Of them so many of prevention, where something can be done by hand: what is there is taken off too."""
THIRD = 1 / 3
"""Most leaves taken at one visit where the handbook has no figure for the crop. (remedies: never more than a third)"""
LEAVE, REMOVE, CUT, APART = "leave-alone", "take-out", "cut-out", "keep-apart"
EATERS = ("insect", "mite", "mollusc")
COVER = "row_cover"
"""It keeps off what is not there yet: of use to what was found only where nothing else can be done."""
CEILING = "{ceiling}"
"""Where the most leaves at one visit are said in a note."""
_BEES = {"none": 0, "not applicable": 0, "low": 0, "moderate": 1, "high": 2}


@dataclass(frozen=True, slots=True)
class Asked:
    """What was found, and what is known of the place."""

    trouble: str
    crop: str
    plants: str
    today: date
    sure: str = ""
    """'likely' or 'settled'; '' where nobody said."""
    count: Count = ""
    """Against the action threshold, where there is one and somebody counted; '' otherwise."""
    not_possible: frozenset[str] = frozenset()
    """Steps that were said not to be possible here."""
    records: Mapping[str, Record] = field(default_factory=dict)
    in_bloom: bool | None = None
    needs_bees: bool = True
    """Whether its flowers must be open to bees for a crop."""
    organic: bool | None = None
    leaf_share_max: float | None = None
    leaves_from: date | None = None
    """Day from which leaves may be taken again; None where none were taken of late."""
    crop_names: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Option:
    """One step."""

    id: str
    kind: Kind
    says: str
    how: str
    needs_label: bool
    labels: tuple[str, ...]
    """Names of label records that list this crop and trouble; () where a label is to be read first."""
    advised: bool
    """It belongs to the best that can be done together."""
    reasons: tuple[Reason, ...]
    why_not: str = ""
    """Why it is not for now; ''."""


@dataclass(frozen=True, slots=True)
class Choice:
    """Everything that may be done."""

    options: tuple[Option, ...]
    """In the order in which they are to be thought of."""
    struck: tuple[Option, ...]
    """Steps taken off as not possible here."""
    first: str
    """What to do first, in a sentence or two; whom to tell before anything is moved."""
    next_look: date
    judged: str
    """How to tell whether it helped."""
    course: Course | None

    @property
    def together(self) -> tuple[Option, ...]:
        """The best that can be done together."""
        return tuple(o for o in self.options if o.advised)


def options(asked: Asked) -> Choice:
    """The steps, those advised together marked; at least leaving it alone is always among them."""
    known = trouble(asked.trouble)
    course = courses().get(known.id) or courses().get(known.cause)
    remove = removed(known)
    steps = _steps(asked, known, course)
    there = [o for o in steps if o.id not in asked.not_possible]
    advised = _together(asked, known, there, remove=remove)
    chosen = tuple(_marked(o, advised=o.id in advised) for o in there)
    return Choice(
        options=chosen,
        struck=tuple(o for o in steps if o.id in asked.not_possible),
        first=_first(asked, known, [o for o in chosen if o.advised], remove=remove),
        next_look=look_again(known, asked.today),
        judged=judged(known),
        course=course,
    )


def _steps(asked: Asked, known: Trouble, course: Course | None) -> list[Option]:
    leave = _leave(asked, known, course)
    if known.harmless:
        return [leave]
    found: list[Option] = []
    if course is not None and course.remove:
        found += _removal(asked, known, course)
    by_kind: dict[str, list[Option]] = {}
    words = frozenset({*crop_words(asked.crop).words, asked.crop})
    for practice in practices_for(known.id, words) or practices_for(known.cause, words):
        by_kind.setdefault(practice.kind, []).append(_practice(practice))
    for each in remedies_for(known.id) or remedies_for(known.cause):
        if each.remedy in NEXT_TIME:
            continue
        remedy = remedies()[each.remedy]
        by_kind.setdefault(remedy.kind, []).append(_step(asked, known, remedy, each))
    for kind in ("prevention", "hand", "barrier", "biological", "product"):
        found += sorted(by_kind.get(kind, ()), key=_order)  # stable: practices stand first, in their table's order
    at = 0 if asked.count == "below" else len(found)
    found.insert(at, leave)
    return found


def _order(o: Option) -> tuple[bool, bool, int, bool, str]:
    """What can be done first; then what a label is there for; then what spares bees; then the firmer ground."""
    remedy = remedies().get(o.id)
    if remedy is None:
        return False, False, 0, False, ""
    bees = _BEES.get(remedy.bee_class, 2)
    firm = bool(o.reasons) and o.reasons[0].rests_on is not None and o.reasons[0].rests_on.status == "published"
    return bool(o.why_not), not o.labels, bees, not firm, o.id


def not_possible(entries: Iterable[Entry], targets: Collection[str], trouble_id: str) -> frozenset[str]:
    """Steps against a trouble that the daybook says are not possible here; the last word on each holds."""
    last: dict[str, bool] = {}
    for e in entries:
        if e.kind == "step" and e.target in targets and str(e.payload["trouble"]).replace("-", "_") == trouble_id:
            last[str(e.payload["step"])] = e.payload["here"] == "possible"
    return frozenset(step for step, possible in last.items() if not possible)


def removed(known: Trouble) -> bool:
    """Whether the sick plants go at once: late blight, viruses, wilts and the like."""
    course = courses().get(known.id) or courses().get(known.cause)
    return course is not None and bool(course.remove)


def look_again(known: Trouble, day: date) -> date:
    """The day of the next look at what was found, or met, on `day`."""
    if known.category == "herbicide":
        return day + timedelta(days=LOOK_LATER_DAYS)
    return day + timedelta(days=LOOK_SOON_DAYS if removed(known) else LOOK_AGAIN_DAYS)


def judged(known: Trouble) -> str:
    """How to tell at the next look whether it goes on."""
    if removed(known):
        return "Look at the plants beside those taken out: does any show it?"
    if known.category == "animal":
        return "Old bites and holes stay as they are: look for fresh ones."
    return "Old spots and holes stay as they are: is what has grown since clean?"


def _removal(asked: Asked, known: Trouble, course: Course) -> list[Option]:
    ground = RestsOn(as_status(course.status), course.source, f"course of {course.trouble.replace('_', ' ')}")
    why = (Reason(f"Left standing: {course.left_alone}.", rests_on=ground),)
    bag = "bagged on the spot, in dry weather; not on the compost; clean hands and tools"
    out = Option(REMOVE, "removal", f"Take sick {asked.plants} out now", bag, False, (), True, why)
    if course.remove == "plants or parts":  # a virus or a wilt is in the whole plant, and no cutting rids it of that
        id_, says, how = CUT, "Cut sick parts out, far into sound leaf and stem", f"{bag}; look every day"
        because = Reason("It slows this trouble and seldom stops it.", rests_on=ground)
    else:
        id_, says = APART, "Leave the sick ones for last"
        how = "do sound plants first, then wash hands and tools; save no seed of them"
        because = Reason("It cures none, and keeps hands and tools from carrying it.", rests_on=ground)
    second = Option(id_, "removal", says, how, False, (), False, (because,))
    return [out, second]


def _practice(each: Practice) -> Option:
    rests = RestsOn(as_status(each.status), each.source, f"practices, {each.trouble.replace('_', ' ')}")
    return Option(
        each.step,
        each.kind,
        each.says,
        each.how,
        False,
        (),
        False,
        (Reason("This is what is usually done about it.", rests_on=rests),),
    )


def _leave(asked: Asked, known: Trouble, course: Course | None) -> Option:
    if known.harmless:
        ground = RestsOn(as_status(known.status), known.source or known.status, "")
        says = Reason(f"{known.name[0].upper()}{known.name[1:]}: nothing is wrong.", rests_on=ground)
        return Option(LEAVE, "leave alone", "Leave it alone", "nothing to do", False, (), True, (says,))
    if course is not None and course.left_alone:
        ground = RestsOn(as_status(course.status), course.source, "")
        # Of what eats the plants the handbook has the harm that goes on, not what it comes to at the end.
        goes_on = known.category in EATERS
        cost = f"what they do goes on: {course.left_alone}" if goes_on else f"its cost: {course.left_alone}"
        why = (Reason(f"{'What goes on' if goes_on else 'What it costs'}: {course.left_alone}.", rests_on=ground),)
    else:
        cost = "what it costs is not known"
        why = (Reason("What leaving it alone costs is not known.", rests_on=RestsOn("memory", "handbook", "")),)
    return Option(LEAVE, "leave alone", "Leave it alone", cost, False, (), False, why)


def _step(asked: Asked, known: Trouble, remedy: Remedy, each: Against) -> Option:
    ground = RestsOn(as_status(each.status), _source(remedy), f"{remedy.id}, targets".replace("_", " "))
    reasons = [Reason(f"Against: {remedy.said('targets')}.", rests_on=ground)]
    if each.says:  # in words of this trouble's own, for which the remedy's own sources do not stand
        ours = RestsOn(as_status(each.status), "general garden practice", f"{remedy.id}, {known.id}".replace("_", " "))
        reasons = [Reason("This is what is usually done about it.", rests_on=ours)]
    for field_name in ("action", "crop_cautions"):
        said = remedy.facts.get(field_name)
        if said is not None:
            about = RestsOn(as_status(said.status), said.source, f"{remedy.id}, {field_name}".replace("_", " "))
            reasons.append(Reason(f"{said.value[0].upper()}{said.value[1:]}.", rests_on=about))
    how, why_not = each.note, ""
    if CEILING in how:
        share = THIRD if asked.leaf_share_max is None else asked.leaf_share_max
        most = "a third" if share == THIRD else f"{share:.0%}".replace("%", " %")
        how = how.replace(CEILING, f"no more than {most} of the leaves at one visit")
        if asked.leaves_from is not None and asked.leaves_from > asked.today:
            why_not = f"leaves were taken off of late: again from {day_words(asked.leaves_from)}"
    if remedy.id == COVER and asked.needs_bees and asked.in_bloom is not False:
        why_not = "flowers that need bees stand open, or may: next time from planting until the first of them"
    labels: tuple[str, ...] = ()
    if remedy.needs_label:
        mine = [r for r in asked.records.values() if r.remedy is not None and r.remedy.id == remedy.id]
        labels = tuple(
            r.label.name for r in mine if on_crop(r.label, asked.crop, asked.crop_names) and against(r.label, known.id)
        )
        if not labels:
            how = f"{how}; only with a label in hand: read it for {asked.plants} and {known.name}".lstrip("; ")
        if asked.organic and remedy.said("organic_status").startswith("not allowed"):
            why_not = "organic rules shut it out"
        if remedy.bee_class == "high" and asked.in_bloom is not False:
            why_not = why_not or "highly toxic to bees while anything is in flower"
    name = each.says or asking().get(remedy.id) or f"{remedy.name[0].upper()}{remedy.name[1:]}"
    return Option(remedy.id, remedy.kind, name, how, remedy.needs_label, labels, False, tuple(reasons), why_not)


def _together(asked: Asked, known: Trouble, there: list[Option], *, remove: bool) -> frozenset[str]:
    """Steps to take together, from those that are possible."""
    possible = [o for o in there if not o.why_not]
    ids = {o.id for o in possible}
    if known.harmless or asked.count == "below":
        return frozenset({LEAVE} & ids)
    ahead = [o.id for o in possible if o.kind == "prevention"]
    now = [o.id for o in possible if o.kind in ("hand", "barrier") and o.id != COVER]
    if known.category == "herbicide":
        return frozenset({*ahead, *now} or {LEAVE} & ids)  # none of it is work, and each is needed
    if not ahead and not now:
        now = [o.id for o in possible if o.id == COVER]
    by_hand = [*ahead[: MOST_PREVENTION if now else MOST_BY_HAND], *now][:MOST_BY_HAND]
    if remove:
        first = next((one for one in (REMOVE, CUT, APART) if one in ids), "")
        return frozenset({first, *by_hand[:1]} - {""})
    put_on = [o for o in possible if o.needs_label]
    labelled = [o for o in put_on if o.labels]
    chosen = set(by_hand)
    if asked.count != "undecided" and labelled and (asked.count == "above" or asked.sure == "settled"):
        chosen.add(labelled[0].id)
    if not chosen and asked.count != "undecided" and put_on:
        chosen.add(put_on[0].id)
    return frozenset(chosen or {LEAVE} & ids)


def _first(asked: Asked, known: Trouble, advised: list[Option], *, remove: bool) -> str:
    told = report_first().get(known.id) or report_first().get(known.cause)
    said = _to_do(asked, known, advised, remove=remove)
    if remove and asked.sure != "settled" and asked.count != "below":
        said += " Not settled what it is? Then send a sample the same day, before the others go."
    return f"Report it first: {told.says}. {said}" if told and not known.harmless else said


def _to_do(asked: Asked, known: Trouble, advised: list[Option], *, remove: bool) -> str:
    if known.harmless:
        return "Nothing is wrong: leave it alone."
    if asked.count == "below":
        return "Below the number from which it pays to act: leave it alone and look again."
    if asked.count == "undecided":
        return "Too few plants were looked at to tell: look at more before anything is put on."
    if remove and advised and advised[0].kind == "removal":
        course = courses().get(known.id) or courses().get(known.cause)
        cost = (
            "they do not recover, and what rots there leaves more of it in the soil"
            if course and course.lives_in_soil
            else f"every day they stand, more {asked.plants} catch it"
        )
        return f"{advised[0].says}: {cost}." if advised[0].id == REMOVE else f"{advised[0].says}."
    if not advised:
        return "Nothing of all this is possible here: say so to the extension office, and look again."
    if asked.sure != "settled" and any(o.needs_label for o in advised):
        return "It is not settled what it is: by hand first, and nothing is put on before it is."
    if advised[0].id == LEAVE:
        return "Leave it alone and look again."
    if advised[0].needs_label:
        return f"Only {advised[0].says[0].lower()}{advised[0].says[1:]} is left, and only as its label says."
    return f"First: {advised[0].says[0].lower()}{advised[0].says[1:]}."


def _marked(o: Option, *, advised: bool) -> Option:
    return Option(o.id, o.kind, o.says, o.how, o.needs_label, o.labels, advised, o.reasons, o.why_not)


def _source(remedy: Remedy) -> str:
    said = remedy.facts.get("targets")
    return said.source if said else ""
