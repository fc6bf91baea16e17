"""Sentences and rows about water that every form says alike."""

from __future__ import annotations

import math

from kailyard.documents.water import BedWater, Gone, Used
from kailyard.publish.units import Units, convert, figure
from kailyard.publish.words import clean

GONE_COLUMNS = ("planting", "gone", "easy", "all", "stands")
USED_COLUMNS = ("litres", "entered", "at need", "inch a week", "same minutes")


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


def used_row(of: Used, units: Units) -> tuple[str, ...]:
    """Litres in a table."""
    entered = _volume(of.given_l, units)
    if of.unknown:
        entered += f" and {of.unknown} without an amount"
    ways = (of.needed_l, of.inch_a_week_l, of.minutes_daily_l)
    return (clean(of.words), entered, *(_volume(one, units) for one in ways))


def _volume(litres: float, units: Units) -> str:
    """A volume to two or three figures, as well as it is known."""
    step = 10 ** max(math.floor(math.log10(max(convert(litres, "L", units)[0], 1.0))) - 2, 0)
    shown, unit = convert(litres, "L", units)
    return f"{round(shown / step) * step:g} {unit}" if shown < 1e5 else f"{round(shown / step) * step:,.0f} {unit}"


def gone_words(of: Gone, units: Units) -> str:
    """How a planting stands, in a sentence: what its drawing shows."""
    return (
        f"{clean(of.says)}: {clean(of.stands)}; {depth(of.gone_mm, units)} gone, give or take "
        f"{depth(of.give_or_take_mm, units)}. Easy to take: {depth(of.easy_mm, units)} of {depth(of.all_mm, units)}."
    )
