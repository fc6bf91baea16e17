"""Hours of weather."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples

HELP = "Tell the hours of some days as they are known, or read an hourly file"


def arguments(parser: argparse.ArgumentParser) -> None:
    """A day, or a file and what it does not say itself."""
    parser.add_argument("day", nargs="?", metavar="DAY", help="first day to tell; else today")
    parser.add_argument("--days", metavar="N", help="how many days, 1 to 16; else 2")
    parser.add_argument("--file", metavar="FILE", help="read this table of hours")
    parser.add_argument(
        "--columns",
        metavar="WORDS",
        help="which column is what, units and clock: 'time=when; zone=UTC; temperature=temp; temperature_unit=F'",
    )
    parser.add_argument(
        "--as-days", action="store_true", help="keep the days that the hours make as a record too, midnight to midnight"
    )
    examples(
        parser,
        "kailyard hours",
        "kailyard hours tomorrow --days 1",
        'kailyard hours --file hours.csv --columns "time=when; zone=+01:00; temperature=temp; wind=w; wind_unit=km/h"',
    )


def run(desk: Any, args: argparse.Namespace) -> Any:
    """What was read, or the hours."""
    from kailyard.desk.hours import hours_file, hours_told

    if args.file:
        return hours_file(desk, args.file, args.columns, as_days=args.as_days)
    return hours_told(desk, args.day, args.days)
