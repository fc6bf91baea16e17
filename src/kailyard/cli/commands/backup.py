"""A copy of the garden."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples

HELP = "Copy the garden to a new folder, known to be whole"


def arguments(parser: argparse.ArgumentParser) -> None:
    """Where to."""
    parser.add_argument("to", metavar="TO", help="the folder to make; it must not exist or be empty")
    examples(parser, "kailyard backup copy-of-june")


def run(desk: Any, args: argparse.Namespace) -> Any:
    """Where it lies."""
    from kailyard.desk.keep import back_up

    return back_up(desk, args.to)
