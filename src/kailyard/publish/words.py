"""Dates, spans, chances and lists in plain words. English, whatever the machine's locale."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence
from datetime import date

from kailyard.documents._parts import DayOdds

WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
LIKELY = 0.5
"""A day is called likely from this chance on."""

_JOINERS = "\u200c\u200d"


def clean(text: str) -> str:
    """`text` on one line, without characters that steer a terminal, turn the writing round or cannot be written."""
    if text.isprintable():
        return " ".join(text.split())  # nearly all that is printed, at a hundredth of the time
    kept = []
    for sign in text:
        kind = unicodedata.category(sign)
        if kind in ("Zl", "Zp") or sign in "\t\n\r\v\f\x85":
            kept.append(" ")
        elif kind == "Cs" or 0xFDD0 <= ord(sign) <= 0xFDEF or ord(sign) & 0xFFFE == 0xFFFE:
            kept.append("\ufffd")
        elif kind == "Cc" or (kind == "Cf" and sign not in _JOINERS):
            continue
        else:
            kept.append(sign)
    return " ".join("".join(kept).split())


def day(on: date, beside: date | None = None) -> str:
    """'12 June'; with the year where `beside` lies in another."""
    written = f"{on.day} {MONTHS[on.month - 1]}"
    return written if beside is None or beside.year == on.year else f"{written} {on.year}"


def day_of_week(on: date) -> str:
    """'Fri 12 June'."""
    return f"{WEEKDAYS[on.weekday()][:3]} {day(on)}"


def short_day(on: date) -> str:
    """'12 Jun', for axes."""
    return f"{on.day} {MONTHS[on.month - 1][:3]}"


def full_day(on: date) -> str:
    """'Friday 12 June 2026'."""
    return f"{WEEKDAYS[on.weekday()]} {day(on)} {on.year}"


def span(first: date, last: date, beside: date | None = None) -> str:
    """'21–29 June', '30 June to 9 July'; years are written where the span crosses one or lies in another."""
    if first == last:
        return day(first, beside)
    if first.year != last.year:
        return f"{day(first)} {first.year} to {day(last)} {last.year}"
    if first.month != last.month:
        return f"{day(first)} to {day(last, beside)}"
    return f"{first.day}–{day(last, beside)}"


def heading(first: date, last: date) -> str:
    """A sheet's days: 'Friday 12 to 18 June'."""
    opening = WEEKDAYS[first.weekday()]
    if first == last:
        return f"{opening} {day(first)}"
    if (first.year, first.month) == (last.year, last.month):
        return f"{opening} {first.day} to {day(last)}"
    return f"{opening} {day(first)} to {day(last, first)}"


def duration(minutes: float) -> str:
    """'45 min', '2 h 50 min'."""
    whole = round(minutes)
    hours, rest = divmod(whole, 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"


def in_ten(chance: float) -> str:
    """A chance in words: '8 in 10'; near nothing and near certainty finer, never rounded to either."""
    if chance <= 0:
        return "no chance"
    if chance >= 1:
        return "certain"
    if chance < 0.025:
        return "under 1 in 40"
    if chance < 0.075:
        return "1 in 20"
    if chance >= 0.975:
        return "over 39 in 40"
    if chance >= 0.925:
        return "19 in 20"
    return f"{min(9, max(1, round(chance * 10)))} in 10"


def joined(parts: Sequence[str]) -> str:
    """'a, b and c'."""
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} and {parts[-1]}"


def sentence(text: str) -> str:
    """`text` with a stop at its end, if it has none."""
    text = clean(text)
    return text if not text or text[-1] in ".!?…:" else f"{text}."


def named(says: str, where: str, joint: str = ", ") -> str:
    """The thing and its bed: 'Pick snap beans, bed 6'."""
    says, where = clean(says), clean(where)
    return f"{says.rstrip('.')}{joint}{where}" if where else says


def when(odds: DayOdds, today: date) -> str:
    """Odds of a stage in words, with what is never or beyond the horizon."""
    parts = []
    if odds.low and odds.high:
        parts.append(f"{span(odds.low, odds.high, today)}, 8 in 10")
    elif odds.middle and odds.low:
        parts.append(f"hardly before {day(odds.low, today)}, half by {day(odds.middle, today)}")
    elif odds.low:
        parts.append(f"hardly before {day(odds.low, today)}")
    if odds.never > 0:
        parts.append(f"never: {in_ten(odds.never)}")
    if odds.beyond > 0:
        parts.append(f"later than can be foreseen: {in_ten(odds.beyond)}")
    return "; ".join(parts) or "cannot be foreseen"


def window(odds: DayOdds, today: date) -> str:
    """An open or coming window in words: the days on which the work can likely be done."""
    start, now = odds.first.toordinal(), today.toordinal()
    likely = [start + i for i, chance in enumerate(odds.chances) if chance >= LIKELY]
    if not likely:
        ahead = [(chance, -i) for i, chance in enumerate(odds.chances) if chance > 0 and start + i >= now]
        if not ahead:
            return "not open in these weeks"
        chance, i = max(ahead)
        return f"on no day surer than {in_ten(chance)}; best {day(date.fromordinal(start - i), today)}"
    first, last = date.fromordinal(likely[0]), date.fromordinal(likely[-1])
    to_the_end = likely[-1] == start + len(odds.chances) - 1
    if last < today:
        return f"past its likely days, the last of which was {day(last, today)}"
    if first > today:
        return f"likely from {day(first, today)} on" if to_the_end else f"likely {span(first, last, today)}"
    return f"open, likely beyond {day(last, today)}" if to_the_end else f"open, likely until {day(last, today)}"


def odds(of: DayOdds, today: date) -> str:
    """Odds in words, of a stage (its chances add up to one at most) or of a window (they can add up to many days)."""
    return window(of, today) if is_window(of) else when(of, today)


def is_window(of: DayOdds) -> bool:
    """Whether the odds are a window's: its days' chances add up to more than one, which a stage's never do."""
    return sum(of.chances) > 1.001
