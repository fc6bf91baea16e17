"""The station's record."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples

HELP = "Read a station's daily file; without one, tell what is kept"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The file, and what it does not say itself."""
    parser.add_argument("file", nargs="?", metavar="FILE", help="GHCN-Daily in any of its forms, or any daily table")
    parser.add_argument(
        "--columns",
        metavar="WORDS",
        help="which column is what, and units: 'date=day; tmin=low; tmax=high; rain=rain; temperature_unit=F'",
    )
    parser.add_argument("--station", default="", metavar="ID", help="which station, where the file holds several")
    parser.add_argument(
        "--aside", metavar="RECORD", help="set a record aside: kept, not used; its first signs in the list"
    )
    parser.add_argument(
        "--leave", metavar="RECORD", help="say that doubtful days of a record are right: not asked about again"
    )
    parser.add_argument("--first", metavar="DAY", help="with --aside or --leave: only its days from this one")
    parser.add_argument("--last", metavar="DAY", help="with --aside or --leave: to this one")
    parser.add_argument("--why", metavar="WORDS", help="with --aside or --leave: in your own words")
    examples(
        parser,
        "kailyard weather",
        'kailyard weather station.csv --columns "date=day; tmin=low; tmax=high; rain=rain"',
    )


def run(desk: Any, args: argparse.Namespace) -> Any:
    """What was read and what was set aside."""
    from kailyard.desk.weather import weather

    said = {"record": args.aside, "left": args.leave, "first": args.first, "last": args.last, "why": args.why}
    aside = {word: value for word, value in said.items() if value is not None}
    return weather(desk, args.file, columns=args.columns, station=args.station, aside=aside)
