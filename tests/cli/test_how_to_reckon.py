"""docs/how-to/reckon.md, typed as it stands."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

from keyboard import Keyboard

PAGE = Path(__file__).parents[2] / "docs/how-to/reckon.md"


def test_every_command_of_the_page_answers(at_demo: Keyboard, tmp_path: Path) -> None:
    (tmp_path / "days.csv").write_text("day,low,high\n2026-06-01,8,75\n2026-06-02,,80\n", encoding="utf-8")
    lines = [
        line
        for block in re.findall(r"^```sh\n(.*?)^```", PAGE.read_text(encoding="utf-8"), re.M | re.S)
        for line in block.splitlines()
    ]
    assert len(lines) == 5
    for line in lines:
        said = at_demo(*shlex.split(line)[1:])
        assert "Published: " in said
    # Hargreaves on the day of FAO-56, Example 20: printed 5.0 mm.
    assert re.search(r"^et +5\.0\d* +mm$", at_demo(*shlex.split(lines[0])[1:]), re.M)
