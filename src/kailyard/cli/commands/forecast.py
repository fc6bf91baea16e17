"""A forecast, typed or from a file."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples

HELP = "Enter a forecast: one day typed, or a small table; without either, tell what is kept"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The day and its figures, or a file."""
    parser.add_argument(
        "words", nargs="*", metavar="DAY LOW HIGH RAIN", help="2026-06-13 7 21 2mm; rain may be left out"
    )
    parser.add_argument("--file", metavar="FILE", help="table with day, tmin, tmax, rain in the garden's units")
    parser.add_argument("--issued", metavar="DAY", help="the day it was issued; else today")
    parser.add_argument("--skill", action="store_true", help="tell how right forecasts have been here")
    parser.add_argument("--aside", metavar="FORECAST", help="set a fetched one aside: kept, not used; its first signs")
    parser.add_argument("--why", default="", metavar="WORDS", help="with --aside: what is wrong with it")
    examples(
        parser,
        "kailyard forecast",
        "kailyard forecast 2026-06-13 2 21 0mm",
        "kailyard forecast tomorrow 36F 70F --issued today",
        "kailyard forecast --file forecast.csv",
        "kailyard forecast --skill",
    )


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The forecast as kept."""
    from kailyard.desk.weather import forecast

    return forecast(
        desk, args.words, file=args.file, issued=args.issued, shown=args.skill, aside=args.aside, why=args.why
    )
