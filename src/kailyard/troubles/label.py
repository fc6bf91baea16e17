"""Label records and what was put on by them, as the daybook has them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date, time

from kailyard.garden.entries.label import Gap, Label
from kailyard.garden.entries.rules import Rules
from kailyard.garden.kinds import read_payload
from kailyard.garden.model import Entry
from kailyard.handbook.remedies import Remedy, of_active
from kailyard.handbook.troubles import crop_words, troubles

SPRAYED_WORDS = (
    "spray", "dusted", "drench", "bait", "pellet", "fogged", "fungicide", "insecticide", "herbicide", "pesticide",
    "weedkiller", "weed killer", "soaped", "neem", "sulfur", "sulphur", "copper", "bacillus", "pyrethr", "spinosad",
)  # fmt: skip
"""Words of an entry of work that tell of a treatment without a label record."""
NOT_A_SPRAY = (
    "spray of water", "sprayed with plain water", "sprayed with water", "sprayed water", "water spray", "hosed",
    "copper tape", "copper ring", "copper band", "copper wire", "not spray", "no spray", "without spray", "unsprayed",
)  # fmt: skip
"""What is none, unless another of the words stands beside it: 'sprayed with water and soap' is one."""
_ADDED = (" and ", " with ", "+", ",", "/", ";", "&")
_EXEMPT = "exempt"
_PARTS = re.compile(r"\s*(?:[;+&/]|, |\band\b|\bplus\b|\bwith\b)\s*", re.IGNORECASE)
"""What parts the active ingredients of one label: 'sulfur and pyrethrins'. The comma of 2,4-D is none."""
_INERT = re.compile(r"(?:inert|other) ingredients?|water$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Record:
    """One label as typed, with what the handbook knows of its active ingredient."""

    label: Label
    entry: str
    """Identifier of the entry that holds it."""
    since: date
    part: str = ""
    """The one of several active ingredients that is looked at; '' for all of them."""

    @property
    def actives(self) -> tuple[str, ...]:
        """The active ingredients of a mixture, each by itself."""
        told = [" ".join(p.split()) for p in _PARTS.split(self.label.active)]
        return tuple(dict.fromkeys(p for p in told if p and not _INERT.match(p)))

    def parts(self) -> tuple[Record, ...]:
        """One for each active ingredient; itself where there is but one."""
        return tuple(replace(self, part=p) for p in self.actives) if len(self.actives) > 1 else (self,)

    @property
    def remedy(self) -> Remedy | None:
        """The handbook's remedy of that active ingredient; None where it knows none."""
        active = self.part or self.label.active
        return of_active(active) if active else None

    @property
    def remedies(self) -> tuple[Remedy, ...]:
        """The handbook's remedies of all its active ingredients."""
        found = (of_active(p) for p in ((self.part,) if self.part else self.actives))
        return tuple({r.id: r for r in found if r is not None}.values())

    @property
    def classes(self) -> frozenset[str]:
        """'oil', 'sulfur', ...; empty where the active ingredient is unknown."""
        return frozenset[str]().union(*(r.classes for r in self.remedies))


@dataclass(frozen=True, slots=True)
class Treatment:
    """Something was put on."""

    day: date
    hour: time | None
    target: str
    record: Record | None
    """None: nobody has typed its label, so nothing is known of it."""
    flowers_open: bool | None
    trouble: str
    entry: str
    says: str
    days_then: int | None = None
    """Days to picking on the label when it was put on, where that was kept; a label typed anew takes nothing off."""
    hours_then: float | None = None
    """The same of going in again. [h]"""

    @property
    def remedy(self) -> Remedy | None:
        """What the handbook knows of it: by its label record, else by what the words of the daybook name."""
        return self.record.remedy if self.record is not None else of_active(self.says)

    @property
    def classes(self) -> frozenset[str]:
        """'oil', 'sulfur', ...: they speak against what follows. Empty where nothing is known."""
        if self.record is not None:
            return self.record.classes
        named = set(self.remedy.classes if self.remedy else ())
        words = self.says.lower()
        return frozenset(named | {c for w, c in _BY_WORD.items() if re.search(rf"\b{w}", words)})


_BY_WORD = {"oil": "oil", "neem": "oil", "sulfur": "sulfur", "sulphur": "sulfur", "copper": "copper", "soap": "soap"}
"""Classes that a gardener's own words tell of: 'sprayed with oil'."""


