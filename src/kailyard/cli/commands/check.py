"""Whether a product may be put on."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples

HELP = "Whether a labelled product may be put on a planting: may, not now, never or unknown, with every reason"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The label, the planting, when, and what was seen on the spot."""
    parser.add_argument("label", metavar="LABEL", help="name of a label record; `kailyard label` lists them")
    parser.add_argument("planting", metavar="PLANTING", help="its identifier, like zucchini-1")
    parser.add_argument("--on", metavar="DAY", help="the day: 2026-07-16, tomorrow; else today")
    parser.add_argument("--at", metavar="TIME", help="the hour: 18:00; else the best of the day")
    parser.add_argument("--against", metavar="TROUBLE", help="like powdery-mildew-cucurbit; else the last found")
    parser.add_argument(
        "--seen",
        action="append",
        default=[],
        metavar="KEY=YES",
        help="what was seen on the spot, for the next two hours: leaf-dry=yes; repeat it",
    )
    parser.add_argument("--walk", metavar="WALK", help="your own walk with the sprayer: '4.2 L on 100 m2'")
    examples(
        parser,
        "kailyard check Mealmute squash-1 --on tomorrow --at 17:00",
        "kailyard check Mealmute squash-1 --seen leaf-dry=yes",
    )


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The verdict."""
    from kailyard.desk.check import check

    return check(
        desk, args.label, args.planting, on=args.on, at=args.at, against=args.against, seen=args.seen, walk=args.walk
    )
