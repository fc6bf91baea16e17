"""The whole garden as one file."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples

HELP = "Write the whole garden as one documented JSON file"


def arguments(parser: argparse.ArgumentParser) -> None:
    """Where to."""
    parser.add_argument("file", metavar="FILE", help="the file to write; it must not exist")
    examples(parser, "kailyard export our-garden.json")


def run(desk: Any, args: argparse.Namespace) -> Any:
    """Where it lies."""
    from kailyard.desk.keep import export

    return export(desk, args.file)
