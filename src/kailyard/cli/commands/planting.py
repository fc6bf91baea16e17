"""The plantings."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples, named, written_on

HELP = "List the plantings; plan or enter one, or change what is named of it"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The planting, and what it is."""
    parser.add_argument("planting", nargs="?", metavar="PLANTING", help="its identifier, like pea-6; none lists them")
    parser.add_argument("--over", action="store_true", default=None, help="list those over in earlier years too")
    parser.add_argument("--crop", metavar="CROP", help="crop of the handbook, like bean-bush")
    parser.add_argument("--bed", metavar="BED", help="the bed it stands in; alone: lists what that bed has")
    parser.add_argument(
        "--start",
        choices=("sown", "raised", "bought", "planted"),
        help="sown where it stays, raised under cover, bought as plants, or planted as sets, cloves, tubers, crowns",
    )
    parser.add_argument("--cultivar", metavar="NAME", help="the cultivar's name")
    parser.add_argument("--count", metavar="N", help="plants that are meant to stand")
    parser.add_argument("--rows", metavar="N", help="rows they stand in")
    parser.add_argument("--spacing", metavar="LENGTH", help="in the row: 10cm or 4in; bare is cm, or inches")
    parser.add_argument("--row", metavar="LENGTH", help="between rows: 30cm or 12in; bare is cm, or inches")
    parser.add_argument("--place", metavar="LENGTH", help="where along the bed it begins: 1.2m or 4ft")
    parser.add_argument("--length", metavar="LENGTH", help="how much of the bed it takes; none: the rest of it")
    parser.add_argument("--planned", metavar="DAY", help="the day it is meant to be begun; none takes it back")
    parser.add_argument("--since", metavar="DAY", help="for a perennial: the day it was put in")
    parser.add_argument("--wave", metavar="NAME", help="name that sowings in waves share")
    parser.add_argument("--note", metavar="TEXT", help="anything else")
    parser.add_argument("--remove", action="store_true", default=None, help="strike out one that never was")
    written_on(parser)
    examples(
        parser,
        "kailyard planting",
        "kailyard planting --bed bed-3",
        "kailyard planting bean-20 --crop bean-bush --bed bed-3 --start sown --count 40 --rows 2 --spacing 10cm",
        "kailyard planting bean-20 --place 1.2m --length 1.5m --planned 2026-06-14",
    )


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The list, or the planting as it stands now."""
    from kailyard.desk.plantings import planting

    given = named(
        args,
        *("crop", "bed", "start", "cultivar", "count", "rows", "spacing", "row"),
        *("place", "length", "planned", "since", "wave", "note", "remove", "over"),
    )
    return planting(desk, args.planting, given, on=args.on)
