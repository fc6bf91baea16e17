"""Sowing, setting out and planting as printed in planting guides, against the windows of two records."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from pathlib import Path

from kailyard.garden.model import Bed, Garden, HowStarted, Planting, Site
from kailyard.handbook.load import load_handbook
from kailyard.season.odds import Odds
from kailyard.season.paying import Paying, still_pays
from kailyard.season.safety import safe_to_set_out, sets_after
from kailyard.season.view import SeasonView, foresee
from kailyard.weather.ensemble import build_ensemble
from kailyard.weather.record import DailyRecord
from tools.validation._data import DE_BILT, MILWAUKEE, aligned, records, rows

TITLE = """\
Planting guides against the windows of the Milwaukee (NOAA GHCN-Daily) and De Bilt (KNMI) records. Guides: the five of
Wisconsin and the zone of about 1918 taken to hold Milwaukee; Netherlands (2), Flanders, England 1945. Span: from the
earliest to the latest of the guides' first dates (a 'late April' may be any of its days), and of their last dates.
Engine: a planting without a planned day, seen from 1 February. Opens, in 5 and in 8 of 10 possible seasons: soil and
frost allow it, which is what a guide's first date speaks of. Pays then: share of the samples in which such a beginning
comes to its harvest. Last day that pays in 8 of 10: the latest of what is said on the 1st of February to September, or
else the most that any day pays. Off: days outside the guides' span, negative before it."""

WEEKS_OFF_DAYS = 14

MONTHS = (2, 3, 4, 5, 6, 7, 8, 9)

SAME_WORD = {
    "cucumber-pickling": "cucumber-slicing",
    "onion-intermediate-day": "onion-long-day",
    "pepper-hot": "pepper-sweet",
    "squash-yellow-straightneck": "zucchini",
    "tomato-determinate": "tomato-indeterminate",
    "winter-squash-acorn": "winter-squash-maxima",
    "winter-squash-moschata": "winter-squash-maxima",
}
"""Kinds that the guides do not tell apart: the row with their one word stands under the second."""

OVERWINTERED = {("UK-MAFF1945", "spring cabbage"), ("NL-MAG", "cabbage")}
"""Sown in August to stand the winter: another crop than the summer and autumn cabbage of the handbook."""

WITHIN_DAYS = {"day": 1, "week": 7, "fortnight": 15, "third of month": 11, "month": 31}
"""How many days a date of that precision may mean."""


@dataclass(frozen=True, slots=True)
class Place:
    """A record, the guides written for its country, and the days from which its seasons are seen."""

    name: str
    file: str
    site: Site
    guides: tuple[str, ...]
    year: int


PLACES = (
    Place("Milwaukee", MILWAUKEE, Site(42.95, -87.90, 205.0, "America/Chicago"), ("WI-", "USDA1918-F"), 2026),
    Place("De Bilt", DE_BILT, Site(52.10, 5.18, 1.9, "Europe/Amsterdam"), ("NL-", "BE-", "UK-"), 2019),
)

WAYS: Mapping[HowStarted, str] = {"sown": "sow outdoors", "bought": "set out", "planted": "plant"}

SET_OUT_TOO = (
    *("cucumber-pickling", "cucumber-slicing", "zucchini"),
    *("winter-squash-acorn", "winter-squash-maxima", "winter-squash-moschata"),
)
"""Sown in the open as a rule, and set out as well."""

PLANTED = ("tuber piece", "clove", "set", "slip", "crown", "bare-root plant", "bare-root or potted plant")
"""Usual starts of what is neither sown nor set out from a pot."""

Span = tuple[date, date]


@dataclass(frozen=True, slots=True)
class Compared:
    """One crop and way at one place."""

    place: str
    crop: str
    start: HowStarted
    first: Span | None
    """Span of the guides' first dates."""
    last: Span | None
    opens_5: date | None
    opens_8: date | None
    pays_then: float | None
    """Share in which a beginning on the first day that soil and frost allow pays; None where growth is not known."""
    pays_8: date | None
    pays_most: float | None
    """Share in which the best day pays."""

    def off(self) -> tuple[int | None, int | None, int | None]:
        """Days outside the guides' span of both openings and the last day."""
        return outside(self.opens_5, self.first), outside(self.opens_8, self.first), outside(self.pays_8, self.last)


