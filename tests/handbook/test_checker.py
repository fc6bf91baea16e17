"""The checker finds each kind of bad row, and all of them at once. One good folder is spoilt in one way a test."""

from __future__ import annotations

from pathlib import Path

import pytest

from kailyard.handbook.load import check_handbook

FACTS = "subject,quantity,value,unit,status,source,locator,note"
LEGS = "subject,from_stage,to_stage,order,quantity,value,unit,status,source,locator,note"
PEA = [
    "pea,common_name,Pea,,common practice,,trade rule,",
    "pea,depth_cm_max,5,cm,published,BOOK,Table 1,",
    "pea,depth_cm_min,2.5,cm,published,BOOK,Table 1,",
    "pea,germ_max_soil_c,29.4,°C,published,BOOK,Table 2,",
    "pea,kill_c,-6.7,°C,memory,,recalled,",
    "pea,min_soil_to_set_or_sow_c,7,°C,common practice,,trade rule,",
    "pea,verb,Pick,,common practice,,trade rule,",
]
LEG = [
    "pea,sown,first-harvest,1,base_c,4.4,°C,published,BOOK,Table 3,",
    "pea,sown,first-harvest,1,degree_days_high,700,°C·d,published,BOOK,Table 3,",
    "pea,sown,first-harvest,1,degree_days_low,690,°C·d,published,BOOK,Table 3,",
    "pea,sown,first-harvest,1,driver,air,,published,BOOK,Table 3,",
    "pea,sown,first-harvest,1,response,linear,,published,BOOK,Table 3,First: the only one.",
]


def lay_out(folder: Path, facts: list[str] = PEA, legs: list[str] = LEG) -> Path:
    for name in ("crops", "development", "plants", "uses", "water", "work"):
        (folder / name).mkdir()
    (folder / "crops/pea.csv").write_text("\n".join([FACTS, *facts]) + "\n", encoding="utf-8")
    (folder / "development/pea.csv").write_text("\n".join([LEGS, *legs]) + "\n", encoding="utf-8")
    (folder / "sources.toml").write_text('[BOOK]\ntext = "A. Writer 1990. A book"\n', encoding="utf-8")
    return folder


def swapped(rows: list[str], old: str, new: str) -> list[str]:
    """The rows with the one that begins with `old` put otherwise; '' takes it out."""
    assert sum(row.startswith(old) for row in rows) == 1
    return [new if row.startswith(old) else row for row in rows if new or not row.startswith(old)]


def test_a_sound_folder_has_nothing_wrong(tmp_path: Path) -> None:
    assert check_handbook(lay_out(tmp_path)) == ()


@pytest.mark.parametrize(
    ("old", "new", "line", "says"),
    [
        ("pea,kill_c", "pea,kill_c,-6.7,°C,published,FAO65,Table 1,", 6, "source 'FAO65' is not in sources.toml"),
        ("pea,kill_c", "pea,kill_c,-6.7,°F,memory,,recalled,", 6, "unit '°F'; it must be '°C'"),
        ("pea,verb", "pea,verb,Pick,d,common practice,,trade rule,", 8, "must be empty"),
        ("pea,kill_c", "pea,kill_c,cold,°C,memory,,recalled,", 6, "'cold' is not a number"),
        ("pea,kill_c", 'pea,kill_c,"-6,7",°C,memory,,recalled,', 6, "decimal point, not a comma"),
        ("pea,kill_c", "pea,kill_c,,°C,memory,,recalled,", 6, "Leave out the row where nothing is known"),
        ("pea,kill_c", "pea,kill_c,nan,°C,memory,,recalled,", 6, "'nan' is not a number"),
        ("pea,kill_c", "pea,kill_c,-6.7,°C,hearsay,,recalled,", 6, "status 'hearsay'"),
        ("pea,kill_c", "pea,kill_c,-6.7,°C,yours,,recalled,", 6, "only in a gardener's own facts"),
        ("pea,kill_c", "pea,kill_c,-6.7,°C,memory,,,", 6, "no locator"),
        ("pea,kill_c", "pea,kill_c,-6.7,°C,published,,Table 1,", 6, "published, but no source"),
        ("pea,kill_c", "pea,kill_c,-67,°C,memory,,recalled,", 6, "-67 lies outside -45 to 2"),
        ("pea,kill_c", "pea,killing_c,-6.7,°C,memory,,recalled,", 6, "unknown quantity 'killing_c'"),
        ("pea,kill_c", "pea,kill_c,-6.7,°C,memory", 6, "5 cells where the header has 8"),
        ("pea,verb", "zinnia,kill_c,-6.7,°C,memory,,recalled,", 8, "subject 'zinnia' in the file of another crop"),
        ("pea,kill_c", "pea,kill_c,-6.7,°C,memory,,recalled,bell\a", 6, "note is padded, unprintable"),
        ("pea,verb", "pea,verb,Grab,,common practice,,trade rule,", 8, "'Grab' is none of: Pick, Lift, Cut"),
        (
            "pea,depth_cm_max",
            "pea,depth_cm_max,1,cm,published,BOOK,Table 1,",
            3,
            "depth_cm_min 2.5 is above depth_cm_max 1",
        ),
        (
            "pea,min_soil",
            "pea,min_soil_to_set_or_sow_c,30,°C,common practice,,trade rule,",
            5,
            "min_soil_to_set_or_sow_c 30 is above germ_max_soil_c 29.4",
        ),
        ("pea,kill_c", "pea,germ_max_soil_c,30,°C,memory,,recalled,", 6, "stands twice, first at crops/pea.csv:5"),
        ("pea,kill_c", "pea,bed_cm_min,5,cm,memory,,recalled,", 6, "Rows are sorted"),
    ],
)
def test_finds_a_bad_fact(tmp_path: Path, old: str, new: str, line: int, says: str) -> None:
    problems = check_handbook(lay_out(tmp_path, facts=swapped(PEA, old, new)))
    assert len(problems) == 1, problems
    assert problems[0].startswith(f"crops/pea.csv:{line}: ")
    assert says in problems[0]


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("pea,sown,first-harvest,1,base_c", "", "response linear needs base_c"),
        (
            "pea,sown,first-harvest,1,response",
            "pea,sown,first-harvest,1,response,capped,,published,BOOK,Table 3,",
            "response capped needs opt_low_c",
        ),
        (
            "pea,sown,first-harvest,1,response",
            "pea,sown,first-harvest,1,response,none,,published,BOOK,Table 3,",
            "degree-days without a response",
        ),
        (
            "pea,sown,first-harvest,1,response",
            "pea,sown,first-harvest,1,response,base-unknown,,published,BOOK,Table 3,",
            "is none of: linear",
        ),
        ("pea,sown,first-harvest,1,response", "", "no row 'response'"),
        ("pea,sown,first-harvest,1,driver", "", "no row 'driver'"),
        ("pea,sown,first-harvest,1,degree_days_low", "", "degree_days has one end only"),
        (
            "pea,sown,first-harvest,1,degree_days_high",
            "pea,sown,first-harvest,1,degree_days_high,70,°C·d,published,BOOK,Table 3,",
            "degree_days_low 690 is above degree_days_high 70",
        ),
        (
            "pea,sown,first-harvest,1,driver",
            "pea,sown,first-harvest,x,driver,air,,published,BOOK,Table 3,",
            "order 'x' is not a whole number",
        ),
        (
            "pea,sown,first-harvest,1,driver",
            "pea,sown,first-harvest,1,degree_days_low,690,°C·d,published,BOOK,Table 3,",
            "stands twice",
        ),
    ],
)
def test_finds_a_bad_leg(tmp_path: Path, old: str, new: str, says: str) -> None:
    problems = check_handbook(lay_out(tmp_path, legs=swapped(LEG, old, new)))
    assert any(says in p and p.startswith("development/pea.csv:") for p in problems), problems


