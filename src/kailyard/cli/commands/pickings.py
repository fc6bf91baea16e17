"""What will be picked, week by week, and what was weighed."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import day, examples

HELP = "What will be picked week by week, how and when to pick it, and what was weighed"


def arguments(parser: argparse.ArgumentParser) -> None:
    """One crop, and the day."""
    parser.add_argument("crop", nargs="?", default="", metavar="CROP", help="one crop by its key; else all")
    parser.add_argument("--on", type=day, metavar="DAY", help="as foreseen on that day; else today")
    examples(parser, "kailyard pickings", "kailyard pickings bean-bush --on 2026-07-10")


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The pickings."""
    from kailyard.desk.picking import picking

    return picking(desk, crop=args.crop, on=args.on)
