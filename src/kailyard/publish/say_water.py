"""Sentences and rows about water that every form says alike."""

from __future__ import annotations

from kailyard.documents.water import BedWater, Gone, Used
from kailyard.publish.units import Units, figure
from kailyard.publish.words import clean

GONE_COLUMNS = ("planting", "gone", "easy", "all", "stands")
USED_COLUMNS = ("litres", "entered", "at need", "inch a week", "same minutes")


def bed_words(bed: BedWater) -> str:
    """'Bed 3, snap beans: 14–17 June, 8 in 10'."""
    name = bed.where[:1].upper() + bed.where[1:]
    return clean(f"{name}{f', {bed.plants}' if bed.plants else ''}: {bed.next_words}")


def gone_row(of: Gone, units: Units) -> tuple[str, ...]:
    """A planting's water in a table."""
    gone = f"{figure(of.gone_mm, 'mm', units)} ± {figure(of.give_or_take_mm, 'mm', units)}"
    return clean(of.says), gone, figure(of.easy_mm, "mm", units), figure(of.all_mm, "mm", units), clean(of.stands)


def used_row(of: Used, units: Units) -> tuple[str, ...]:
    """Litres in a table."""
    entered = figure(of.given_l, "L", units, 0)
    if of.unknown:
        entered += f" and {of.unknown} without an amount"
    ways = (of.needed_l, of.inch_a_week_l, of.minutes_daily_l)
    return (clean(of.words), entered, *(figure(one, "L", units, 0) for one in ways))


def gone_words(of: Gone, units: Units) -> str:
    """What the drawing of a planting's water shows, in a sentence."""
    return (
        f"{clean(of.says)}: {figure(of.gone_mm, 'mm', units)} gone of {figure(of.easy_mm, 'mm', units)} easy water, "
        f"{figure(of.all_mm, 'mm', units)} in all; {clean(of.stands)}."
    )
