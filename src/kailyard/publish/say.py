"""Sentences that every form says alike: a reason, its ground, a stage, a climate."""

from __future__ import annotations

from datetime import date

from kailyard.documents._parts import Reason, RestsOn
from kailyard.documents.climate import Climate, FrostLevel, MonthTrend, WarmthSoFar
from kailyard.documents.stages import Stage, Stages
from kailyard.publish import words
from kailyard.publish.units import Units, convert, figure, number
from kailyard.publish.words import clean, sentence


def statement(reason: Reason, units: Units) -> str:
    """What a reason says with its figure: 'Warmth since sowing: 640 °C·d.'"""
    if reason.figure is None:
        return sentence(reason.says)
    return f"{clean(reason.says).rstrip('.:')}: {figure(reason.figure, clean(reason.unit), units)}."


def ground(rests_on: RestsOn) -> str:
    """'published: Allen and others (1998), Table 12'."""
    parts = [clean(part) for part in (rests_on.source, rests_on.locator)]
    said = ", ".join(part for part in parts if part)
    return f"{rests_on.status}: {said}" if said else rests_on.status


def stage_words(stage: Stage, document: Stages) -> str:
    """'seen 12 April, not yet on 9 April; BBCH 09', or the odds."""
    said = f"seen {words.day(stage.seen, document.on)}" if stage.seen else words.clean(stage.odds_words)
    if stage.not_yet is not None:
        said += f", not yet on {words.day(stage.not_yet, document.on)}"
    return f"{said}; BBCH {words.clean(stage.bbch)}" if stage.bbch else said


def years_words(document: Climate) -> str:
    """Which years are counted, and whether they were brought to today's climate."""
    if not document.years:
        return "No past years."
    count, first, last = len(document.years), min(document.years), max(document.years)
    years = f"{count} year{'' if count == 1 else 's'}, {first} to {last}" if count > 1 else f"1 year, {first}"
    return f"{years}, {'brought to today’s climate' if document.trend_on else 'as they were'}."


def rain_words(document: Climate) -> str:
    """Rain this year against the usual."""
    so_far, usual = (
        figure(mm, "mm", document.units, 1 if document.units == "us" else 0)
        for mm in (document.rain_so_far_mm, document.rain_usual_mm)
    )
    return f"{so_far} this year; {usual} is usual by now."


def frost_columns(document: Climate) -> tuple[str, ...]:
    """Heads of the frost table."""
    return ("", "years in 10", "last: late", "middle", "early", "first: early", "middle", "late", "days free")


def frost_row(level: FrostLevel, document: Climate) -> tuple[str, ...]:
    """One threshold: share of years, last and first days, length of the season."""

    def on(day: date | None) -> str:
        return words.short_day(day) if day else "–"

    lengths = [level.free_days_short, level.free_days_middle, level.free_days_long]
    free = "/".join("–" if days is None else f"{days:.0f}" for days in lengths) if any(lengths) else "–"
    at = figure(level.threshold_c, "°C", document.units)
    name = f"{words.clean(level.words)}, {at}"
    share = number(level.share_of_years * 10, 1)
    days = (
        level.last_late,
        level.last_middle,
        level.last_early,
        level.first_early,
        level.first_middle,
        level.first_late,
    )
    return (name, share, *(on(day) for day in days), free)


FROST_NOTE = (
    "Last: 1 year in 10 has it on the late day or later, half on the middle day or later. First: 1 year in 10 has it "
    "on the early day or earlier. Days free: 1 year in 10 has the first number or fewer, half the second, 9 the third."
)


def warmth_words(warmth: WarmthSoFar, document: Climate) -> str:
    """'warmth above 10 °C since 1 March: 412 °C·d; the years 350 to 450, middle 398; warmer than 31 of 40 years'."""
    units = document.units
    base = figure(warmth.base_c, "°C", units)
    this, low, middle, high = (
        figure(sum_c_d, "°C·d", units)
        for sum_c_d in (warmth.this_season, warmth.years_low, warmth.years_middle, warmth.years_high)
    )
    return words.sentence(
        f"{words.clean(warmth.words)}, above {base} since {words.day(warmth.since, document.on)}: {this}; "
        f"eight years in ten lie from {low} to {high}, the middle one has {middle}; {words.clean(warmth.rank_words)}"
    )


TREND_COLUMNS = ("month", "nights", "days", "used here")


def trend_row(month: MonthTrend, units: Units) -> tuple[str, ...]:
    """One month's trend with its sign. [a decade]"""

    def signed(change_c: float) -> str:
        change, unit = convert(change_c, "°C difference", units)
        return f"{change:+.2f} {unit}".replace("-", "−")

    name = words.MONTHS[month.month - 1] if 1 <= month.month <= 12 else str(month.month)
    return (name, signed(month.tmin_c_decade), signed(month.tmax_c_decade), "yes" if month.applied else "no")


def planting_words(document: Stages) -> str:
    """'Tomato ‘Wharf Lantern’, bed 3'."""
    crop = f"{clean(document.crop)} ‘{clean(document.cultivar)}’" if document.cultivar else document.crop
    return words.named(crop, document.bed)
