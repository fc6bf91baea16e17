"""The beds."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples, named, written_on

HELP = "List the beds; make one, or change what is named of it"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The bed, and its measures."""
    parser.add_argument("bed", nargs="?", metavar="BED", help="its identifier, like bed-3; none lists them all")
    parser.add_argument("--length", metavar="LENGTH", help="of the long side: 3.6, 3.6m, 12ft; of a round bed across")
    parser.add_argument("--width", metavar="LENGTH", help="of the short side")
    parser.add_argument("--height", metavar="LENGTH", help="above the paths; 0 is flat")
    parser.add_argument("--bearing", metavar="DEGREES", help="of the long side, clockwise from north: 90 is east-west")
    parser.add_argument("--at", metavar="EAST,NORTH", help="the bed's middle from the garden's own origin: 4.5,2")
    parser.add_argument("--soil", metavar="WORDS", help="what soil it has")
    parser.add_argument("--cover", choices=("none", "fleece", "tunnel", "glass"), help="what stands over it")
    parser.add_argument("--name", metavar="NAME", help="what the sheet calls it; else its identifier")
    parser.add_argument("--round", action=argparse.BooleanOptionalAction, help="whether it is round")
    parser.add_argument("--perennial", action=argparse.BooleanOptionalAction, help="whether it holds perennials")
    parser.add_argument("--remove", action="store_true", default=None, help="it is no more")
    written_on(parser)
    examples(
        parser,
        "kailyard bed",
        "kailyard bed bed-20 --length 3.6 --width 1.2 --height 30cm --bearing 90 --at 4.5,2",
        'kailyard bed bed-3 --soil "loam, limed 2025" --cover fleece',
        "kailyard bed well-bed --round --length 8ft",
    )


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The list, or the bed as it stands now."""
    from kailyard.desk.beds import bed

    given = named(
        args, "length", "width", "height", "bearing", "at", "soil", "cover", "name", "round", "perennial", "remove"
    )
    return bed(desk, args.bed, given, on=args.on)
