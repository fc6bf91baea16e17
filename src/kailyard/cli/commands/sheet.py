"""What the garden asks for in the coming days."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import day, examples

HELP = "What the garden asks for in the coming days, on one side of paper"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The day, how many days, and what was known."""
    parser.add_argument("--on", type=day, metavar="DAY", help="first day of the sheet; else today")
    parser.add_argument("--days", type=int, default=7, metavar="N", help="how many days it holds; else 7")
    parser.add_argument("--whole", action="store_true", help="every line, not only what one side of paper holds")
    parser.add_argument("--as-known", type=day, metavar="DAY", help="from what was known at the end of that day")
    parser.add_argument("--without-trend", action="store_true", help="leave past years as they were")
    examples(
        parser, "kailyard sheet", "kailyard sheet --on 2026-06-12 --days 10", "kailyard sheet --as-known 2026-05-01"
    )


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The sheet."""
    from kailyard.desk.ask import sheet

    return sheet(
        desk,
        on=args.on,
        days=args.days,
        as_known=args.as_known,
        use_trend=not args.without_trend,
        whole=args.whole,
    )
