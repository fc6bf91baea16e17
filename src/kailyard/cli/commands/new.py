"""A garden of one's own."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples, into_folder

HELP = "Make a garden of your own"


def arguments(parser: argparse.ArgumentParser) -> None:
    """Name, place and habits of measure."""
    parser.add_argument("name", metavar="NAME", help="what the garden is called")
    into_folder(parser, says="the folder to make it in, as --garden")
    parser.add_argument("--lat", required=True, metavar="DEGREES", help="degrees north, south negative")
    parser.add_argument("--lon", required=True, metavar="DEGREES", help="degrees east, west negative")
    parser.add_argument("--elevation", metavar="HEIGHT", help="above the sea: 120, 120m or 400ft")
    parser.add_argument("--zone", metavar="NAME", help="time zone, like America/Chicago; else UTC")
    parser.add_argument("--units", choices=("metric", "us"), default="metric", help="metric, or us for °F and inches")
    parser.add_argument("--offset", metavar="DEGREES", help="its cold nights less the station's: -1.5 in a hollow")
    examples(
        parser,
        'kailyard new "Our garden" our-garden --lat 42.95 --lon -87.90 --zone America/Chicago',
        'kailyard --garden hollow new "The Hollow" --lat 51.2 --lon 3.7 --elevation 12m --offset -1.5C',
    )


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The new garden, and what to do next."""
    from kailyard.desk.new import new_garden

    return new_garden(
        desk,
        name=args.name,
        latitude=args.lat,
        longitude=args.lon,
        elevation=args.elevation,
        timezone=args.zone,
        units=args.units,
        offset=args.offset,
    )
