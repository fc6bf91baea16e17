"""One formula at a time."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples

HELP = "Compute one formula, with its source; without a method, list them"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The method and its inputs."""
    parser.add_argument("method", nargs="?", metavar="METHOD", help="which formula; none lists them")
    parser.add_argument(
        "inputs",
        nargs="*",
        metavar="name=value",
        help="inputs by name: 12, 54F, 8,9,10 for a run, @file.csv:column for a run from a file, 20..30/2 for a "
        "teaching table; none tells what it takes",
    )
    examples(
        parser,
        "kailyard reckon",
        "kailyard reckon day_length_h",
        "kailyard reckon single_sine tmin=8 tmax=75F lower=10 upper=30",
        "kailyard reckon hargreaves tmin=10 tmax=20..30/2 latitude=45 day_of_year=196",
    )


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The result with what it rests on."""
    from kailyard.desk.reckon import method, methods, reckon

    if args.method is None:
        return methods()
    return reckon(args.method, args.inputs) if args.inputs else method(args.method)
