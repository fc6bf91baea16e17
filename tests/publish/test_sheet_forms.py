"""The sheet in each form: nothing lost, nothing harmful, legible, and on one printed side."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import Any
from xml.etree import ElementTree

import pytest
from sample import ALL, HOLDS, NEXT, WORK, empty_sheet, long_sheet, sheet

from kailyard.documents.sheet import Sheet
from kailyard.publish import render
from kailyard.publish.html._page import style

HOSTILE = "Pick <script>alert(1)</script> & \"peas\" 'now' 🌱 שלום \x1b[31mred\x07 \u202egnp.exe\u202c \ud800 x\u0000y"


def lines(document: Sheet) -> Iterator[Any]:
    for name in ("holds", "near", "work", "look", "leave", "changed", "next"):
        yield from getattr(document, name)


def spoken(text: str) -> list[str]:
    return re.findall(r"\w+", text)


def in_order(wanted: str, text: str) -> bool:
    """Every word of `wanted`, in its order: in plain text drawings, minutes and names may stand between."""
    rest = iter(spoken(text))
    return all(word in rest for word in spoken(wanted))


def together(wanted: str, text: str) -> bool:
    """The words of `wanted`, one after the other."""
    return f" {' '.join(spoken(wanted))} " in f" {' '.join(spoken(text))} "


def block(name: str, text: str) -> str:
    """The rows of plain text that end with the line's name: no line of the sample takes more than seven."""
    rows = text.splitlines()
    end = min(i for i, row in enumerate(rows) if row.endswith(f" {name}"))
    return "\n".join(rows[max(0, end - 6) : end + 1])


def visible(html: str) -> str:
    body = ElementTree.fromstring(html).find("body")
    assert body is not None
    return " ".join(" ".join(body.itertext()).replace("\u00a0", " ").split())


@pytest.mark.parametrize("document", [sheet(), long_sheet()], ids=["ordinary", "long"])
def test_every_line_is_said_whole_in_each_form(document: Sheet) -> None:
    text, html, made = render(document, "text"), visible(render(document, "html")), render(document, "json")
    for line in lines(document):
        for said in (line.says, line.where, line.detail, line.name, getattr(line, "lost", "")):
            if said:
                assert together(said, html)
                assert together(said, made)
        if line not in document.changed:
            lost = getattr(line, "lost", "")
            assert in_order(
                f"{line.says} {line.where} {line.detail} {lost[:1].upper()}{lost[1:]}", block(line.name, text)
            )
    assert all(in_order(line.says, text) for line in document.changed)


@pytest.mark.parametrize("width", [40, 60, 72, 80, 100])
def test_text_keeps_to_its_width_and_drops_no_line(width: int) -> None:
    text = render(long_sheet(), "text", width=width)
    assert max(map(len, text.splitlines())) <= width
    assert all(in_order(line.says, text) for line in lines(long_sheet()))


def test_holds_come_first_and_sections_keep_their_order() -> None:
    heads = ["Not to be done", "In the next three days", "To do", "To look at", "To be left alone", "What changed"]
    for made in (render(long_sheet(), "text"), visible(render(long_sheet(), "html"))):
        places = [made.index(head) for head in [*heads, "What comes next"]]
        assert places == sorted(places)


def test_empty_sections_are_left_out_but_an_empty_to_do_says_so() -> None:
    for made in (render(empty_sheet(), "text"), visible(render(empty_sheet(), "html"))):
        assert "Nothing needs doing in these days." in made
        assert "Not to be done" not in made
        assert "What comes next" not in made


def test_names_can_be_typed_from_the_text() -> None:
    text = render(long_sheet(), "text")
    assert all(line.name in text for line in lines(long_sheet()))


def test_hostile_words_stay_words() -> None:
    bad = replace(HOLDS[0], says=HOSTILE, where=HOSTILE, detail=HOSTILE, name=HOSTILE)
    document = sheet(garden=HOSTILE, holds=(bad,), near=(bad,), look=(bad,), next=(replace(NEXT[0], says=HOSTILE),))
    html, text = render(document, "html"), render(document, "text")
    assert "<script" not in html
    assert "&lt;script&gt;" in html
    tags = {element.tag for element in ElementTree.fromstring(html).iter()}
    assert "script" not in tags
    for made in (html, text):
        assert not re.search(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069\ud800-\udfff]", made)
        assert "🌱" in made
        assert "שלום" in made


