"""Why a line stands on the sheet."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import day, examples

HELP = "Why a line stands on the sheet, down to its sources"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The line's name, and the day of the sheet."""
    parser.add_argument("line", metavar="LINE", help="the name at the line's right, like pick/pea-1")
    parser.add_argument("--on", type=day, metavar="DAY", help="first day of the sheet; else today")
    parser.add_argument("--as-known", type=day, metavar="DAY", help="from what was known at the end of that day")
    examples(parser, "kailyard why pick/garlic-1 --on 2026-06-12")


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The line, opened."""
    from kailyard.desk.ask import why

    return why(desk, args.line, on=args.on, as_known=args.as_known)
