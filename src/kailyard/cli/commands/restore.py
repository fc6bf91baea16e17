"""A garden from its backup."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples, into_folder

HELP = "Make a garden anew from a backup, never over one that exists"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The backup, and where the garden shall lie."""
    parser.add_argument("source", metavar="FROM", help="the folder that `kailyard backup` made")
    into_folder(parser, says="the folder to make, as --garden; it must not exist or be empty")
    examples(parser, "kailyard restore copy-of-june garden-again")


def run(desk: Any, args: argparse.Namespace) -> Any:
    """What is there again."""
    from kailyard.desk.keep import restore

    return restore(desk, args.source)
