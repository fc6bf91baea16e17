"""A second station."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import a_number, examples

HELP = "Fill or continue the garden's record from a neighbouring station, or take the mean of both"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The neighbour's file, and the share of the own station where the mean is wanted."""
    parser.add_argument("file", metavar="FILE", help="the neighbour's record, as for `kailyard weather`")
    parser.add_argument("--columns", metavar="WORDS", help="which column is what, and units, as for `kailyard weather`")
    parser.add_argument("--station", default="", metavar="ID", help="which station, where the file holds several")
    parser.add_argument(
        "--weight",
        type=a_number,
        metavar="SHARE",
        help="take the mean of both, the own station counting so much of 1; else own days stand and gaps are filled",
    )
    examples(parser, 'kailyard neighbour station.csv --columns "date=day; tmin=low; tmax=high; rain=rain"')


def run(desk: Any, args: argparse.Namespace) -> Any:
    """How the two differ, and what was filled."""
    from kailyard.desk.stations import lay_beside

    return lay_beside(desk, args.file, columns=args.columns, station=args.station, weight=args.weight)