def outside(day: date | None, span: Span | None) -> int | None:
    """Days before (negative) or after a span; 0 within it; None where either is not known."""
    if day is None or span is None:
        return None
    return min(0, (day - span[0]).days) + max(0, (day - span[1]).days)


def ways(crop: str) -> tuple[HowStarted, ...]:
    """Ways in which the handbook says a crop is started in its bed."""
    usual = load_handbook().text(crop, "usual_start")
    found: list[HowStarted] = []
    if "direct sow" in usual or "seed" in usual:
        found.append("sown")
    if "transplant" in usual or crop in SET_OUT_TOO:
        found.append("bought")
    if usual in PLANTED or " set" in usual:
        found.append("planted")
    return tuple(found)


def _ways_of(row: Mapping[str, str]) -> tuple[HowStarted, ...]:
    """Ways that a guide's row speaks of; where it says none, the usual way of the crop."""
    usual = load_handbook().text(row["crop"], "usual_start")
    if usual in PLANTED or row["crop_printed"].endswith(" sets"):
        return ("planted",)
    if row["how"] == "sow outdoors":
        return ("sown",)
    if row["how"] == "set out":
        return ("bought",)
    if row["how"] == "not said":
        said: dict[HowStarted, str] = {"sown": "direct sow", "bought": "transplant"}
        return tuple(way for way, word in said.items() if word in usual)
    return ()


def _day(month_day: str, year: int) -> date:
    return date(year, int(month_day[:2]), int(month_day[3:]))


def spans(shared: Path, place: Place) -> Mapping[tuple[str, HowStarted], tuple[Span | None, Span | None]]:
    """Span of first dates and of last dates, over the guides of a place, by crop and way."""
    firsts: dict[tuple[str, HowStarted], dict[str, Span]] = {}
    lasts: dict[tuple[str, HowStarted], dict[str, Span]] = {}
    crops = set(load_handbook().crops)
    for row in rows(shared / "data" / "checks" / "planting_guides.csv"):
        guide = row["guide_id"]
        if (
            row["crop"] not in crops
            or not guide.startswith(place.guides)
            or (guide, row["crop_printed"]) in OVERWINTERED
        ):
            continue
        within = timedelta(days=WITHIN_DAYS[row["precision"]] - 1)
        for way in _ways_of(row):
            key = row["crop"], way
            if row["season"] == "spring" and row["first_date"]:
                first = _day(row["first_date"], place.year)
                last = _day(row["last_date"], place.year) if row["last_date"] else first + within
                until = last if row["note"].startswith("range of earliest") else min(last, first + within)
                if guide not in firsts.setdefault(key, {}) or first < firsts[key][guide][0]:
                    firsts[key][guide] = first, until
            if row["last_date"] and (row["season"] == "autumn" or _says_its_end(row, within.days + 1, place.year)):
                last = _day(row["last_date"], place.year)
                begun = max(last - within, _day(row["first_date"], place.year)) if row["first_date"] else last - within
                if guide not in lasts.setdefault(key, {}) or last > lasts[key][guide][1]:
                    lasts[key][guide] = begun, last
    return {key: (_over(firsts.get(key)), _over(lasts.get(key))) for key in sorted({*firsts, *lasts})}


def _says_its_end(row: Mapping[str, str], within: int, year: int) -> bool:
    """A spring row whose last date is the end of a stretch of sowing and no looseness of its first."""
    if not row["first_date"] or row["note"].startswith("range of earliest"):
        return False
    return (_day(row["last_date"], year) - _day(row["first_date"], year)).days >= within + 1


def _over(by_guide: Mapping[str, Span] | None) -> Span | None:
    if not by_guide:
        return None
    return min(a for a, _ in by_guide.values()), max(b for _, b in by_guide.values())


