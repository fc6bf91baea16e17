"""When each bed wants water next, how much, and how long with what there is."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import day, examples

HELP = "When each bed wants water next, with odds; how much and how long; litres used beside a fixed habit"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The day."""
    parser.add_argument("--on", type=day, metavar="DAY", help="the day from which to look; else today")
    parser.add_argument("--as-known", type=day, metavar="DAY", help="from what was known at the end of that day")
    examples(parser, "kailyard water", "kailyard water --on 2026-06-12")


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The water."""
    from kailyard.desk.water import water

    return water(desk, on=args.on, as_known=args.as_known)