def records(entries: Iterable[Entry], *, removed: bool = False) -> Mapping[str, Record]:
    """Label records by name in small letters, as last written; those put aside only with `removed`."""
    found: dict[str, Record] = {}
    for e in sorted((e for e in entries if e.kind == "label"), key=lambda e: (e.written, e.happened, e.id)):
        label = read_payload(e)
        found[label.name.casefold()] = Record(label, e.id, e.happened)
    return {k: r for k, r in found.items() if removed or not r.label.removed}


def rules_of(entries: Iterable[Entry]) -> Rules:
    """What the garden holds itself to, as last said; all unknown where nothing was."""
    said = sorted((e for e in entries if e.kind == "rules"), key=lambda e: (e.written, e.happened, e.id))
    found: Rules = read_payload(said[-1]) if said else Rules()
    return found


def treatments(
    entries: Iterable[Entry], targets: Iterable[str], known: Mapping[str, Record], *, until: date | None = None
) -> tuple[Treatment, ...]:
    """What was put on any of `targets` (a planting and its bed), in order of day, to `until` included.

    An entry of work that tells of spraying counts as a treatment of which nothing is known.
    """
    mine, out = set(targets), list[Treatment]()
    for e in entries:
        if e.target not in mine or (until is not None and e.happened > until):
            continue
        if e.kind == "treat":
            said = read_payload(e)
            record = known.get(said.label.casefold()) if said.label else None
            hour = time.fromisoformat(said.hour) if said.hour else None
            words = said.label or "something that nobody named"
            out.append(
                Treatment(
                    e.happened, hour, e.target, record, said.flowers_open, said.trouble, e.id, words,
                    said.days_to_picking, said.entry_hours,
                )
            )  # fmt: skip
        elif e.kind == "work" and (words := _of_spraying(e)):
            out.append(Treatment(e.happened, None, e.target, None, None, "", e.id, words))
    return tuple(sorted(out, key=lambda t: (t.day, t.hour or time(), t.entry)))


def _of_spraying(entry: Entry) -> str:
    """What an entry of work says of a treatment, in its own words; ''."""
    for said in (str(entry.payload.get("what", "")), entry.text):
        words = " ".join(said.lower().split())
        for harmless in NOT_A_SPRAY:
            head, found, rest = words.partition(harmless)
            if found and not any(a in f" {rest} " for a in _ADDED):
                words = f"{head} {rest}"
        if any(w in words for w in SPRAYED_WORDS):
            return " ".join(said.split())
    return ""


def names_crop(word: str, crop: str, names: Iterable[str] = ()) -> bool:
    """Whether a crop as a label prints it is this crop: its key, its plain name, or a wider word for it ('squash').

    What only shares its pests is another crop: a label for cabbage is none for broccoli, one for beet none for chard.

    Parameters
    ----------
    names : iterable of str
        Other names of the crop, such as those of the handbook.
    """
    key = crop.replace("-", " ")
    wider = {w for w in crop_words(crop).words if key.startswith(f"{w} ")}
    wider |= {w for begins, words in _WIDER.items() if key.startswith(begins) for w in words}
    mine = {key, *wider, *names}
    return _plain(word) in {_plain(each) for each in mine if each}


_WIDER = {
    "zucchini": ("squash", "summer squash", "courgette"),
    "squash yellow": ("summer squash",),
    "winter squash": ("squash", "winter squash"),
}
"""Wider words of labels that take in a crop whose key does not begin with them."""


def on_crop(label: Label, crop: str, names: Iterable[str] = ()) -> bool | None:
    """Whether the label lists the crop; None where nobody has typed its crops."""
    return any(names_crop(word, crop, names) for word in label.crops) if label.crops else None


def against(label: Label, trouble: str) -> bool | None:
    """Whether the label lists the trouble; None where nobody has typed its troubles or no trouble is named.

    'Powdery mildew' takes in that of squash, and 'aphids' melon aphids; 'leaf spot' takes in no leaf spot by bacteria.
    """
    if not label.troubles or not trouble:
        return None
    key = trouble.replace("-", "_")
    known = troubles().get(key)
    names = {_plain(key)} | ({_plain(known.name)} if known is not None else set())
    if known is None:
        return any(_plain(word) in names for word in label.troubles)
    cause = _plain(known.cause)
    if _is_of(cause, names):
        names.add(cause)
        if known.cause in troubles():
            names.add(_plain(troubles()[known.cause].name))
    other = known.category in ("bacterium", "virus")
    for word in label.troubles:
        plain = _plain(word)
        wide = " " in plain and _is_of(plain, names) and (not other or "bacteri" in plain or "virus" in plain)
        if plain in names or wide:
            return True
    return False


