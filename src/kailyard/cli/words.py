"""What several commands share: `type=` functions for argparse, options of one meaning, examples under the help."""

from __future__ import annotations

import argparse
from datetime import date
from typing import Any

from kailyard.errors import UsageError


def day(text: str) -> date:
    """A day written as year, month, day.

    Raises
    ------
    UsageError
        If `text` is no such day.
    """
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise UsageError(f"'{text}' is no day. Write year, month, day, like 2026-06-12.") from None


def a_number(text: str) -> float:
    """A finite number with a decimal point.

    Raises
    ------
    UsageError
        If `text` is no number.
    """
    try:
        number = float(text)
    except ValueError:
        number = float("nan")
    if number in (float("inf"), float("-inf")) or number != number:
        raise UsageError(f"'{text}' is no number. Write it like 12 or 0.5.")
    return number


def named(args: argparse.Namespace, *names: str) -> dict[str, Any]:
    """Those of the arguments `names` that were given on the command line."""
    return {name: value for name in names if (value := getattr(args, name)) is not None}


def written_on(parser: argparse.ArgumentParser) -> None:
    """The day on which something happened."""
    parser.add_argument("--on", metavar="DAY", help="the day it happened: 2026-06-12, today, yesterday; else today")


def into_folder(parser: argparse.ArgumentParser, *, says: str) -> None:
    """The folder of a garden to be made, as a word of its own; it stands for `--garden`."""
    parser.add_argument("garden", nargs="?", metavar="DIR", default=argparse.SUPPRESS, help=says)


def examples(parser: argparse.ArgumentParser, *lines: str) -> None:
    """Lines shown under the help, as they are typed."""
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.epilog = "\n".join(["examples:", *(f"  {line}" for line in lines)])
