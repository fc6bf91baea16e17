"""The rules of tools/house turn red where they should, and the tree as it stands is green."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from kailyard import discover
from tools.house import shares_page
from tools.house.method_pages import FOLDER, pages
from tools.house.rules import (
    clock_and_chance,
    commands_page,
    decision_notes,
    doors,
    files_and_sockets,
    links,
    long_files,
    machine_paths,
    method_pages,
    silenced_checks,
)
from tools.house.rules import shares_page as shares_rule

ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize("rule", discover.names("tools.house.rules"))
def test_the_tree_keeps_the_rule(rule: str) -> None:
    assert discover.module("tools.house.rules", rule).problems(ROOT) == []


def write(root: Path, name: str, text: str) -> Path:
    file = root / name
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(text, encoding="utf-8")
    return root


@pytest.mark.parametrize(
    "code",
    [
        "from datetime import date\ntoday = date.today()\n",
        "import datetime\ntoday = datetime.date.today()\n",
        "import datetime as dt\nnow = dt.datetime.now(dt.UTC)\n",
        "from datetime import date as day\ntoday = day.today()\n",
        "from datetime import datetime\nmake = datetime.utcnow\n",
        "from dataclasses import field\nfrom datetime import date\nd = field(default_factory=date.today)\n",
        "import time\nt = time.time()\n",
        "from time import monotonic\nt = monotonic()\n",
        "from datetime import date\n\ndef f(when: type[date]):\n    return when.today()\n",
        "import numpy as np\nt = np.datetime64('today')\n",
        "import numpy as np\ng = np.random.default_rng()\n",
        "import numpy as np\nx = np.random.normal()\n",
        "import random\nx = random.random()\n",
        "from uuid import uuid4\nx = uuid4()\n",
    ],
)
@pytest.mark.parametrize("part", ["season", "plan", "garden"])
def test_a_clock_or_unseeded_chance_outside_the_desk_turns_red(tmp_path: Path, part: str, code: str) -> None:
    write(tmp_path, f"src/kailyard/{part}/offends.py", code)
    (problem,) = clock_and_chance.problems(tmp_path)
    assert problem.startswith(f"src/kailyard/{part}/offends.py:")


@pytest.mark.parametrize(
    "code",
    [
        "from datetime import date\nday = date(2026, 6, 12)\n",
        "import numpy as np\ng = np.random.default_rng(7)\n",
        "def f(ensemble):\n    return ensemble.today\n",
    ],
)
def test_a_day_handed_in_and_a_seed_are_green(tmp_path: Path, code: str) -> None:
    assert clock_and_chance.problems(write(tmp_path, "src/kailyard/season/fine.py", code)) == []


@pytest.mark.parametrize("door", ["cli", "web"])
def test_a_door_may_ask_the_desk_for_the_day_and_nobody_else(tmp_path: Path, door: str) -> None:
    asks = "def page(desk):\n    return desk.today(desk.garden())\n"
    write(tmp_path, f"src/kailyard/{door}/fine.py", asks)
    assert clock_and_chance.problems(tmp_path) == []
    write(tmp_path, "src/kailyard/season/offends.py", asks)
    write(tmp_path, f"src/kailyard/{door}/offends.py", "from datetime import date as desk\nday = desk.today()\n")
    assert len(clock_and_chance.problems(tmp_path)) == 2


def test_the_desk_may_ask_the_date(tmp_path: Path) -> None:
    write(tmp_path, "src/kailyard/desk/desk.py", "from datetime import date\ntoday = date.today()\n")
    assert clock_and_chance.problems(tmp_path) == []


@pytest.mark.parametrize(
    "code",
    [
        "text = open('beds.csv')\n",
        "from pathlib import Path\n",
        "import pathlib\n",
        "import os\nhome = os.environ['HOME']\n",
        "import socket\n",
        "from urllib.request import urlopen\n",
        "import sqlite3\n",
        "from sqlalchemy import select\n",
        "import subprocess\n",
        "import numpy as np\nx = np.loadtxt('x.csv')\n",
        "def f(path):\n    return path.read_text()\n",
        "print('hello')\n",
        "from importlib.resources import files\n",
    ],
)
def test_a_file_a_socket_or_a_database_in_the_reasoning_turns_red(tmp_path: Path, code: str) -> None:
    write(tmp_path, "src/kailyard/season/work/offends.py", code)
    problems = files_and_sockets.problems(tmp_path)
    assert problems
    assert all(p.startswith("src/kailyard/season/work/offends.py:") for p in problems)


def test_the_handbook_reads_the_tables_in_the_package_and_nothing_else(tmp_path: Path) -> None:
    code = "from importlib.resources import files\nt = files('k').read_text()\n"
    write(tmp_path, "src/kailyard/handbook/fine.py", code)
    assert files_and_sockets.problems(tmp_path) == []
    write(tmp_path, "src/kailyard/handbook/offends.py", "text = open('crops.csv')\n")
    assert len(files_and_sockets.problems(tmp_path)) == 1


@pytest.mark.parametrize(
    "code",
    [
        "def run(desk, args):\n    return desk.sheet(args.days + 1)\n",
        "def run(desk, args):\n    n = 0\n    n += 1\n    return n\n",
        "from datetime import timedelta\nweek = timedelta(days=7)\n",
        "def run(desk, args):\n    return round(args.temp_c)\n",
        "def run(desk, args):\n    return args.temp_f * 5\n",
    ],
)
def test_arithmetic_in_a_door_turns_red(tmp_path: Path, code: str) -> None:
    write(tmp_path, "src/kailyard/cli/commands/offends.py", code)
    (problem,) = doors.problems(tmp_path)
    assert "Let the desk compute it" in problem


def test_a_file_over_400_lines_turns_red_until_it_is_listed_with_a_reason(tmp_path: Path) -> None:
    write(tmp_path, "src/kailyard/season/long.py", "x = 1\n" * 401)
    assert len(long_files.problems(tmp_path)) == 1
    write(tmp_path, long_files.LISTED, '"src/kailyard/season/long.py" = ""\n')
    assert len(long_files.problems(tmp_path)) == 1
    write(tmp_path, long_files.LISTED, '"src/kailyard/season/long.py" = "one table, read best as one"\n')
    assert long_files.problems(tmp_path) == []
    write(tmp_path, "src/kailyard/season/long.py", "x = 1\n" * 400)
    (problem,) = long_files.problems(tmp_path)
    assert "Take it off the list" in problem


@pytest.mark.parametrize("path", ["ho" "me/ann/garden", "ro" "ot/.venv", "tm" "p/x.html", "wo" "rk/main"])  # fmt: skip
def test_a_path_of_one_machine_turns_red(tmp_path: Path, path: str) -> None:
    write(tmp_path, "docs/page.md", f"Look into /{path} for it.\n")
    (problem,) = machine_paths.problems(tmp_path)
    assert problem.startswith("docs/page.md:1:")


def test_the_same_words_inside_a_longer_path_or_an_address_are_green(tmp_path: Path) -> None:
    write(tmp_path, "docs/page.md", "season/wo" "rk/pick.py, https://example.org/ho" "me/x, ./tm" "p/x\n")  # fmt: skip
    assert machine_paths.problems(tmp_path) == []


@pytest.mark.parametrize(
    "line",
    ["import x  # noqa", "import x  # noqa: F401", "x = 1  # type: ignore", "x = 1  # type: ignore[misc]"],
)
def test_a_check_silenced_without_name_or_reason_turns_red(tmp_path: Path, line: str) -> None:
    write(tmp_path, "src/kailyard/x.py", line + "\n")
    assert len(silenced_checks.problems(tmp_path)) == 1


@pytest.mark.parametrize(
    "line",
    ["import x  # noqa: F401 registers itself", "x = 1  # type: ignore[misc]  # the stub is wrong", "x = 'noqa'"],
)
def test_a_check_silenced_with_name_and_reason_is_green(tmp_path: Path, line: str) -> None:
    write(tmp_path, "src/kailyard/x.py", line + "\n")
    assert silenced_checks.problems(tmp_path) == []


NOTE = "# 0007 Keep tenths\nStatus: accepted, 2026-11-25\nContext: a.\nDecision: b.\nCost: c.\n"


def test_a_decision_note_with_all_its_parts_is_green(tmp_path: Path) -> None:
    assert decision_notes.problems(write(tmp_path, "docs/decisions/0007-keep-tenths.md", NOTE)) == []


@pytest.mark.parametrize(
    ("file", "text"),
    [
        ("0007-keep-tenths.md", NOTE.replace("Cost: c.\n", "")),
        ("0007-keep-tenths.md", NOTE.replace("accepted, 2026-11-25", "accepted")),
        ("0007-keep-tenths.md", NOTE.replace("# 0007", "# 0008")),
        ("0007-keep-tenths.md", NOTE + "more\n" * 60),
        ("tenths.md", NOTE),
    ],
)
def test_a_decision_note_that_lacks_something_turns_red(tmp_path: Path, file: str, text: str) -> None:
    assert decision_notes.problems(write(tmp_path, f"docs/decisions/{file}", text))


def test_two_decision_notes_of_one_number_turn_red(tmp_path: Path) -> None:
    write(tmp_path, "docs/decisions/0007-keep-tenths.md", NOTE)
    write(tmp_path, "docs/decisions/0007-other.md", NOTE)
    (problem,) = decision_notes.problems(tmp_path)
    assert "is taken" in problem


def test_a_link_that_leads_nowhere_turns_red(tmp_path: Path) -> None:
    write(tmp_path, "docs/there.md", "# A heading, `coded`\n")
    write(
        tmp_path,
        "docs/page.md",
        "[a](there.md) [b](there.md#a-heading-coded) [c](https://example.org/x)\n`[d](nowhere.md)`\n"
        "[e](nowhere.md)\n[f](there.md#other)\n![g](../../outside.png)\n",
    )
    assert [p.split(": ")[0] for p in links.problems(tmp_path)] == [f"docs/page.md:{n}" for n in (3, 4, 5)]


def test_a_page_of_commands_that_fell_behind_turns_red(tmp_path: Path) -> None:
    write(tmp_path, "docs/reference/commands.md", "# Commands\n")
    (problem,) = commands_page.problems(tmp_path)
    assert "make docs" in problem


def test_a_page_of_shares_whose_rows_or_use_are_no_longer_so_turns_red(tmp_path: Path) -> None:
    page = (ROOT / shares_page.PAGE).read_text(encoding="utf-8")
    write(tmp_path, shares_page.PAGE, page)
    assert shares_rule.problems(tmp_path) == []
    rows = re.sub(r"\| all \| (\d+) \|", "| all | 12 |", page)
    assert rows != page
    write(tmp_path, shares_page.PAGE, rows)
    (problem,) = shares_rule.problems(tmp_path)
    assert "make docs" in problem
    use = re.sub(r"\| observed \| \d+ % \|", "| observed | 60 % |", page)
    assert use != page
    write(tmp_path, shares_page.PAGE, use)
    assert shares_rule.problems(tmp_path)


def test_a_page_of_a_method_that_is_stale_missing_or_left_over_turns_red(tmp_path: Path) -> None:
    made = pages()
    for name, text in made.items():
        write(tmp_path, name, text)
    assert method_pages.problems(tmp_path) == []
    page = f"{FOLDER}/day_length_h.md"
    write(tmp_path, page, made[page].replace("needed", "perhaps"))
    (tmp_path / f"{FOLDER}/day_length_h.svg").unlink()
    write(tmp_path, f"{FOLDER}/no_such_method.md", "# no_such_method\n")
    assert sorted(problem.partition(":")[0].rpartition("/")[2] for problem in method_pages.problems(tmp_path)) == [
        "day_length_h.md",
        "day_length_h.svg",
        "no_such_method.md",
    ]
