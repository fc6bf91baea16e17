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
        "inputs", nargs="*", metavar="name=value", help="inputs, each by name; none tells what it takes"
    )
    examples(
        parser,
        "kailyard reckon",
        "kailyard reckon day_length_h",
        "kailyard reckon single_sine_degree_days tmin_c=8 tmax_c=75F lower_c=10 upper_c=30",
    )


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The result with what it rests on."""
    from kailyard.desk.reckon import method, methods, reckon

    if args.method is None:
        return methods()
    return reckon(args.method, args.inputs) if args.inputs else method(args.method)
