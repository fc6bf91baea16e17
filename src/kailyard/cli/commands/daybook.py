"""The daybook, read."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import day, examples

HELP = "Read the daybook: entries in order, newest last"


def arguments(parser: argparse.ArgumentParser) -> None:
    """What to look for."""
    parser.add_argument("--planting", "--bed", dest="target", metavar="ID", help="entries of one planting or bed")
    parser.add_argument("--kind", metavar="KIND", help="entries of one kind")
    parser.add_argument("--since", type=day, metavar="DAY", help="from that day on")
    parser.add_argument("--until", type=day, metavar="DAY", help="up to that day")
    parser.add_argument("--find", metavar="TEXT", help="entries in which the text stands")
    parser.add_argument("--most", type=int, default=40, metavar="N", help="so many of the last ones; else 40")
    examples(
        parser,
        "kailyard daybook --since 2026-06-01",
        "kailyard daybook --planting garlic-1 --kind stage",
        "kailyard daybook --find frost --most 10",
    )


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The entries that fit."""
    from kailyard.desk.daybook import daybook

    return daybook(
        desk,
        target=args.target,
        kind_name=args.kind,
        since=args.since,
        until=args.until,
        find=args.find,
        most=args.most,
    )
