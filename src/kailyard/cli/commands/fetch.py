"""Weather from a service."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples

HELP = "Fetch a forecast or a record from a weather service; without one, list the services and what each is sent"


def arguments(parser: argparse.ArgumentParser) -> None:
    """The service, and what it needs to know."""
    parser.add_argument("service", nargs="?", metavar="SERVICE", help="its name, as the list has it")
    parser.add_argument("--station", default="", metavar="ID", help="which station, where the service has stations")
    parser.add_argument("--since", metavar="YEAR", help="first year of a record; else 1940")
    parser.add_argument(
        "--agree", action="store_true", help="you agree that what was told is sent; said once for each service"
    )
    examples(
        parser,
        "kailyard fetch",
        "kailyard fetch open-meteo",
        "kailyard fetch open-meteo --agree",
        "kailyard fetch noaa-daily --station USW00014839 --since 1980",
    )


def run(desk: Any, args: argparse.Namespace) -> Any:
    """What came and was kept, or what would be sent."""
    from kailyard.desk.fetch import fetch

    return fetch(desk, args.service, station=args.station, since=args.since, agreed=args.agree)
