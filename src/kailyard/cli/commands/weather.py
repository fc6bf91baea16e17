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
    examples(
        parser,
        "kailyard weather",
        'kailyard weather station.csv --columns "date=day; tmin=low; tmax=high; rain=rain"',
    )


def run(desk: Any, args: argparse.Namespace) -> Any:
    """What was read and what was set aside."""
    from kailyard.desk.weather import weather

    return weather(desk, args.file, columns=args.columns, station=args.station)
