"""What this garden's counts say of one trouble: beside its threshold, against the look before, with its enemies."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from kailyard.documents.scout import Measure
from kailyard.garden.model import Entry
from kailyard.handbook.insects import Threshold, thresholds_of
from kailyard.handbook.troubles import CropWords
from kailyard.season.reasons import plain_day
from kailyard.troubles.counting import Interval, Judged, judge_mean, judge_share, mean_interval, share_interval, trend

SHARES = ("plants", "ears", "leaves", "spears", "cut plants")
"""Measures that begin so and are in percent are shares of what was looked at, not losses of leaf."""


_PARTS = frozenset({"stem", "leaf", "ear", "cluster", "bud"})
"""What a plant has one of at least."""


@dataclass(frozen=True, slots=True)
class Seen:
    """One count."""

    entry: Entry
    looked_at: int
    of: int | None
    found_on: int | None
    total: float | None
    what: str
    per: str

    @property
    def enemies(self) -> str:
        """Natural enemies that were seen with it; ''."""
        return str(self.entry.payload.get("enemies", ""))

    @property
    def none(self) -> bool:
        """Nothing was found."""
        return not self.found_on and not self.total


def read_count(entry: Entry, stand: int | None) -> Seen:
    """An entry as a count; how many stand there from the entry, else `stand` where it is not fewer."""
    p = entry.payload
    looked = int(p["looked_at"])
    plants = str(p.get("per", "plant")) == "plant"
    of = int(p["of"]) if p.get("of") else stand if plants and stand and stand >= looked else None
    found = p.get("found_on")
    total = p.get("total")
    return Seen(
        entry,
        looked,
        of if plants else None,
        None if found is None else int(found),
        None if total is None else float(total),
        str(p.get("what", "")),
        str(p.get("per", "plant")),
    )


def fitting(insect: str, crop: CropWords, stage: str) -> tuple[Threshold, ...]:
    """Thresholds of an insect for a crop at a stage: of each measure and unit the strictest, figures first."""
    found: dict[tuple[str, str], Threshold] = {}
    for one in thresholds_of(insect):
        fits = "all" in one.crop_words or any(w in crop.words for w in one.crop_words)
        if not fits or (one.host_stages and stage not in one.host_stages):
            continue
        key = (one.measure, one.unit)
        if key not in found or _strictness(one) < _strictness(found[key]):
            found[key] = one
    return tuple(sorted(found.values(), key=lambda t: (t.low is None, t.measure)))


def _strictness(one: Threshold) -> float:
    return float("inf") if one.low is None else one.low


def on_sight(one: Threshold) -> bool:
    """Whether one of them is enough, on the plant on which it sits: hornworms are picked off one by one."""
    return one.measure.endswith(" seen")


def unit_of(one: Threshold) -> tuple[str, float] | None:
    """What the figure is counted per, and of how many: ('plant', 1.0); None where a count of this kind can't say."""
    if one.low is None:
        return None
    if on_sight(one):
        return ("sight", 1.0)
    if one.unit == "percent":
        return ("share", 1.0) if one.measure.startswith(SHARES) else ("loss", 1.0)
    match = re.fullmatch(r"per (?:(\d+) )?(?:flower |terminal )?(plant|leaf|stem|ear|cluster|trap|bud)s?", one.unit)
    return None if match is None else (match[2], float(match[1] or 1))


def measure_of(one: Threshold) -> Measure | None:
    """What a form asks for so that the threshold can judge it; None where a count can't."""
    unit = unit_of(one)
    if unit is None:
        return None
    share = unit[0] == "share"
    of_what = next(
        (per for word, per in (("ears", "ear"), ("leaves", "leaf")) if one.measure.startswith(word)), "plant"
    )
    return Measure(one.measure, of_what if unit[0] in ("share", "loss", "sight") else unit[0], share)


def judge(seen: Seen, fits: Sequence[Threshold]) -> tuple[Threshold, Judged] | None:
    """The count beside the threshold that it was made for; None where none is for what was counted.

    A count of none that names nothing is none of anything: of all thresholds the one that is least sure of it tells.
    """
    found = [(one, judged) for one in fits if (judged := _beside(seen, one)) is not None]
    if not found:
        return None
    if seen.none and not seen.what:
        return next((pair for pair in found if pair[1].verdict != "below"), found[0])
    return found[0]


def _beside(seen: Seen, one: Threshold) -> Judged | None:
    unit = unit_of(one)
    if unit is None or one.low is None or (seen.what and seen.what != one.measure):
        return None
    kind, many = unit
    if kind == "sight":
        here = 0.0 if seen.none else float(seen.total or seen.found_on or 0)
        return Judged(Interval(here, here, here, False), 0.0, "above" if here > 0 else "below", 0)
    if kind == "loss":
        if seen.total is None or seen.what != one.measure:
            return None
        exact = Interval(seen.total, seen.total, seen.total, False)
        return Judged(exact, one.low, "above" if seen.total >= one.low else "below", 0)
    measure = measure_of(one)
    per = measure.per if measure is not None else seen.per
    # None on a plant is none on its stems and leaves, and it has one of them at least.
    larger = seen.none and seen.per == "plant" and per in _PARTS
    if kind == "share":
        if seen.found_on is None and not seen.none:
            return None
        if per != seen.per and not larger:
            return None
        return judge_share(seen.found_on or 0, seen.looked_at, one.low / 100, None if larger else seen.of)
    total = _total(seen)
    if total is None or (kind != seen.per and not larger):
        return None
    return judge_mean(total, seen.looked_at, one.low / many, None if larger else seen.of)


def _total(seen: Seen) -> float | None:
    """How many were counted; none found is none of anything."""
    return 0.0 if seen.none else seen.total


