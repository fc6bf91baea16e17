"""The garden's name, place and habits of measure."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples, named

HELP = "Show the garden's name, place and units, or put one of them right"


def arguments(parser: argparse.ArgumentParser) -> None:
    """Every setting; what is not named stays."""
    parser.add_argument("--name", metavar="NAME", help="what the garden is called")
    parser.add_argument("--lat", dest="latitude", metavar="DEGREES", help="degrees north, south negative")
    parser.add_argument("--lon", dest="longitude", metavar="DEGREES", help="degrees east, west negative")
    parser.add_argument("--elevation", metavar="HEIGHT", help="above the sea: 120, 120m or 400ft")
    parser.add_argument("--zone", dest="timezone", metavar="NAME", help="time zone, like America/Chicago")
    parser.add_argument("--units", choices=("metric", "us"), help="metric, or us for °F and inches")
    parser.add_argument("--offset", metavar="DEGREES", help="its cold nights less the station's: -1.5 in a hollow")
    examples(parser, "kailyard garden", "kailyard garden --offset -1.5C", "kailyard garden --units us")


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The settings, as they are or as changed."""
    from kailyard.desk.new import change_garden, garden_settings

    given = named(args, "name", "latitude", "longitude", "elevation", "timezone", "units", "offset")
    return change_garden(desk, given) if given else garden_settings(desk)