def test_plain_ascii_where_the_terminal_knows_nothing_else() -> None:
    text = render(long_sheet(), "text", ascii_only=True)
    assert text.isascii()
    assert "?" not in text.replace("sound?", "")
    assert "######" in text


@pytest.mark.parametrize("document", ALL, ids=lambda one: one.schema)
def test_a_page_asks_no_host_for_anything(document: Any) -> None:
    html = render(document, "html")
    assert not re.search(r"https?:|//[a-z]|@import|<link|<img|<script|<iframe", re.sub(r"base64,[\w+/=]+", "", html))
    for address in re.findall(r"url\(([^)]{0,30})", html):
        assert address.startswith("data:font/woff2;base64,")


@pytest.mark.parametrize("document", ALL, ids=lambda one: one.schema)
def test_every_drawing_says_itself_and_every_page_is_well_formed(document: Any) -> None:
    root = ElementTree.fromstring(render(document, "html"))
    for drawing in root.iter("svg"):
        if drawing.get("aria-hidden") != "true":
            assert drawing.get("role") == "img"
            assert len(drawing.get("aria-label", "")) > 10


def test_american_gardens_read_fahrenheit_and_inches() -> None:
    text = render(sheet(units="us"), "text")
    assert "high °F" in text
    assert "rain in" in text
    assert re.search(r"high °F +80 ", text)  # 26.8 °C is 80.24 °F (NIST SP 811: 1.8 t + 32)
    assert "0.35" in text  # 9 mm is 0.354 in (NIST SP 811: 25.4 mm)
    html = visible(render(sheet(units="us"), "html"))
    assert "1153 °F·d" in html  # 640.4 °C·d times 1.8


def test_the_same_sheet_gives_the_same_bytes_in_every_form() -> None:
    for form in ("text", "html", "json"):
        assert render(long_sheet(), form) == render(long_sheet(), form)  # type: ignore[arg-type]


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2, 'relative luminance'."""
    parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    red, green, blue = (one / 12.92 if one <= 0.04045 else ((one + 0.055) / 1.055) ** 2.4 for one in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_formula_gives_the_known_extremes() -> None:
    # WCAG 2.2, 'contrast ratio': ranges from 1 to 21
    assert contrast("#ffffff", "#000000") == pytest.approx(21.0)
    assert contrast("#777777", "#777777") == pytest.approx(1.0)


def test_ink_soft_and_mark_are_legible_in_both_themes_and_in_print() -> None:
    # WCAG 2.2, success criterion 1.4.3 (AA): at least 4.5 to 1 for text
    css = re.sub(r"base64,[\w+/=]+", "", style())
    blocks = re.findall(r":root \{[^}]*\}", css)
    themes = [found for block in blocks if (found := dict(re.findall(r"--(\w+): *(#\w{3,6})\b", block)))]
    assert len(themes) == 3, "light, dark and print"
    for theme in themes:
        paper = theme["paper"] if len(theme["paper"]) == 7 else "#" + "".join(2 * sign for sign in theme["paper"][1:])
        for name in ("ink", "soft", "mark"):
            assert contrast(theme[name], paper) >= 4.5, (theme, name)


def pages(pdf: bytes) -> int:
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize(
    "document",
    [sheet(), long_sheet(), sheet(work=WORK[:2]), long_sheet(changed=(), look=()), empty_sheet()],
    ids=["ordinary", "long", "short", "mostly work", "empty"],
)
def test_a_sheet_prints_on_one_side(document: Sheet, paper: str, print_to_pdf: Callable[[str], bytes]) -> None:
    pdf = print_to_pdf(render(document, "html", paper=paper))
    assert pdf.startswith(b"%PDF")
    assert pages(pdf) == 1


def test_text_asks_for_nothing_heavy() -> None:
    code = (
        "import sys; sys.path.insert(0, 'tests/publish')\n"
        "from sample import sheet; from kailyard.publish import render; render(sheet(), 'text')\n"
        "print(sorted({'jinja2', 'numpy', 'msgspec', 'sqlalchemy', 'alembic', 'scipy'} & set(sys.modules)))"
    )
    root = __file__.rpartition("/tests/")[0]
    done = subprocess.run([sys.executable, "-c", code], cwd=root, check=True, capture_output=True, text=True)
    assert done.stdout.strip() == "[]"


def test_json_is_one_line_of_utf8_that_any_reader_takes() -> None:
    made = render(long_sheet(), "json")
    assert made.count("\n") == 1
    assert json.loads(made)["schema"] == "kailyard.sheet/1"
