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
    assert len(lines) == 11
    for line in lines:
        said = at_demo(*shlex.split(line)[1:])
        assert "Published: " in said or "Common practice: " in said
    # Hargreaves on the day of FAO-56, Example 20: printed 5.0 mm.
    assert re.search(r"^et +5\.0\d* +mm$", at_demo(*shlex.split(lines[0])[1:]), re.M)
    # Calibration table, row C11: 4.2 L on 100 m² are 420 L/ha; row C19: 4.8 m² at 1 lb to 1000 sq ft take 23.44 g.
    assert re.search(r"^rate_a_hectare +420 +L/ha$", at_demo(*shlex.split(lines[2])[1:]), re.M)
    assert re.search(r"^weight +23\.4\d* +g$", at_demo(*shlex.split(lines[4])[1:]), re.M)
