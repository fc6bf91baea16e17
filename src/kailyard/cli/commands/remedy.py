"""What may be done about a trouble."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples

HELP = "What may be done about a trouble of a planting, prevention first, leaving it alone among it"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The planting, the trouble, and what is not possible here."""
    parser.add_argument("planting", metavar="PLANTING", help="its identifier, like zucchini-1")
    parser.add_argument(
        "trouble", nargs="?", metavar="TROUBLE", help="like powdery-mildew-cucurbit; else the last found"
    )
    parser.add_argument(
        "--not-possible",
        action="append",
        default=[],
        metavar="STEP",
        help="a step that cannot be taken here; may be repeated",
    )
    parser.add_argument(
        "--count", choices=("above", "below", "undecided"), default="", help="what a count against the threshold showed"
    )
    examples(
        parser, "kailyard remedy squash-1 powdery-mildew-cucurbit", "kailyard remedy squash-1 squash-bug --count below"
    )


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The options."""
    from kailyard.desk.remedies import remedy

    return remedy(desk, args.planting, args.trouble, not_possible=args.not_possible, count=args.count)
