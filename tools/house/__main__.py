"""`python -m tools.house`: all rules on this checkout; `--write`: write the generated pages instead."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from kailyard import discover
from tools.house import commands_page, method_pages, shares_page


def write(root: Path) -> None:
    """Every page that is made from the code; pictures and pages of methods that are gone are taken away."""
    (root / commands_page.PAGE).write_text(commands_page.page(), encoding="utf-8")
    (root / shares_page.PAGE).write_text(shares_page.page(), encoding="utf-8")
    made = method_pages.pages()
    folder = root / method_pages.FOLDER
    folder.mkdir(parents=True, exist_ok=True)
    for file in folder.iterdir():
        if f"{method_pages.FOLDER}/{file.name}" not in made:
            file.unlink()
    for name, text in made.items():
        (root / name).write_text(text, encoding="utf-8")


def main() -> int:
    """Print every problem; 1 where there is one."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--write", action="store_true", help="write the pages that are made from the code, and end")
    root = Path(__file__).resolve().parents[2]
    if parser.parse_args().write:
        write(root)
        return 0
    found = [line for rule in discover.modules("tools.house.rules") for line in rule.problems(root)]
    print("\n".join(found), file=sys.stderr)
    print(f"{len(discover.names('tools.house.rules'))} house rules, {len(found)} problems")
    return 1 if found else 0


sys.exit(main())
