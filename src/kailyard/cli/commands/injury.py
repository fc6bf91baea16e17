"""The record of an injury by what may be a herbicide."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples

HELP = "The record of an injury by what may be a herbicide, with the weather of the days before"


def arguments(parser: argparse.ArgumentParser) -> None:
    """What was hit."""
    parser.add_argument("of", nargs="?", metavar="PLANTING", help="a planting or bed; else the last there is")
    examples(parser, "kailyard injury", "kailyard injury tomato-1", "kailyard injury tomato-1 --html injury.html")


def run(desk: Any, args: argparse.Namespace) -> Any:
    """What was entered, what the weather record has, what is still worth doing."""
    from kailyard.desk.injury import injury

    return injury(desk, args.of)