def test_finds_an_unknown_stage_a_gap_in_the_orders_and_a_useless_leg_put_first(tmp_path: Path) -> None:
    strange = [row.replace("first-harvest", "picked") for row in LEG]
    (tmp_path / "a").mkdir()
    assert any("unknown stage 'picked'" in p for p in check_handbook(lay_out(tmp_path / "a", legs=strange)))
    late = [row.replace("first-harvest,1", "first-harvest,2") for row in LEG]
    (tmp_path / "b").mkdir()
    assert any("orders are [2]" in p for p in check_handbook(lay_out(tmp_path / "b", legs=late)))
    bare = [row for row in LEG if "degree_days" not in row]
    (tmp_path / "c").mkdir()
    assert any("Give it the highest order" in p for p in check_handbook(lay_out(tmp_path / "c", legs=[*bare, *late])))


def test_finds_legs_of_a_crop_without_facts(tmp_path: Path) -> None:
    folder = lay_out(tmp_path)
    text = "\n".join([LEGS, *(row.replace("pea,", "bean,") for row in LEG)]) + "\n"
    (folder / "development/bean.csv").write_text(text, encoding="utf-8")
    problems = check_handbook(folder)
    assert len(problems) == len(LEG)
    assert all("'bean' has legs but no facts" in p for p in problems)


def test_reports_every_bad_row_of_every_file_at_once(tmp_path: Path) -> None:
    facts = [
        "pea,common_name,Pea,,common practice,,,",
        "pea,depth_cm_max,500,cm,published,NOBODY,Table 1,",
        "pea,depth_cm_min,deep,cm,published,BOOK,Table 1,",
        "pea,kill_c,-6.7,°F,rumour,,recalled,",
        "pea,verb,Grab,kg,common practice,,trade rule,",
    ]
    problems = check_handbook(lay_out(tmp_path, facts=facts, legs=LEG[1:]))
    places = [":".join(p.split(":")[:2]) for p in problems]
    assert {f"crops/pea.csv:{line}" for line in (2, 3, 4, 5, 6)} <= set(places)
    assert any(place.startswith("development/pea.csv") for place in places)
    assert places.count("crops/pea.csv:3") == 2
    assert places.count("crops/pea.csv:6") == 2


def test_names_missing_folders_bad_headers_and_bad_sources(tmp_path: Path) -> None:
    folder = lay_out(tmp_path)
    (folder / "work").rmdir()
    (folder / "crops/pea.csv").write_text("crop,what\npea,kill_c\n", encoding="utf-8")
    (folder / "sources.toml").write_text("[BOOK]\nauthor = 1\n", encoding="utf-8")
    found = "\n".join(check_handbook(folder))
    assert "work/: the folder of the table 'work' is missing" in found
    assert "crops/pea.csv:1: the header is 'crop,what'" in found
    assert "sources.toml: [BOOK] needs text" in found


@pytest.mark.parametrize("content", [b"", b"\x00\x01\x02", b"\xff\xfe\x00p", b'"' + b"x" * 200_000, b'a"b"c,"\n'])
def test_hostile_tables_are_named_not_crashed_on(tmp_path: Path, content: bytes) -> None:
    folder = lay_out(tmp_path)
    (folder / "crops/pea.csv").write_bytes(content)
    problems = check_handbook(folder)
    assert any(p.startswith("crops/pea.csv:") for p in problems)
