"""Asking an hourly record every rule of `hour_rules`: bad hours are set aside, doubtful ones asked about."""

from __future__ import annotations

from dataclasses import replace
from types import ModuleType

import numpy as np

from kailyard.discover import modules
from kailyard.weather.hours import HOUR, HOUR_WORDS, HourlyRecord
from kailyard.weather.judging import Doubt, Found
from kailyard.weather.record import SetAside, read_only


def hour_rules() -> tuple[ModuleType, ...]:
    """All rules of hours, in order of file name."""
    return modules("kailyard.weather.hour_rules")


def set_bad_hours_aside(record: HourlyRecord, *, file: str = "") -> HourlyRecord:
    """The record without the values that a rule is sure of; each is named in `set_aside`."""
    found = [(rule, each) for rule in hour_rules() for each in rule.finds(record) if each.sure]
    if not found:
        return record
    columns = {name: np.array(values) for name, values in record.columns.items()}
    for _, each in found:
        for name in each.elements:
            columns[name][each.at : each.at + each.days] = np.nan
    aside = tuple(_line(record, rule, each, file) for rule, each in found)
    kept = {name: read_only(values) for name, values in columns.items()}
    return replace(record, **kept, set_aside=(*record.set_aside, *aside))  # type: ignore[arg-type]  # columns by name


def hour_doubts(record: HourlyRecord) -> tuple[Doubt, ...]:
    """What a rule is not sure of: kept and used, for the gardener to look at."""
    return tuple(
        Doubt(
            (record.first + each.at * HOUR).date(),
            (record.first + (each.at + each.days - 1) * HOUR).date(),
            _says(record, each),
            rule.NAME,
        )
        for rule in hour_rules()
        for each in rule.finds(record)
        if not each.sure
    )


def _line(record: HourlyRecord, rule: ModuleType, each: Found, file: str) -> SetAside:
    return SetAside(0, (record.first + each.at * HOUR).date(), _says(record, each), rule.NAME, file)


def _says(record: HourlyRecord, each: Found) -> str:
    begins = record.first + each.at * HOUR
    many = f" for {each.days} hours" if each.days > 1 else ""
    return f"{' and '.join(HOUR_WORDS[e] for e in each.elements)} from {begins:%H:%M} UTC{many}: {each.says}"
