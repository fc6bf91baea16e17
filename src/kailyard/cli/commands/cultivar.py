"""The cultivars."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples, named, written_on

HELP = "List the cultivars; enter one from its packet, or change what is named of it"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The crop, the name, and what the packet says."""
    parser.add_argument("crop", nargs="?", metavar="CROP", help="crop of the handbook, like bean-bush; none lists all")
    parser.add_argument("name", nargs="?", metavar="NAME", help="the cultivar's name; none lists those of the crop")
    parser.add_argument("--days", metavar="N", help="days to maturity; none takes them back")
    parser.add_argument(
        "--from",
        dest="days_from",
        choices=("sown", "set-out", "planted", "first-flower"),
        help="from what the days count",
    )
    parser.add_argument(
        "--counted-here",
        action=argparse.BooleanOptionalAction,
        help="whether the days were counted in this garden, not printed on a packet",
    )
    parser.add_argument("--resists", metavar="CODES", help="resistance codes, commas between: F,N")
    parser.add_argument("--habit", metavar="WORDS", help="bush, climbing, ...")
    parser.add_argument("--remove", action="store_true", default=None, help="put it aside")
    written_on(parser)
    examples(
        parser,
        "kailyard cultivar",
        "kailyard cultivar bean-bush Bellwether --days 55 --from sown --resists F,N --habit bush",
        "kailyard cultivar bean-bush Bellwether --days 58 --counted-here",
    )


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The list, or the cultivar as it stands now."""
    from kailyard.desk.cultivars import cultivar

    given = named(args, "days", "days_from", "counted_here", "resists", "habit", "remove")
    return cultivar(desk, args.crop, args.name, given, on=args.on)
