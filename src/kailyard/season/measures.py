"""Room, worth and minutes of a planting; words for shares, days and spans."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date, timedelta

from kailyard.garden.model import Planting
from kailyard.season.odds import Odds
from kailyard.season.view import SeasonView, area_m2


def worth(view: SeasonView, planting: Planting) -> float:
    """How much hangs on it beside an average planting of the garden: by ground, between a half and two."""
    return min(max(area_m2(planting, view.bed(planting)) / view.mean_area_m2, 0.5), 2.0)


def minutes(view: SeasonView, planting: Planting, quantity: str, default: float) -> float:
    """Minutes of a piece of work on the whole planting; `quantity` ends in _per_m2 or _per_plant."""
    each = view.number(planting, quantity, default)
    amount = area_m2(planting, view.bed(planting)) if quantity.endswith("_per_m2") else planting.count
    return float(min(max(5 * round(each * amount / 5), 5), 240))


def day_words(day: date) -> str:
    """'12 June'."""
    return f"{day.day} {day:%B}"


def span_words(first: date, last: date) -> str:
    """'12 June', '21–29 June', '30 June to 9 July'."""
    if first == last:
        return day_words(first)
    if (first.year, first.month) == (last.year, last.month):
        return f"{first.day}–{last.day} {last:%B}"
    return f"{day_words(first)} to {day_words(last)}"


def in_ten(chance: float) -> str:
    """A chance in words: '8 in 10', 'almost surely', 'hardly'."""
    if chance >= 0.975:
        return "almost surely"
    if chance <= 0.025:
        return "hardly"
    if chance < 0.075:
        return "1 in 20"
    return f"{min(max(round(chance * 10), 1), 9)} in 10"


def odds_words(odds: Odds) -> str:
    """The middle eight tenths of a stage in words; what never comes is said."""
    low, high = odds.quantile(0.1), odds.quantile(0.9)
    if low is not None and low == high and odds.never < 0.05:
        return day_words(low)
    never = odds.never
    if low is None:
        return "not this season" if never > 0.5 else "beyond the seasons foreseen"
    if high is None:
        return f"from {day_words(low)}; {in_ten(never + odds.beyond)} that it does not come in time"
    tail = f"; {in_ten(never)} never" if never >= 0.05 else ""
    return f"{span_words(low, high)}, 8 in 10{tail}"


def share_words(share: float) -> str:
    """A share of the crop in words."""
    for limit, word in ((0.03, "little"), (0.12, "a little"), (0.35, "some"), (0.65, "half"), (0.9, "most of it")):
        if share < limit:
            return word
    return "all of it"


def listing(words: Sequence[str]) -> str:
    """'a', 'a and b', 'a, b and c'."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}" if words else ""


def beds_words(names: Sequence[str]) -> str:
    """'bed 4', 'beds 4, 7 and 9' where the names allow it, else the names."""
    unique = sorted(set(names), key=lambda n: [int(t) if t.isdigit() else t for t in re.split(r"(\d+)", n)])
    tails = [n[4:] for n in unique if n.lower().startswith("bed ")]
    if len(unique) > 1 and len(tails) == len(unique):
        return f"beds {listing(tails)}"
    return listing(unique)


def days_from(day: date, n: int) -> date:
    """`n` days later."""
    return day + timedelta(days=n)
