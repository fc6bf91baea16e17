"""A planting's stages, seen and foreseen."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import day, examples

HELP = "A planting's stages, seen and foreseen, with odds"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The planting, and the day."""
    parser.add_argument("planting", metavar="PLANTING", help="its identifier, like pea-1")
    parser.add_argument("--on", type=day, metavar="DAY", help="the day from which to look; else today")
    parser.add_argument("--as-known", type=day, metavar="DAY", help="from what was known at the end of that day")
    examples(parser, "kailyard stages tomato-1", "kailyard stages garlic-1 --on 2026-06-12")


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The planting's life."""
    from kailyard.desk.ask import stages

    return stages(desk, args.planting, on=args.on, as_known=args.as_known)
