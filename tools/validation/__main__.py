"""`python -m tools.validation [NAME ...]`: print the named tables, else all."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from kailyard import discover

REGISTER = "tools.validation"


def main() -> int:
    """Print the tables one after another, each as it comes."""
    there = discover.names(REGISTER)
    parser = argparse.ArgumentParser(prog=f"python -m {REGISTER}", description=__doc__)
    parser.add_argument("name", nargs="*", choices=[*there, []], metavar="NAME", help=", ".join(there))
    names = parser.parse_args().name or there
    shared = Path(__file__).resolve().parents[3] / "shared"
    if not shared.is_dir():
        print("The tables need the reference folder ../shared beside the checkout; it is not there.", file=sys.stderr)
        return 1
    for name in names:
        table = discover.module(REGISTER, name)
        print(f"\n{table.TITLE}\n")
        for line in table.lines(shared):
            print(line, flush=True)
    return 0


sys.exit(main())
