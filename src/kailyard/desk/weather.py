"""The station's record: read, kept, told about; and forecasts as they were issued."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from datetime import date
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from kailyard.desk import typed
from kailyard.desk.ahead import believed, forecast_cells, issue_lines, skill
from kailyard.desk.desk import Desk
from kailyard.desk.doubtful import asked_lines, doubtful, leave
from kailyard.desk.handles import handles, undo
from kailyard.desk.judged import SHOWN, judged
from kailyard.desk.weather_aside import SHORT, ByHand, by_hand, in_use, set_aside, used
from kailyard.documents.table import Table
from kailyard.errors import DataError, UsageError
from kailyard.garden.identifiers import name_problem
from kailyard.garden.model import Entry, Garden
from kailyard.publish.units import figure
from kailyard.weather.ensemble import FEWEST_YEARS
from kailyard.weather.files import file_name
from kailyard.weather.forecast import SKILL_BY_LEAD, ForecastDay
from kailyard.weather.judge import counted
from kailyard.weather.judging import doubts
from kailyard.weather.options import ColumnMap, ReadOptions
from kailyard.weather.reading import read_forecast, read_record
from kailyard.weather.record import DailyRecord, SetAside, merge
from kailyard.weather.stations import MARKS

if TYPE_CHECKING:
    from kailyard.store.base import WeatherImport

COLUMNS = ("record", "first day", "last day", "days", "low and high", "rain", "set aside")
MOST_LINES = 60
"""So many of them a page shows."""
_ASKED = {"date": "the day", "tmin": "the lowest temperature", "tmax": "the highest temperature"}
ENDINGS = ("csv", "dat", "dly", "tsv", "txt", "")
"""Of the names under which a page takes a station's file."""
_GZIP = b"\x1f\x8b"


def weather(
    desk: Desk,
    file: str | None,
    *,
    columns: str | None = None,
    station: str = "",
    aside: Mapping[str, str] = MappingProxyType({}),
) -> Table:
    """Read a station's file and keep its record, or without a file tell what is kept.

    `aside`: 'record' or 'left', and where they are said 'first', 'last', 'why': that is set aside, or left in use.
    Nothing is kept where the file as a whole cannot be used.
    """
    if aside:
        if file is not None or ("record" in aside) == ("left" in aside):
            raise UsageError(
                "Setting aside takes --aside RECORD, with --first and --last for days of it, and no file; --leave "
                "RECORD in its place leaves the days in use."
            )
        said = {word: said for word, said in aside.items() if word not in ("record", "left")}
        return set_aside(desk, aside["record"], **said) if "record" in aside else leave(desk, aside["left"], **said)
    if file is None:
        if columns is not None or station:
            raise UsageError("Which file? Name it first: `kailyard weather FILE ...`.")
        return weather_kept(desk)
    declared = None if columns is None else ColumnMap.parse(columns)
    return take_weather(desk, Path(file), ReadOptions(columns=declared, station=station))


def take_weather(desk: Desk, data: Path | bytes, options: ReadOptions) -> Table:
    """Read a station's file, or its content named in `options`, and keep its record; what was set aside is told.

    Nothing is kept where the file as a whole cannot be used.
    """
    desk.garden()
    record = read_record(data, options)
    name = file_name(data, options.name)
    new = desk.store.add_weather(record, imported=desk.now(), name="" if name_problem(name) else name)
    notes = [] if new else ["Just this record is kept already; nothing was stored again."]
    notes += judged(record.set_aside, doubts(record), desk.garden().units)
    in_use_ = in_use(desk, desk.garden().entries)
    notes.append(
        enough(merge(in_use_)) if in_use_ else "It is set aside, as all that is kept, so nothing can be foreseen."
    )
    return Table(f"Read {name}", COLUMNS, (row(record, record.source or name),), tuple(notes))


def send_weather(desk: Desk, name: str, content: bytes, *, station: str, declared: Mapping[str, str]) -> str:
    """Keep the record of a file sent from a page; `declared` are the columns of a table, blank where GHCN-Daily.

    Returns a sentence of what was read. Raises UsageError, DataError; then nothing is kept.
    """
    try:
        is_as_named(name, content)
        options = ReadOptions(name=name or "the file", columns=declared_columns(declared), station=station)
        made = take_weather(desk, content, options)
    except (DataError, UsageError) as err:
        raise type(err)(f"{err} Nothing was kept.") from err
    kept = made.rows[0]
    already = made.notes[0] if made.notes[0].startswith("Just this record") else ""
    aside = "" if kept[-1] == "0" else f" {kept[-1]} lines or values set aside, listed below."
    return f"{made.title}: {kept[3]} days from {kept[1]} to {kept[2]}.{aside} {already} {made.notes[-1]}".replace(
        "  ", " "
    )


