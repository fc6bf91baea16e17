"""A garden from an exported file."""  # noqa: N999 a command is called as its file

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples, into_folder

HELP = "Make a garden anew from an exported file, never over one that exists"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The file, and where the garden shall lie."""
    parser.add_argument("file", metavar="FILE", help="the file that `kailyard export` wrote")
    into_folder(parser, says="the folder to make, as --garden; it must not exist or be empty")
    examples(parser, "kailyard import exported.json imported-garden")


def run(desk: Any, args: argparse.Namespace) -> Any:
    """What is there."""
    from kailyard.desk.keep import import_

    return import_(desk, args.file)
