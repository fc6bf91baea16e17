"""`python -m tools.oldest`: pip constraints for the oldest dependencies that pyproject.toml allows."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path


def oldest(project: str) -> list[str]:
    """`name==version` for each dependency at run time, from its lower bound."""
    dependencies: list[str] = tomllib.loads(project)["project"]["dependencies"]
    return [re.sub(r"^([\w.-]+)\s*>=\s*([\w.]+).*?(;.*)?$", r"\1==\2\3", line) for line in dependencies]


if __name__ == "__main__":
    print("\n".join(oldest((Path(__file__).parents[1] / "pyproject.toml").read_text(encoding="utf-8"))))