def is_as_named(name: str, content: bytes) -> None:
    """DataError where a file sent under `name` is no text, packed or not, by its ending or by its first bytes."""
    ending = name.casefold().rpartition(".")[2] if "." in name else ""
    packed = ending == "gz"
    if packed:
        inner = name[:-3].casefold()
        ending = inner.rpartition(".")[2] if "." in inner else ""
    if ending not in ENDINGS:
        known = ", ".join(f".{word}" for word in ENDINGS if word)
        raise DataError(f"{typed.shown(name)}: a station's file ends in one of {known}, packed (.gz) or not.")
    if packed != content.startswith(_GZIP):
        what = (
            "is not packed, though its name ends in .gz" if packed else "is packed with gzip: let its name end in .gz"
        )
        raise DataError(f"{typed.shown(name)} {what}.")


def declared_columns(said: Mapping[str, str]) -> ColumnMap | None:
    """The columns as a form says them; None where it names none."""
    told = {key: value for key, value in said.items() if value}
    if not {"date", "tmin", "tmax", "rain"} & told.keys():
        return None
    if lacking := [word for key, word in _ASKED.items() if key not in told]:
        raise UsageError(f"Say which column holds {' and '.join(lacking)}: its heading as it stands in the file.")
    told["delimiter"] = {"semicolon": ";", "tab": "\t"}.get(told.get("delimiter", ""), ",")
    if strange := sorted(told.keys() - {f.name for f in fields(ColumnMap)}):
        raise UsageError(f"A table is not described by {typed.shown(strange[0])}.")
    return ColumnMap(**told)  # type: ignore[arg-type]  # each is text; __post_init__ judges it


@dataclass(frozen=True, slots=True)
class KeptRecord:
    """One record as a page shows it."""

    id: str
    name: str
    read: date
    first: date
    last: date
    days: int
    with_both: int
    """Days with low and high."""
    with_rain: int
    aside: tuple[str, ...]
    """What was set aside by rule, with its number."""
    lines: tuple[str, ...]
    """The first lines that were set aside."""
    by_hand: tuple[ByHand, ...]
    out: bool
    """The whole record is set aside by hand."""


def records(desk: Desk) -> tuple[tuple[KeptRecord, ...], str]:
    """Every record kept, the latest first, and what they are enough for ('' where there is none)."""
    kept, entries = desk.store.kept_weather(), desk.garden().entries
    hand = by_hand(entries)
    shown = tuple(
        KeptRecord(
            id=each.id,
            name=each.name or each.record.source,
            read=each.imported.date(),
            first=each.record.first,
            last=each.record.last,
            days=len(each.record),
            with_both=int(np.count_nonzero(~np.isnan(each.record.tmin_c) & ~np.isnan(each.record.tmax_c))),
            with_rain=int(np.count_nonzero(~np.isnan(each.record.rain_mm))),
            aside=counted(refused(each.record)),
            lines=tuple(str(line) for line in refused(each.record)[:MOST_LINES]),
            by_hand=hand.get(each.id, ()),
            out=any(one.first is None for one in hand.get(each.id, ())),
        )
        for each in reversed(kept)
    )
    in_use_ = used(kept, entries)
    return shown, enough(merge(in_use_)) if in_use_ else ""


def weather_kept(desk: Desk) -> Table:
    """Every record that is kept, and what they come to together."""
    kept, entries = desk.store.kept_weather(), desk.garden().entries
    hand = by_hand(entries)
    rows = [row(each.record, _kept_name(each, hand.get(each.id, ()))) for each in kept]
    if not kept:
        note = "None yet. `kailyard weather FILE` reads one; `kailyard weather --help` tells which forms it knows."
        return Table("Weather records", COLUMNS, (), (note,))
    in_use_ = used(kept, entries)
    if not in_use_:
        return Table("Weather records", COLUMNS, tuple(rows), ("All of it is set aside, so nothing can be foreseen.",))
    whole = merge(in_use_)
    if len(kept) > 1 or hand:
        rows.append(row(whole, "together, later ones winning"))
    return Table("Weather records", COLUMNS, tuple(rows), (enough(whole), *asked_lines(doubtful(desk), SHOWN)))


def _kept_name(kept: WeatherImport, hand: Sequence[ByHand]) -> str:
    aside = "; ".join("set aside" if one.first is None else f"{one.first} to {one.last} set aside" for one in hand)
    name = f"{kept.id[:SHORT]}: {kept.name or kept.record.source}, read {kept.imported.date()}"
    return f"{name}; {aside}" if aside else name


def forecast(
    desk: Desk,
    words: Sequence[str],
    *,
    file: str | None = None,
    issued: str | None = None,
    shown: bool = False,
    aside: str | None = None,
    why: str = "",
) -> Table:
    """Keep a forecast, one typed day or a file of them, or without either tell what is kept.

    `shown`: tell instead how right forecasts have been. `aside`: set a fetched one aside.
    """
    if aside is not None or why:
        if words or file is not None or issued is not None or shown or not aside:
            raise UsageError(
                "--aside FORECAST, with --why if you like, sets a fetched forecast aside and takes no other."
            )
        return set_aside(desk, aside, why=why)
    if shown:
        if words or file is not None or issued is not None:
            raise UsageError("--skill tells how right forecasts have been; it takes no forecast.")
        return skill(desk)
    if file is not None and words:
        raise UsageError("Either one day's words or --file, not both.")
    if file is not None:
        return read_forecast_file(desk, file, issued=issued)
    if words:
        return enter_forecast(desk, words, issued=issued)
    if issued is not None:
        raise UsageError("--issued needs a forecast: a day's words or --file.")
    return forecasts_kept(desk)