def said(counts: Sequence[Seen], fits: Sequence[Threshold]) -> tuple[str, ...]:
    """Sentences on the counts of one season: the latest beside its threshold, the trend, enemies, counts of none."""
    if not counts:
        return ()
    last = counts[-1]
    judged = judge(last, fits)
    lines = [_verdict(last, judged, fits)]
    if len(counts) > 1 and (told := _trend(counts[-2], last)):
        lines.append(told)
    if last.enemies:
        lines.append(f"natural enemies seen: {last.enemies}; {_with_enemies(last, judged)}")
    empty = sum(c.none for c in counts)
    if empty and len(counts) > 1:
        lines.append(f"{empty} of {len(counts)} looks this year found none")
    return tuple(lines)


def _with_enemies(last: Seen, judged: tuple[Threshold, Judged] | None) -> str:
    if last.none:
        return "spare them: they keep it down"
    if judged is not None and judged[1].verdict == "below":
        return "leave it to them"
    return "they may bring it down: look again in a few days, and put nothing on that kills them too"


def acts(counts: Sequence[Seen], fits: Sequence[Threshold]) -> str:
    """In a few words why the last count calls for more than another look; '' where it does not.

    Above its threshold; or something found for which no figure is published, so that the gardener has to choose.
    """
    if not counts or counts[-1].none:
        return ""
    last = counts[-1]
    judged = judge(last, fits)
    if judged is not None:
        return _beside_words(last, *judged) if judged[1].verdict == "above" else ""
    if any(unit_of(one) is not None for one in fits):
        return ""  # a figure there is, for something else: it is to be counted first
    return f"{_found_words(last)} of {last.looked_at} looked at; no figure is published for it"


def above(counts: Sequence[Seen], fits: Sequence[Threshold]) -> bool:
    """Whether the latest count is not surely below its threshold, or found something without one."""
    if not counts or counts[-1].none:
        return False
    judged = judge(counts[-1], fits)
    return judged is None or judged[1].verdict != "below"


def more_wanted(counts: Sequence[Seen], fits: Sequence[Threshold]) -> int | None:
    """How many more plants would decide the last count; None where it is decided or no number would."""
    judged = judge(counts[-1], fits) if counts else None
    return judged[1].more if judged is not None and judged[1].verdict == "undecided" else None


def _found_words(last: Seen) -> str:
    if last.none:
        return "none found"
    return f"found on {last.found_on}" if last.found_on else f"{last.total:g} counted"


def _scale(one: Threshold) -> tuple[float, str]:
    return (100.0, " %") if unit_of(one) == ("share", 1.0) else (1.0, "")


def _beside_words(last: Seen, one: Threshold, result: Judged) -> str:
    if on_sight(one):
        return f"{_found_words(last)}, {last.looked_at} looked at; worth acting on sight"
    scale, unit = _scale(one)
    seen = f"{result.interval.seen * scale:.3g}{unit}"
    said = f"{seen} {one.measure} on each of {last.looked_at} looked at"
    if unit:
        said = f"on {seen} of {last.looked_at} looked at"
    elif unit_of(one) == ("loss", 1.0):
        said = f"{seen} % of the leaf lost on {last.looked_at} looked at"
        unit = " %"
    return f"{said}; worth acting from {result.threshold * scale:.3g}{unit} on"


def _verdict(last: Seen, judged: tuple[Threshold, Judged] | None, fits: Sequence[Threshold]) -> str:
    day = plain_day(last.entry.happened)
    of = f" of {last.of}" if last.of else ""
    looked = f"{day}, {last.looked_at}{of} looked at"
    if judged is None:
        return f"{looked}: {_found_words(last)}; {_why_not_judged(last, fits)}"
    one, result = judged
    if on_sight(one):
        return f"{looked}: {_found_words(last)}" + ("" if last.none else "; worth acting on sight: above")
    at = result.interval
    scale, unit = _scale(one)
    span = f"{at.seen * scale:.3g}{unit}"
    if at.whole:
        span += ", all of them looked at"
    elif at.low < at.high:
        span += f", between {at.low * scale:.2g} and {at.high * scale:.2g}{unit} with a chance of 9 in 10"
    named = "" if last.none and not last.what else f" ({one.measure})"
    line = f"{looked}: {span}; worth acting from {result.threshold * scale:.3g}{unit}{named}: {result.verdict}"
    if result.verdict == "undecided":
        line += f", {result.more} more alike would decide" if result.more else ", and no number here would decide"
    return line


def _why_not_judged(last: Seen, fits: Sequence[Threshold]) -> str:
    countable = [one for one in fits if measure_of(one) is not None]
    if not countable:
        return "no figure is published from which it is worth acting"
    wanted = dict.fromkeys(one.measure for one in countable)
    return f"to set it beside a figure count {' or '.join(wanted)}"


def _trend(before: Seen, after: Seen) -> str:
    pair = [_interval(c, before, after) for c in (before, after)]
    if pair[0] is None or pair[1] is None:
        return ""
    told = trend(pair[0], pair[1])
    since = plain_day(before.entry.happened)
    return f"no telling whether more or fewer than on {since}" if told == "no telling" else f"{told} than on {since}"


def _interval(count: Seen, before: Seen, after: Seen) -> Interval | None:
    if before.per != after.per or (before.what and after.what and before.what != after.what):
        return None
    totals = _total(before), _total(after)
    if None not in totals and (before.total is not None or after.total is not None):
        return mean_interval(_total(count) or 0.0, count.looked_at, count.of)
    if before.found_on is not None and after.found_on is not None:
        return share_interval(count.found_on or 0, count.looked_at, count.of)
    return None
