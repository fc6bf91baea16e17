"""One line for the daybook."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples, written_on

HELP = "Enter in the daybook what was done, seen, picked or measured"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The kind, what it speaks of, and its words."""
    parser.add_argument("kind", nargs="?", metavar="KIND", help="kind of entry, like sow, stage, pick; none lists them")
    parser.add_argument(
        "words",
        nargs="*",
        metavar="WORD",
        help="planting or bed, then its words in any order, or name=value; 1.2kg, 0.4in, 55F are turned into SI",
    )
    written_on(parser)
    parser.add_argument("--text", default="", metavar="TEXT", help="anything more, in your own words")
    parser.add_argument("--puts-right", default="", metavar="ENTRY", help="the entry that this one takes the place of")
    examples(
        parser,
        "kailyard enter",
        "kailyard enter stage pea-1 first-flower --on yesterday",
        "kailyard enter stage tomato-1 first-harvest not-yet",
        "kailyard enter pick zucchini-1 1.2kg",
        "kailyard enter pick head-1 12 heads last",
        "kailyard enter hurt bean-1 frost 60% killed=30%",
        "kailyard enter rain 7mm",
        "kailyard enter air-temperature -1.5 12",
        "kailyard enter look pea-2 sound next-look=2026-06-20",
        'kailyard enter note bed-3 "Mulched with straw."',
        "kailyard enter decide pick/garlic-1 not-yet until=2026-06-20",
    )


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The entry as kept."""
    from kailyard.desk.record import enter, kinds_of_entry

    if args.kind is None:
        return kinds_of_entry(desk)
    return enter(desk, args.kind, args.words, on=args.on, text=args.text, puts_right=args.puts_right)