def enter_forecast(desk: Desk, words: Sequence[str], *, issued: str | None = None) -> Table:
    """Keep one day of a forecast, typed: the day, its lowest and highest temperature, and rain if it says so."""
    garden = desk.garden()
    today = desk.today(garden)
    if len(words) not in (3, 4):
        raise UsageError("forecast: write the day, its low, its high and, if it says so, rain: 2026-06-13 7 21 2mm.")
    ahead = ForecastDay(
        typed.past_day(issued, today, "--issued"),
        typed.day(words[0], today, "DAY"),
        typed.quantity(words[1], "°C", garden.units, "TMIN"),
        typed.quantity(words[2], "°C", garden.units, "TMAX"),
        typed.quantity(words[3], "mm", garden.units, "RAIN") if len(words) == 4 else float("nan"),
    )
    return _keep(desk, garden, (ahead,))


def read_forecast_file(desk: Desk, file: str, *, issued: str | None = None) -> Table:
    """Keep every day of a forecast in a small table, its figures in the garden's units."""
    garden = desk.garden()
    today = desk.today(garden)
    days = read_forecast(
        Path(file),
        issued=typed.past_day(issued, today, "--issued"),
        temperature_unit="F" if garden.units == "us" else "C",
        rain_unit="in" if garden.units == "us" else "mm",
    )
    late = [each for each in days if each.issued > today]
    if late:
        raise DataError(f"{file}: issued {late[0].issued} lies after today, {today}. Nothing was kept.")
    half = [each for each in days if np.isnan(each.tmin_c) or np.isnan(each.tmax_c)]
    if half:
        lacking = ", ".join(str(each.day) for each in half)
        raise DataError(f"{file}: low or high is missing on {lacking}. Fill it in or leave the day out.")
    return _keep(desk, garden, days)


def forecasts_kept(desk: Desk) -> Table:
    """The forecast to believe for each day from today on, typed or fetched."""
    garden = desk.garden()
    rows = tuple((str(d.day), str(d.issued), d.source or "typed", *forecast_cells(d, garden)) for d in believed(desk))
    note = (
        f"The latest issued of a day is believed, at most {len(SKILL_BY_LEAD)} days ahead; `kailyard forecast --skill`."
    )
    notes = (note, *issue_lines(desk, SHOWN))
    return Table("Forecasts of today and later", ("day", "issued", "by", "low", "high", "rain"), rows, notes)


def _keep(desk: Desk, garden: Garden, days: Sequence[ForecastDay]) -> Table:
    entries = [
        desk.entry(
            "forecast",
            happened=each.issued,
            payload={"day": each.day, "tmin_c": each.tmin_c, "tmax_c": each.tmax_c}
            | ({} if np.isnan(each.rain_mm) else {"rain_mm": each.rain_mm}),
        )
        for each in days
    ]
    desk.keep(entries)
    by_handle = handles(desk)
    rows = tuple(_forecast_row(e, garden, by_handle.of(e)) for e in entries)
    note = undo(by_handle.of(entries[0])) if len(entries) == 1 else "Undo one of them: `kailyard withdraw ENTRY`."
    return Table("Forecast entered", ("day", "issued", "low", "high", "rain", "entry"), rows, (note,))


def _forecast_row(entry: Entry, garden: Garden, handle: str) -> tuple[str, ...]:
    low, high = (figure(float(entry.payload[name]), "°C", garden.units) for name in ("tmin_c", "tmax_c"))
    rain = entry.payload.get("rain_mm")
    said = "" if rain is None else figure(float(rain), "mm", garden.units)
    return (str(entry.payload["day"]), str(entry.happened), low, high, said, handle)


def refused(record: DailyRecord) -> tuple[SetAside, ...]:
    """What was set aside of a record, without the marks of what a neighbour lent it."""
    return tuple(a for a in record.set_aside if a.rule not in MARKS)


def row(record: DailyRecord, name: str) -> tuple[str, ...]:
    """A record as a row of `COLUMNS`."""
    both = int(np.count_nonzero(~np.isnan(record.tmin_c) & ~np.isnan(record.tmax_c)))
    rain = int(np.count_nonzero(~np.isnan(record.rain_mm)))
    days = (str(record.first), str(record.last), f"{len(record)}", f"{both}", f"{rain}", f"{len(refused(record))}")
    return (name, *days)


def enough(record: DailyRecord) -> str:
    """What can be said with so many years."""
    years = len(record) / 365.25
    if years < FEWEST_YEARS:
        return (
            f"That is {years:.1f} years: under {FEWEST_YEARS}, no odds are given. Read an older file of the same place."
        )
    return f"That is {years:.0f} years."
