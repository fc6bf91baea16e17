"""Hours: read from files, and told for any stretch, each as well as it is known."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path

import numpy as np

from kailyard.desk import typed
from kailyard.desk.ahead import known_forecasts
from kailyard.desk.desk import Desk, end_of_day, zone
from kailyard.desk.judged import bearing_on, judged
from kailyard.desk.station_record import station_record
from kailyard.desk.weather import COLUMNS, enough, row
from kailyard.desk.weather_aside import by_hand, in_use
from kailyard.documents.table import Table
from kailyard.errors import DataError, UsageError
from kailyard.garden.identifiers import name_problem
from kailyard.garden.model import Garden
from kailyard.publish.units import figure
from kailyard.weather.files import file_name
from kailyard.weather.forecast import latest_by_day
from kailyard.weather.hour_columns import QUANTITIES, HourColumns
from kailyard.weather.hour_days import days_of_hours
from kailyard.weather.hour_table import read_hours
from kailyard.weather.hours import HourlyRecord, merge_hours
from kailyard.weather.judging import doubts, set_bad_aside
from kailyard.weather.judging_hours import hour_doubts
from kailyard.weather.known_hours import STATES, KnownDays, KnownHours, known_hours, local_days
from kailyard.weather.lacking import only_gaps
from kailyard.weather.record import DailyRecord, merge

HOUR_TABLE = ("hour", "temp.", "humidity", "wind", "rain", "temperature is", "wind and rain are")
LONGEST_DAYS = 16
"""So many days of hours are told at once at the keyboard."""
LONGEST_REACH = timedelta(days=20)
"""No forecast by the hour reaches farther."""
ON_THE_HOUR = (
    "Readings on the hour miss part of a day's extremes: at one station they made lows 0.8 °C too warm, highs 0.7 °C "
    "too cool. So such days fill only what the record lacks."
)


def hours(
    desk: Desk, first: datetime, last: datetime, *, as_known: date | None = None, issued_since: datetime | None = None
) -> KnownHours:
    """The hours from `first` to `last` (with time zone, both included), each as well as it is known.

    Hours that nobody observed or forecast are unknown; only temperature is made from days where hours lack. Nothing is
    loaded but the imports that reach into the stretch.

    Parameters
    ----------
    as_known : date
        What came later plays no part; None: all that is known.
    issued_since : datetime
        Forecasts issued before it are too old to count; None: whatever their age.

    Raises
    ------
    DataError
        If `last` lies before `first`, or the stretch is longer than a record may be.
    """
    garden = desk.garden(as_known=as_known)
    cut = None if as_known is None else end_of_day(as_known, garden.site.timezone)
    now = desk.now() if cut is None else min(cut, desk.now())
    start, end = (each.astimezone(UTC).replace(microsecond=0) for each in (first, last))
    if end < start:
        raise DataError(f"Hours are asked from {first:%Y-%m-%d %H:%M} to {last:%Y-%m-%d %H:%M}: the end comes first.")
    observed = [kept.record for kept in desk.store.hours(start, end, as_known=cut)]
    ahead = _ahead(desk, garden, start, end, now, cut, issued_since)
    return known_hours(
        start,
        end,
        observed=merge_hours(observed) if observed else None,
        forecast=merge_hours(ahead) if ahead else None,
        now=now,
        days=_days(desk, garden, start, end, as_known),
        latitude=garden.site.latitude,
        longitude=garden.site.longitude,
    )


def _ahead(
    desk: Desk,
    garden: Garden,
    start: datetime,
    end: datetime,
    now: datetime,
    cut: datetime | None,
    issued_since: datetime | None,
) -> list[HourlyRecord]:
    """Hours of the forecasts that bear on the stretch, in order of issue; none older than one that covers it."""
    found: list[HourlyRecord] = []
    aside = by_hand(garden.entries)
    for kept in reversed(desk.store.forecasts(cut, since=start - LONGEST_REACH)):
        if kept.id in aside or kept.forecast.issued > min(end, now):
            continue
        if issued_since is not None and kept.forecast.issued < issued_since:
            continue
        found += [h.record for h in desk.store.hours(start, end, forecast=kept.id)]
        if found and found[-1].first <= start:
            break
    return found[::-1]


def _days(desk: Desk, garden: Garden, start: datetime, end: datetime, as_known: date | None) -> KnownDays:
    """Lows and highs of the days that bear on the stretch: observed to yesterday, forecast from today on."""
    first, last = local_days(start, end, zone(garden.site.timezone))
    today = desk.today(garden) if as_known is None else min(as_known, desk.today(garden))
    columns = [np.full((last - first).days + 1, np.nan) for _ in range(2)]
    record = _station(desk, garden, as_known)
    if record is not None:
        at = first.toordinal() - record.first.toordinal()
        known = min(len(record), today.toordinal() - record.first.toordinal())
        lo, hi = max(0, at), min(known, at + len(columns[0]))
        if lo < hi:
            for column, values in zip(columns, (record.tmin_c, record.tmax_c), strict=True):
                column[lo - at : hi - at] = values[lo:hi]
    for each in latest_by_day(known_forecasts(desk, garden, as_known, today), today):
        i = (each.day - first).days
        if 0 <= i < len(columns[0]):
            columns[0][i], columns[1][i] = each.tmin_c, each.tmax_c
    return KnownDays(first, *columns)


def _station(desk: Desk, garden: Garden, as_known: date | None) -> DailyRecord | None:
    try:
        return station_record(desk, garden, as_known)[0]
    except DataError:
        return None


def take_hours(desk: Desk, data: Path | bytes, columns: HourColumns, *, name: str = "", as_days: bool = False) -> Table:
    """Read an hourly table and keep its hours; with `as_days` keep the days they make as a record too.

    Nothing is kept where the file as a whole cannot be used.
    """
    garden = desk.garden()
    called = file_name(data, name)
    record = read_hours(data, columns, name=name)
    days = set_bad_aside(days_of_hours(record, zone(garden.site.timezone)), file=called) if as_days else None
    kept_name = "" if name_problem(called) else called
    new = desk.store.add_hours(record, imported=desk.now(), name=kept_name)
    notes = [] if new else ["Just these hours are kept already; nothing was stored again."]
    notes += judged(record.set_aside, hour_doubts(record), garden.units)
    notes.append(_what_hours(record, garden))
    rows: tuple[tuple[str, ...], ...] = ()
    if days is not None:
        whole = days
        kept = in_use(desk, garden.entries)
        filled = len(days)
        if kept:
            days, filled = only_gaps(days, merge(kept))
        if filled:
            desk.store.add_weather(days, imported=desk.now(), name=kept_name)
            rows = (row(days, days.source),)
            of_days = days.set_aside[len(record.set_aside) :]
            notes += judged(of_days, bearing_on(doubts(whole), days), garden.units)
        notes.append(f"Days run from midnight to midnight where the garden is; {filled} were kept. {ON_THE_HOUR}")
        notes.append(enough(merge(in_use(desk, garden.entries))))
    return Table(f"Read {len(record)} hours of {called}", COLUMNS if rows else (), rows, tuple(notes))


def hours_file(desk: Desk, file: str, columns: str | None, *, as_days: bool) -> Table:
    """Read an hourly file named at the keyboard."""
    if columns is None:
        raise UsageError(
            "Say which column is what, in which unit and by which clock: "
            "--columns 'time=when; zone=UTC; temperature=temp'."
        )
    return take_hours(desk, Path(file), HourColumns.parse(columns), as_days=as_days)


def send_hours(desk: Desk, name: str, content: bytes, *, declared: Mapping[str, str], as_days: bool) -> str:
    """Keep the hours of a file sent from a page; a sentence of what was read."""
    told = {key: value for key, value in declared.items() if value}
    told["delimiter"] = {"semicolon": ";", "tab": "\t"}.get(told.get("delimiter", ""), ",")
    try:
        if strange := sorted(told.keys() - set(HourColumns.__dataclass_fields__)):
            raise UsageError(f"A table of hours is not described by {typed.shown(strange[0])}.")
        made = take_hours(desk, content, HourColumns.of(told), name=name or "the file", as_days=as_days)
    except (DataError, UsageError) as err:
        raise type(err)(f"{err} Nothing was kept.") from err
    return f"{made.title}. {' '.join(n for n in made.notes if not n.startswith(name))}"


def hours_told(desk: Desk, first: str | None, days: str | None) -> Table:
    """The hours of some days, each as it is known."""
    garden = desk.garden()
    place = zone(garden.site.timezone)
    today = desk.today(garden)
    day = typed.day(first, today, "DAY") if first else today
    length = typed.count(days, "--days") if days else 2
    if not 1 <= length <= LONGEST_DAYS:
        raise UsageError(f"--days {typed.shown(days or '')}: 1 to {LONGEST_DAYS} at a time.")
    begin = datetime.combine(day, time(), place)
    end = datetime.combine(day + timedelta(days=length), time(), place) - timedelta(hours=1)
    known = hours(desk, begin, end)
    unknown = int(np.count_nonzero(~known.whole("temp_c")))
    rows = _hour_rows(known, garden)
    if not rows:
        none = "None of these hours is known: no hourly record, no low and high of the day, no forecast."
        return Table(
            "Hours as they are known", notes=(f"{none} None is invented. `kailyard hours --help` tells more.",)
        )
    notes = ["'Made from days' is the usual course between the day's low and its high."]
    if unknown:
        count = "1 hour is" if unknown == 1 else f"{unknown} hours are"
        notes.append(f"{count} unknown and left out: no forecast reaches so far, or none was kept. None is invented.")
    return Table("Hours as they are known", HOUR_TABLE, rows, tuple(notes))


def _hour_rows(known: KnownHours, garden: Garden) -> tuple[tuple[str, ...], ...]:
    place = zone(garden.site.timezone)
    record = known.record
    rows = []
    for i in range(len(record)):
        at = (record.first + timedelta(hours=i)).astimezone(place)
        if all(np.isnan(column[i]) for column in (record.temp_c, record.humidity_pct, record.wind_m_s, record.rain_mm)):
            continue
        cells = (
            "" if np.isnan(v[i]) else figure(float(v[i]), u, garden.units)
            for v, u in (
                (record.temp_c, "°C"),
                (record.humidity_pct, "%"),
                (record.wind_m_s, "m/s"),
                (record.rain_mm, "mm"),
            )
        )
        least = min(int(known.states["wind_m_s"][i]), int(known.states["rain_mm"][i]))
        rows.append((f"{at.day} {at:%b %H:%M}", *cells, STATES[int(known.states["temp_c"][i])], STATES[least]))
    return tuple(rows)


def _what_hours(record: HourlyRecord, garden: Garden) -> str:
    place = zone(garden.site.timezone)
    words = []
    for quantity, (column, _) in QUANTITIES.items():
        count = int(np.count_nonzero(~np.isnan(record.columns[column])))
        if count:
            words.append(f"{quantity.replace('_', ' ')} {count}")
    first, last = record.first.astimezone(place), record.last.astimezone(place)
    return f"From {first:%Y-%m-%d %H:%M} to {last:%Y-%m-%d %H:%M} here; hours with {', '.join(words)}."


def hours_kept(desk: Desk) -> tuple[tuple[str, ...], ...]:
    """Every import of observed hours: name, first and last hour in UTC, how many, what was set aside."""
    ever, never = datetime(1, 1, 1, tzinfo=UTC), datetime(9999, 12, 31, tzinfo=UTC)
    return tuple(
        (
            kept.name or kept.record.source,
            f"{kept.record.first:%Y-%m-%d %H:%M}",
            f"{kept.record.last:%Y-%m-%d %H:%M}",
            str(len(kept.record)),
            str(len(kept.record.set_aside)),
        )
        for kept in desk.store.hours(ever, never)
    )
