"""When the weather favours diseases of what stands."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import day, examples

HELP = "When the weather favours diseases of what stands in the beds, by published rules"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The day."""
    parser.add_argument("--on", type=day, metavar="DAY", help="as foreseen on that day; else today")
    examples(parser, "kailyard risk", "kailyard risk --on 2026-07-10")


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The risks."""
    from kailyard.desk.risk import risks

    return risks(desk, on=args.on)
