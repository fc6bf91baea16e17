"""Pickings in words, as a page, and there and back."""

from datetime import date

import pytest

from kailyard.documents.picking import (
    Band,
    CropAhead,
    Picking,
    PlantingAhead,
    Week,
    WeighedCrop,
    WeighedPlanting,
)
from kailyard.publish import picked
from kailyard.publish.html import picking as page
from kailyard.publish.text import picking as text

ON = date(2026, 7, 6)


def crop(*, carried, balance=()):
    kg = Band(0.4, 1.25, 2.5)
    return CropAhead(
        crop="bean-bush",
        use="snap",
        produce="snap beans",
        how=("every 2 to 3 days", "once the leaves are dry"),
        uses=("shell, 14 to 21 days later: seeds full", "dry, 28 to 42 days later: pods rattle"),
        weeks=(
            Week(ON, 0.9, "some", Band(0.1, 0.5, 1.0), kg if carried else None),
            Week(date(2026, 7, 13), 0.3, "little", Band(0.0, 0.0, 0.4), Band(0.1, 0.4, 1.0) if carried else None),
            Week(date(2026, 7, 20), 0.0, "", Band(0.0, 0.0, 0.0), Band(0.0, 0.0, 0.0) if carried else None),
        ),
        carried=carried,
        carried_words="In words until it was weighed through in 2 seasons.",
        published="By the handbook's yields this planting would give 2 to 8 kg.",
        wanted_kg=1.0,
        wanted_of="",
        balance=balance,
        plantings=(PlantingAhead("bean-1", "snap beans", "bed 3", "until 20 July", "", "some is left", 0.6, ()),),
        reasons=(),
    )


def document(*crops, units="metric"):
    weighed = WeighedCrop(
        "peas",
        (
            WeighedPlanting(
                "pea-1",
                "Lantern <b>",
                "snap",
                "sown",
                date(2026, 4, 4),
                2026,
                2.0,
                0.5,
                0.25,
                None,
                None,
                "still bearing",
            ),
        ),
        ("‘A’ gave more: the day may be the reason",),
    )
    return Picking("Nether Wold", ON, units, tuple(crops), ("asparagus, bed 9",), (weighed,), ("4000 kg?",))


def test_words_where_weights_do_not_carry_and_kilograms_where_they_do():
    words = text.render(document(crop(carried=False)))
    assert "some" in words
    assert "kg (" not in words
    figures = text.render(document(crop(carried=True)))
    assert "about 1.2 kg (0.4 to 2.5)" in figures or "about 1.3 kg (0.4 to 2.5)" in figures
    assert "about 0.4 kg (0.1 to 1)" in figures


def test_how_and_other_uses_are_sentences_and_weeks_without_anything_are_left_out():
    for said in (text.render(document(crop(carried=False))), page.render(document(crop(carried=False)))):
        assert "Every 2 to 3 days. Once the leaves are dry." in " ".join(said.split())
        assert "Picked for something else: shell, 14 to 21 days later: seeds full. Dry, 28" in " ".join(said.split())
        assert "20 July" not in said.partition("week from")[2].partition("In words")[0]
    assert "‘Lantern <b>’, snap, sown" in " ".join(text.render(document()).split())


def test_a_garden_in_us_units_reads_pounds():
    # NIST SP 811, appendix B.8: 1 lb = 0.45359237 kg; 1 ft = 0.3048 m: 0.5 kg/m² are 0.102 lb/sq ft.
    said = text.render(document(crop(carried=True), units="us"))
    assert "lb" in said
    assert "kg a week" not in said
    heads, rows = picked.weighed_table(document().weighed[0], "us")
    assert "lb/sq ft" in heads
    assert rows[0][heads.index("lb/sq ft")] == "0.1"


def test_questions_gaps_and_what_nobody_can_tell_are_said():
    said = text.render(document(crop(carried=False, balance=("more than you want 6–12 July: 8 in 10",))))
    for part in ("4000 kg?", "asparagus, bed 9", "its gaps cost 40 %", "More than you want 6–12 July", "still bearing"):
        assert part in said


@pytest.mark.parametrize("carried", [True, False])
def test_the_page_draws_the_weeks_and_says_them(carried):
    html = page.render(document(crop(carried=carried)))
    assert html.count("<svg") == 2
    assert 'role="img"' in html
    assert "<b>&quot;" not in html
    assert "Lantern &lt;b&gt;" in html
    assert ("2.5 kg" in html) == carried


def test_nothing_ahead_is_said():
    assert "Nothing that stands is to be picked" in text.render(document())
    assert "Nothing that stands is to be picked" in page.render(document())
