"""Whether the garden is sound."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples

HELP = "Look for everything wrong or odd in what is kept"


def arguments(parser: argparse.ArgumentParser) -> None:
    """Whether to mend the tables."""
    parser.add_argument(
        "--rebuild", action="store_true", help="make the tables of beds, cultivars and plantings anew from the daybook"
    )
    examples(parser, "kailyard verify", "kailyard verify --rebuild")


def run(desk: Any, args: argparse.Namespace) -> Any:
    """What was found."""
    from kailyard.desk.keep import verify

    return verify(desk, rebuild=args.rebuild)
