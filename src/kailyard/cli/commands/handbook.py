"""The facts about crops."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import day, examples

HELP = "Check the handbook, show what it knows of a crop, or list the facts most worth finding"


def arguments(parser: argparse.ArgumentParser) -> None:
    """What to do with it."""
    below = parser.add_subparsers(dest="what", required=True, metavar="check | show | gaps", help="what to do with it")
    below.add_parser("check", help="judge every row, your own included; each bad one by file and line")
    shown = below.add_parser("show", help="every value of a crop with its status and source")
    shown.add_argument(
        "crop", nargs="?", metavar="CROP", help="the crop, or the word its kinds begin with; none lists them"
    )
    shown.add_argument("quantity", nargs="?", metavar="QUANTITY", help="one quantity, its ground written out")
    gaps = below.add_parser("gaps", help="the facts most worth finding: weak ground, many lines of sheets, a wide span")
    gaps.add_argument("--on", type=day, metavar="DAY", help="first day of the sheet; else today")
    examples(
        parser,
        "kailyard handbook check",
        "kailyard handbook show",
        "kailyard handbook show tomato",
        "kailyard handbook show pea frost",
        "kailyard handbook gaps --on 2026-06-12",
    )


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The table asked for."""
    from kailyard.desk.facts import check, crops, gaps, show

    if args.what == "check":
        return check(desk)
    if args.what == "gaps":
        return gaps(desk, on=args.on)
    return crops(desk) if args.crop is None else show(desk, args.crop, args.quantity)
