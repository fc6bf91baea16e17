"""The demo garden."""

from __future__ import annotations

import argparse
from typing import Any

from kailyard.cli.words import examples, into_folder

HELP = "Write the demo garden, print its sheet and say what to try next"


def arguments(parser: argparse.ArgumentParser) -> None:
    """Where to."""
    into_folder(parser, says="the folder to make it in, as --garden; never over a garden that exists")
    examples(parser, "kailyard demo another-demo")


def run(desk: Any, args: argparse.Namespace) -> Any:
    """Its sheet, and what to try next."""
    from kailyard.desk.first_look import first_look

    return first_look(desk)
