"""One round through the beds, in walking order."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import day, examples

HELP = "One round through the beds: what to look for, where on the plant, from how many on it is worth acting"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The day."""
    parser.add_argument("--on", type=day, metavar="DAY", help="as foreseen on that day; else today")
    examples(
        parser,
        "kailyard scout",
        "kailyard scout --on 2026-07-10",
    )


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The round."""
    from kailyard.desk.scout import round_of

    return round_of(desk, on=args.on)