def trouble_words(trouble: str) -> str:
    """A trouble by its plain name; ''."""
    known = troubles().get(trouble.replace("-", "_"))
    return known.name if known is not None else trouble.replace("-", " ").replace("_", " ")


def _is_of(wide: str, names: Iterable[str]) -> bool:
    """Whether a wide word ends one of the names, or begins it as a kind of: 'aphid', 'powdery mildew' of cucurbits."""
    return any(n == wide or n.endswith(f" {wide}") or n.startswith((f"{wide} of ", f"{wide} on ")) for n in names)


def picking_days(label: Label, crop: str, names: Iterable[str] = ()) -> int | None:
    """Days from spraying to picking for the crop; None where nobody has typed them. 0 is a figure like any other."""
    named = [days for word, days in label.days_by_crop.items() if names_crop(word, crop, names)]
    return max(named) if named else label.days_to_picking


def waits(t: Treatment, crop: str, names: Iterable[str] = ()) -> int | None:
    """Days that a treatment keeps from picking: the longer of its label's now and then; None where that is unknown.

    Of a crop that the label does not list nobody knows it, whatever days the label names for others.
    """
    if t.record is None or on_crop(t.record.label, crop, names) is False:
        return None
    days = picking_days(t.record.label, crop, names)
    return None if days is None else max(days, t.days_then or 0)


def why_unknown(t: Treatment, crop: str, names: Iterable[str] = ()) -> str:
    """Why the days from a treatment to picking are unknown."""
    if t.record is None:
        return "its label is not typed"
    if on_crop(t.record.label, crop, names) is False:
        return "its label does not list this crop"
    return "the days to picking on its label are not typed"


def keeps_out_h(t: Treatment) -> float | None:
    """Hours that a treatment keeps people out, the longer of now and then; None where that is unknown.

    0 where the label says only 'until dry'.
    """
    if t.record is None or (t.record.label.entry_hours is None and not t.record.label.until_dry):
        return None
    return max(t.record.label.entry_hours or 0.0, t.hours_then or 0.0)


def silent(label: Label, name: str) -> bool:
    """Whether the label was read for it and does not state it."""
    return name in label.none_stated


def exempt(label: Label) -> bool:
    """Whether the label says that it needs no registration number."""
    return label.number.casefold() == _EXEMPT


def gap_to(label: Label, other: Record) -> Gap | None:
    """What the label says of days to keep from another product's active ingredient; sternest where it says twice."""
    found: Gap | None = None
    for gap in label.gaps:
        if not _fits(gap.other, other):
            continue
        found = gap if found is None else Gap(
            gap.other,
            _most(found.after_other, gap.after_other),
            _most(found.before_other, gap.before_other),
        )  # fmt: skip
    return found


def same_active(record: Record, t: Treatment) -> bool:
    """Whether a treatment was with the same product, or with the same active ingredient under another name."""
    if t.record is None:
        return False
    if t.record.label.name.casefold() == record.label.name.casefold():
        return True
    mine, theirs = ({r.id for r in each.remedies} for each in (record, t.record))
    if mine & theirs:
        return True
    said, other = ({a.casefold() for a in each.actives} for each in (record, t.record))
    return bool(said & other)


def _most(a: int | None, b: int | None) -> int | None:
    known = [d for d in (a, b) if d is not None]
    return max(known) if known else None


def _fits(word: str, other: Record) -> bool:
    """'oils' names any oil, 'sulfur' any sulfur, 'mineral oil' that active ingredient alone."""
    plain = _plain(word)
    remedy = of_active(word)
    return (
        plain in {_plain(c) for c in other.classes}
        or (bool(other.label.active) and plain in other.label.active.lower())
        or (remedy is not None and remedy.id in {r.id for r in other.remedies})
    )


def _plain(word: str) -> str:
    """A word without its plural, so that 'cucumbers' is 'cucumber' and 'tomatoes' 'tomato'."""
    text = " ".join(word.lower().replace("_", " ").replace("-", " ").split())
    for ending, instead in (("toes", "to"), ("ies", "y"), ("shes", "sh"), ("ches", "ch")):
        if text.endswith(ending):
            return text.removesuffix(ending) + instead
    return text.removesuffix("s") if len(text) > 3 and not text.endswith("ss") else text


__all__ = [
    "Gap", "Label", "Record", "Rules", "Treatment", "against", "exempt", "gap_to", "keeps_out_h", "names_crop",
    "on_crop", "picking_days", "records", "rules_of", "same_active", "silent", "treatments", "trouble_words", "waits",
    "why_unknown",
]  # fmt: skip