@cache
def seen_from(record: DailyRecord, site: Site, today: date) -> SeasonView:
    """A garden of one planting of every crop and way, nothing done yet, as foreseen on a day."""
    handbook = load_handbook()
    plantings = {
        id_: Planting(id=id_, crop=crop, bed="bed", start=start, count=10)
        for crop in handbook.crops
        if crop not in handbook.plants
        for start in ways(crop)
        for id_ in [f"{crop}.{start}"]
    }
    garden = Garden("Guides", site, "metric", {"bed": Bed("bed", "bed", 10.0, 1.2)}, {}, plantings, ())
    ensemble = build_ensemble(record, today=today, start=today - timedelta(days=30))
    return foresee(garden, ensemble, handbook)


@dataclass(frozen=True, slots=True)
class Said:
    """What one view has to say of beginning a planting."""

    opens: Odds
    paying: Paying | None


def said(view: SeasonView, name: str) -> Said:
    """From when soil and frost allow a planting, and when it pays."""
    planting = view.lives[name].planting
    latitude = view.garden.site.latitude
    after = sets_after(view.handbook, planting.crop, view.today.toordinal(), latitude)
    begin = safe_to_set_out(view.clocks, view.handbook, planting.crop, after, latitude)
    return Said(Odds(begin), still_pays(view, view.lives[name], start=planting.start, begin=begin))


@cache
def compared(shared: Path, months: tuple[int, ...] = MONTHS) -> tuple[Compared, ...]:
    """Every crop and way at both places; the last day that pays as said on the 1st of `months`, the latest."""
    return tuple(one for place in PLACES for one in _at(shared, place, months))


def _at(shared: Path, place: Place, months: tuple[int, ...]) -> Iterator[Compared]:
    record = records(shared / "data" / place.file)[""]
    views = {month: seen_from(record, place.site, date(place.year, month, 1)) for month in sorted({2, *months})}
    guides = spans(shared, place)
    for name, life in sorted(views[2].lives.items()):
        crop, start = life.planting.crop, life.planting.start
        first, last = guides.get((SAME_WORD.get(crop, crop), start), (None, None))
        each = {month: said(view, name) for month, view in views.items()}
        opens, then = each[2].opens, each[2].paying
        paying = [(views[month].today, p) for month in months if (p := each[month].paying) is not None]
        lasts = [day for today, p in paying if (day := p.until(0.8, today)) is not None and day.year == place.year]
        yield Compared(
            place=place.name,
            crop=crop,
            start=start,
            first=first,
            last=last,
            opens_5=opens.quantile(0.5),
            opens_8=opens.quantile(0.8),
            pays_then=None if then is None else then.share_at_once(opens.days),
            pays_8=max(lasts, default=None),
            pays_most=max((p.best(today)[1] for today, p in paying), default=None),
        )


def _short(day: date | None) -> str:
    return "" if day is None else f"{day.day} {day:%b}"


def _span(span: Span | None) -> str:
    return "" if span is None else _short(span[0]) if span[0] == span[1] else f"{_short(span[0])} to {_short(span[1])}"


def _off(days: int | None) -> str:
    return "" if days is None else f"{days:+d}" if days else "0"


def _pays(c: Compared) -> str:
    if c.pays_8 is not None or c.pays_most is None:
        return _short(c.pays_8)
    return f"{c.pays_most:.0%} at most"


def _table(each: Iterable[Compared]) -> Iterator[list[str]]:
    yield [
        *("place", "crop", "way", "guides: first", "guides: last"),
        *("opens 5 of 10", "off", "8 of 10", "off", "pays then", "pays to", "off", ""),
    ]
    for c in each:
        off = c.off()
        far = any(d is not None and abs(d) > WEEKS_OFF_DAYS for d in off)
        opens = [_short(c.opens_5), _off(off[0]), _short(c.opens_8), _off(off[1])]
        cells = [*opens, "" if c.pays_then is None else f"{c.pays_then:.0%}", _pays(c), _off(off[2])]
        yield [c.place, c.crop, WAYS[c.start], _span(c.first), _span(c.last), *cells, "*" if far else ""]


def lines(shared: Path) -> Iterable[str]:
    """The table of what the guides speak of, then what they leave out."""
    both = compared(shared)
    yield from aligned(list(_table(c for c in both if c.first or c.last)), left=5)
    yield ""
    yield f"* more than {WEEKS_OFF_DAYS} days off: explained in docs/validation.md. No guide speaks of:"
    yield ""
    yield from aligned(list(_table(c for c in both if not (c.first or c.last))), left=5)
