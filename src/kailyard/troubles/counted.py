"""What this garden's counts say of one trouble: beside its threshold, against the look before, with its enemies."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from kailyard.documents.scout import Measure
from kailyard.garden.model import Entry
from kailyard.handbook.insects import Threshold, thresholds_of
from kailyard.handbook.troubles import CropWords
from kailyard.season.reasons import plain_day
from kailyard.troubles.counting import Interval, Judged, judge_mean, judge_share, mean_interval, share_interval, trend

SHARES = ("plants", "ears", "leaves", "spears", "cut plants")
"""Measures that begin so and are in percent are shares of what was looked at, not losses of leaf."""


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


def unit_of(one: Threshold) -> tuple[str, float] | None:
    """What the figure is counted per, and of how many: ('plant', 1.0); None where a count of this kind can't say."""
    if one.low is None:
        return None
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
    return Measure(one.measure, of_what if unit[0] in ("share", "loss") else unit[0], share)


def judge(seen: Seen, fits: Sequence[Threshold]) -> tuple[Threshold, Judged] | None:
    """The count beside the threshold that it was made for; None where none is for what was counted."""
    for one in fits:
        unit = unit_of(one)
        if unit is None or one.low is None:
            continue
        kind, many = unit
        if kind == "share" and seen.found_on is not None and (not seen.what or seen.what == one.measure):
            return one, judge_share(seen.found_on, seen.looked_at, one.low / 100, seen.of)
        if kind == "loss" and seen.total is not None and seen.what == one.measure:
            exact = Interval(seen.total, seen.total, seen.total, False)
            return one, Judged(exact, one.low, "above" if seen.total >= one.low else "below", 0)
        if kind == seen.per and (total := _total(seen)) is not None and (not seen.what or seen.what == one.measure):
            return one, judge_mean(total, seen.looked_at, one.low / many, seen.of)
    return None


def _total(seen: Seen) -> float | None:
    """How many were counted; none found is none of anything."""
    return 0.0 if seen.none else seen.total


def said(counts: Iterable[Seen], fits: Sequence[Threshold], since: date) -> tuple[str, ...]:
    """Sentences on this year's counts: the latest beside its threshold, the trend, enemies, counts of none."""
    mine = [c for c in counts if c.entry.happened >= since]
    if not mine:
        return ()
    last = mine[-1]
    lines = [_verdict(last, judge(last, fits))]
    if len(mine) > 1 and (told := _trend(mine[-2], last)):
        lines.append(told)
    enemies = str(last.entry.payload.get("enemies", ""))
    if enemies:
        lines.append(f"natural enemies seen: {enemies}; where they gain on it, leaving it alone is an answer")
    empty = sum(c.none for c in mine)
    if empty and len(mine) > 1:
        lines.append(f"{empty} of {len(mine)} looks this year found none")
    return tuple(lines)


def above(counts: Sequence[Seen], fits: Sequence[Threshold]) -> bool:
    """Whether the latest count is not surely below its threshold, or found something without one."""
    if not counts or counts[-1].none:
        return False
    judged = judge(counts[-1], fits)
    return judged is None or judged[1].verdict != "below"


def _verdict(last: Seen, judged: tuple[Threshold, Judged] | None) -> str:
    day = plain_day(last.entry.happened)
    of = f" of {last.of}" if last.of else ""
    looked = f"{day}, {last.looked_at}{of} looked at"
    if judged is None:
        found = (
            "none found" if last.none else f"found on {last.found_on}" if last.found_on else f"{last.total:g} counted"
        )
        return f"{looked}: {found}; there is no figure for what was counted"
    one, result = judged
    at = result.interval
    share = unit_of(one) == ("share", 1.0)
    scale, unit = (100.0, " %") if share else (1.0, "")
    span = f"{at.seen * scale:.3g}{unit}"
    if at.whole:
        span += ", all of them looked at"
    elif at.low < at.high:
        span += f", between {at.low * scale:.2g} and {at.high * scale:.2g}{unit} with a chance of 9 in 10"
    line = f"{looked}: {span}; threshold {result.threshold * scale:.3g}{unit}: {result.verdict}"
    if result.verdict == "undecided":
        line += (
            f", {result.more} more alike would decide" if result.more else ", and no number of plants here would decide"
        )
    return line


def _trend(before: Seen, after: Seen) -> str:
    pair = [_interval(c, before, after) for c in (before, after)]
    if pair[0] is None or pair[1] is None:
        return ""
    told = trend(pair[0], pair[1])
    since = plain_day(before.entry.happened)
    return f"no telling whether more or fewer than on {since}" if told == "no telling" else f"{told} than on {since}"


def _interval(count: Seen, before: Seen, after: Seen) -> Interval | None:
    if before.what == after.what and before.per == after.per and before.total is not None and after.total is not None:
        return mean_interval(count.total or 0.0, count.looked_at, count.of)
    if before.found_on is not None and after.found_on is not None:
        return share_interval(count.found_on or 0, count.looked_at, count.of)
    return None
