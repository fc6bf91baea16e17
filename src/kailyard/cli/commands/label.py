"""The labels of products that the gardener owns."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples, named, written_on

HELP = "List the labels of products you own; type one off its label, or change what is named of it"

_TAKES = (
    ("active", "WORDS", "active ingredient as printed"),
    ("registered-in", "PLACE", "state or country whose registration it carries"),
    ("number", "NUMBER", "registration number, or exempt"),
    ("crops", "CROPS", "commas between"),
    ("sites", "SITES", "commas between"),
    ("troubles", "TROUBLES", "commas between"),
    ("rate", "RATE", "3 g/L, 20 mL/L, 0.25 mL/m2, or 'spray to wet'"),
    ("days", "DAYS", "days to picking: 0 is a figure, blank is unknown; or tomato=0, lettuce=1"),
    ("entry", "TIME", "when somebody may go in again: 24 h, 'until dry', or both with a comma"),
    ("most-uses", "N", "most uses in a season; none where the label names none"),
    ("interval", "DAYS", "least days between two uses, or none"),
    ("temp-max", "DEGREES", "not in greater heat, or none"),
    ("temp-min", "DEGREES", "not in greater cold, or none"),
    ("rain-free", "HOURS", "hours without rain, or none"),
    ("wind-max", "WIND", "strongest wind, or none"),
    ("water", "LENGTH", "distance to open water, or none"),
    ("gaps", "GAPS", "days to other actives in both directions: 'oil: after 30, before 30', or none"),
    ("bees", "WORDS", "what it says of bees, or none"),
    ("group", "GROUP", "FRAC M02, IRAC 11A, HRAC 4, or none"),
    ("photograph", "NAME", "name of the picture of the label"),
    ("organic", "YES", "whether it is listed for organic growing: yes or no"),
)


def arguments(parser: argparse.ArgumentParser) -> None:
    """The name, and what stands on the label."""
    parser.add_argument("name", nargs="?", metavar="NAME", help="what you call it; none lists all")
    for name, metavar, says in _TAKES:
        parser.add_argument(f"--{name}", metavar=metavar, help=says)
    parser.add_argument("--remove", action="store_true", default=None, help="put it aside: the product is gone")
    written_on(parser)
    examples(
        parser,
        "kailyard label",
        "kailyard label Mealmute --active sulfur --crops 'squash, cucumber' --troubles 'powdery mildew' --days 0",
        "kailyard label Mealmute --temp-max 32C --gaps 'oil: after 30, before 30' --bees none",
    )


def run(desk: Any, args: argparse.Namespace) -> Any:
    """The list, or the record as it stands now."""
    from kailyard.desk.labels import label

    given = named(args, *(name.replace("-", "_") for name, _, _ in _TAKES), "remove")
    return label(desk, args.name, given, on=args.on)
