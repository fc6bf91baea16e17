"""The place's frost, warmth and rain."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import day, examples

HELP = "Odds of frost, length of the season, and this season against the years"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The day, and whether the trend counts."""
    parser.add_argument("--on", type=day, metavar="DAY", help="the day up to which to look; else today")
    parser.add_argument("--without-trend", action="store_true", help="leave past years as they were")
    examples(parser, "kailyard climate", "kailyard climate --on 2026-06-12 --without-trend")


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The climate."""
    from kailyard.desk.ask import climate

    return climate(desk, on=args.on, use_trend=not args.without_trend)
