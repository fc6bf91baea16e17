"""`python -m tools.house`: all rules on this checkout; `--write`: write the generated pages first."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from kailyard import discover
from tools.house import commands_page


def main() -> int:
    """Print every problem; 1 where there is one."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--write", action="store_true", help="write docs/reference/commands.md and end")
    root = Path(__file__).resolve().parents[2]
    if parser.parse_args().write:
        (root / commands_page.PAGE).write_text(commands_page.page(), encoding="utf-8")
        return 0
    found = [line for rule in discover.modules("tools.house.rules") for line in rule.problems(root)]
    print("\n".join(found), file=sys.stderr)
    print(f"{len(discover.names('tools.house.rules'))} house rules, {len(found)} problems")
    return 1 if found else 0


sys.exit(main())
