"""Sentences and rows about water that every form says alike."""

from __future__ import annotations

import math
from collections.abc import Sequence

from kailyard.documents.water import BedWater, Gone, Used
from kailyard.publish.units import Units, convert, figure
from kailyard.publish.words import clean

GONE_COLUMNS = ("planting", "gone", "easy", "all", "stands")


def bed_words(bed: BedWater) -> str:
    """'Bed 3, snap beans: 14–17 June, 8 in 10'."""
    name = bed.where[:1].upper() + bed.where[1:]
    return clean(f"{name}{f', {bed.plants}' if bed.plants else ''}: {bed.next_words}")


def gone_row(of: Gone, units: Units) -> tuple[str, ...]:
    """A planting's water in a table."""
    gone = f"{depth(of.gone_mm, units)} ± {depth(of.give_or_take_mm, units)}"
    return clean(of.says), gone, depth(of.easy_mm, units), depth(of.all_mm, units), clean(of.stands)


def depth(mm: float, units: Units) -> str:
    """A depth of water as fine as anyone knows it: '28 mm', '1.1 in'."""
    return figure(mm, "mm", units, 1 if units == "us" else 0)


def used_table(used: Sequence[Used], units: Units) -> tuple[tuple[str, ...], list[tuple[str, ...]]]:
    """(columns, rows): one row for each way of watering, so that it is read on a telephone too."""
    ways = {
        "entered": [one.given_l for one in used],
        "at need": [one.needed_l for one in used],
        "inch a week": [one.inch_a_week_l for one in used],
        "timer daily": [one.minutes_daily_l for one in used],
    }
    rows = [(way, *(_volume(litres, units) for litres in those)) for way, those in ways.items()]
    return ("", *(clean(one.words) for one in used)), rows


def unknown_words(used: Sequence[Used]) -> str:
    """'Not in it: 2 waterings entered without an amount.'; '' where all had one."""
    most = max((one.unknown for one in used), default=0)
    return f"Not in it: {most} watering{'s' * (most > 1)} entered without an amount." if most else ""


def _volume(litres: float, units: Units) -> str:
    """A volume to two or three figures, as well as it is known."""
    shown, unit = convert(litres, "L", units)
    step = 10 ** max(math.floor(math.log10(max(shown, 1.0))) - 2, 0)
    return f"{round(shown / step) * step:.0f} {unit}"


def gone_words(of: Gone, units: Units) -> str:
    """How a planting stands, in a sentence: what its drawing shows."""
    return (
        f"{clean(of.says)}: {clean(of.stands)}; {depth(of.gone_mm, units)} gone, give or take "
        f"{depth(of.give_or_take_mm, units)}. Easy to take: {depth(of.easy_mm, units)} of {depth(of.all_mm, units)}."
    )


def gone_short(of: Gone, units: Units) -> str:
    """The same in short: 'Snap beans ‘Lantern’: drying, 15 ± 14 mm gone of 23 easy'."""
    unit = depth(of.gone_mm, units).rpartition(" ")[2]
    gone, off, easy = (depth(mm, units).rpartition(" ")[0] for mm in (of.gone_mm, of.give_or_take_mm, of.easy_mm))
    return f"{clean(of.says)}: {clean(of.stands)}, {gone} ± {off} {unit} gone of {easy} easy"
