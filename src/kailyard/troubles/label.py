"""Label records and what was put on by them, as the daybook has them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, time
from typing import Any

from kailyard.garden.entries.label import Gap, Label
from kailyard.garden.entries.rules import Rules
from kailyard.garden.kinds import read_payload
from kailyard.garden.model import Entry
from kailyard.handbook.remedies import Remedy, of_active
from kailyard.handbook.troubles import crop_words, troubles

SPRAYED_WORDS = ("spray", "dusted", "drench", "bait", "fungicide", "insecticide", "herbicide", "weedkiller")
"""Words of an entry of work that tell of a treatment without a label record."""
NOT_A_SPRAY = ("spray of water", "sprayed with water", "water spray", "hosed")
_EXEMPT = "exempt"


@dataclass(frozen=True, slots=True)
class Record:
    """One label as typed, with what the handbook knows of its active ingredient."""

    label: Label
    entry: str
    """Identifier of the entry that holds it."""
    since: date

    @property
    def remedy(self) -> Remedy | None:
        """The handbook's remedy of that active ingredient; None where it knows none."""
        return of_active(self.label.active) if self.label.active else None

    @property
    def classes(self) -> frozenset[str]:
        """'oil', 'sulfur', ...; empty where the active ingredient is unknown."""
        return self.remedy.classes if self.remedy else frozenset()


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
            out.append(Treatment(e.happened, hour, e.target, record, said.flowers_open, said.trouble, e.id, words))
        elif e.kind == "work" and _tells_of_spraying(e.payload):
            words = str(e.payload["what"])
            out.append(Treatment(e.happened, None, e.target, None, None, "", e.id, words))
    return tuple(sorted(out, key=lambda t: (t.day, t.hour or time(), t.entry)))


def _tells_of_spraying(payload: Mapping[str, Any]) -> bool:
    words = str(payload.get("what", "")).lower()
    return any(w in words for w in SPRAYED_WORDS) and not any(w in words for w in NOT_A_SPRAY)


def names_crop(word: str, crop: str, names: Iterable[str] = ()) -> bool:
    """Whether a crop as a label prints it is this crop: its key, its plain name, or a wider word for it ('squash').

    Parameters
    ----------
    names : iterable of str
        Other names of the crop, such as those of the handbook.
    """
    wanted = _plain(word)
    mine = {crop, crop.replace("-", " "), *crop_words(crop).words, *names}
    return wanted in {_plain(each) for each in mine if each}


def on_crop(label: Label, crop: str, names: Iterable[str] = ()) -> bool | None:
    """Whether the label lists the crop; None where nobody has typed its crops."""
    return any(names_crop(word, crop, names) for word in label.crops) if label.crops else None


def against(label: Label, trouble: str) -> bool | None:
    """Whether the label lists the trouble; None where nobody has typed its troubles or no trouble is named."""
    if not label.troubles or not trouble:
        return None
    key = trouble.replace("-", "_")
    known = troubles().get(key)
    mine = {key.replace("_", " ")}
    if known is not None:
        mine |= {known.name.lower(), known.cause.replace("_", " ")}
        if known.cause in troubles():
            mine.add(troubles()[known.cause].name.lower())
    for word in label.troubles:
        plain = _plain(word)
        if any(plain == _plain(m) or (" " in plain and f" {_plain(m)}".endswith(f" {plain}")) for m in mine if m):
            return True
    return False


def picking_days(label: Label, crop: str, names: Iterable[str] = ()) -> int | None:
    """Days from spraying to picking for the crop; None where nobody has typed them. 0 is a figure like any other."""
    for word, days in label.days_by_crop.items():
        if names_crop(word, crop, names):
            return days
    return label.days_to_picking


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
    if record.remedy is not None and t.record.remedy is not None:
        return record.remedy.id == t.record.remedy.id
    active = record.label.active.casefold()
    return bool(active) and active == t.record.label.active.casefold()


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
        or (remedy is not None and other.remedy is not None and remedy.id == other.remedy.id)
    )


def _plain(word: str) -> str:
    """A word without its plural, so that 'cucumbers' is 'cucumber' and 'tomatoes' 'tomato'."""
    text = " ".join(word.lower().replace("_", " ").replace("-", " ").split())
    for ending, instead in (("toes", "to"), ("ies", "y"), ("shes", "sh"), ("ches", "ch")):
        if text.endswith(ending):
            return text.removesuffix(ending) + instead
    return text.removesuffix("s") if len(text) > 3 and not text.endswith("ss") else text


__all__ = [
    "Gap", "Label", "Record", "Rules", "Treatment", "against", "exempt", "gap_to", "names_crop", "on_crop",
    "picking_days", "records", "rules_of", "same_active", "silent", "treatments",
]  # fmt: skip
