"""What a trouble may be, from what was seen."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples

HELP = "What a trouble may be, from plain answers; what to look at next"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The planting, the answers, and what is to be kept."""
    parser.add_argument("planting", nargs="?", metavar="PLANTING", help="its identifier; none lists every sign")
    parser.add_argument("signs", nargs="*", metavar="SIGN=ANSWER", help="with yes, no or ?; a bare sign says yes")
    parser.add_argument("--seen", metavar="DAY", help="the day it was first seen: how long samples are worth taking")
    parser.add_argument("--found", metavar="TROUBLE", help="keep it as found, with these answers")
    parser.add_argument("--settled", action="store_true", help="with --found: a test or somebody who knows settled it")
    examples(
        parser,
        "kailyard diagnose",
        "kailyard diagnose zucchini-1",
        "kailyard diagnose zucchini-1 white-powder-upper=yes old-leaves-first=yes web=no frass=?",
        "kailyard diagnose zucchini-1 white-powder-upper --found powdery-mildew-cucurbit",
    )


def run(desk: Any, args: argparse.Namespace) -> Any:
    """Causes with their ranges, or the entry as kept."""
    from kailyard.desk.diagnose import diagnose, keep_found, read_answers, signs_table

    if args.planting is None:
        return signs_table()
    if args.found:
        answers = read_answers(args.signs)
        return keep_found(desk, args.planting, args.found, answers, settled=args.settled, seen=args.seen)
    return diagnose(desk, args.planting, args.signs, seen=args.seen)
