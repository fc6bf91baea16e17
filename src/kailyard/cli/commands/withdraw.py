"""A mistake in the daybook."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples

HELP = "Withdraw an entry: it was a mistake and nothing takes its place"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The entry, and why."""
    parser.add_argument("entry", metavar="ENTRY", help="its identifier, or so much of its end as tells it apart")
    parser.add_argument("--text", default="", metavar="TEXT", help="why, in your own words")
    examples(parser, 'kailyard withdraw 2026-06-11-stage-garlic-1 --text "It was the other bed."')


def run(desk: Any, args: argparse.Namespace) -> Any:
    """What is withdrawn."""
    from kailyard.desk.withdraw import withdraw

    return withdraw(desk, args.entry, text=args.text)
