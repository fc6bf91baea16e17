"""Passphrases that are tried first are refused wherever one is set; those that people are told to make are taken."""

from __future__ import annotations

import pytest
from browsing import PASSPHRASE, Browser
from hypothesis import given
from hypothesis import strategies as st

from kailyard.desk.desk import Desk
from kailyard.desk.passphrases import too_common
from kailyard.desk.serving import add_person, new_passphrase
from kailyard.errors import UsageError

# From memory: the shapes that published lists of leaked passwords (for one, R. Miessler's SecLists,
# 'Common-Credentials') are full of at 12 characters and more: rows of figures and keys, a word twice, two words, a word
# with a year or with 1234, letters put as figures.
TRIED_FIRST = [
    "123456789012", "1234567890123456", "111111111111", "121212121212", "987654321098", "123123123123", "112233445566",
    "qwertyuiop123", "qwertyuiop[]12", "qwerty123456", "asdfghjkl123", "1qaz2wsx3edc", "1q2w3e4r5t6y", "zxcvbnm12345",
    "password1234", "passwordpassword", "Password2024", "P@ssw0rd1234", "p@$$w0rd2024!", "passw0rd12345",
    "password123!",
    "iloveyou1234", "iloveyouforever", "ilovemymother", "iloveyou2012", "letmein12345", "letmeinplease", "welcome12345",
    "Welcome2024!", "changeme1234", "administrator", "administrator1", "superman1234", "dragonmonkey",
    "sunshine2020", "princess1234", "football1234", "liverpool2005", "manchesterunited", "dragondragon",
    "charlie12345", "michaeljordan", "jessica12345", "thisismypassword", "trustno1trustno1", "abcdefghijkl",
    "abcdefgh1234", "a1b2c3d4e5f6", "aaaaaaaaaaaa", "blink182blink182", "correct horse battery staple", "Summer2024!!",
    "qazwsxedcrfv", "monkey monkey", "1234qwerasdf", "computer12345", "chocolate123", "butterfly1234", "happybirthday",
]  # fmt: skip
FINE = [
    PASSPHRASE,
    "dewberry lathe ounce",
    "wet Tuesday kazoo gravel",
    "8531 9024 7716",
    "xkV9-pq2L-0ssm",
    "ünï cödé  passphrase 🌱",
    "einsam Kürbis Treppe Quark",
]


@pytest.mark.parametrize("said", TRIED_FIRST)
def test_what_is_tried_first_will_not_do(said: str) -> None:
    assert len(said) >= 12
    assert too_common(said)
    assert too_common(said.upper())


@pytest.mark.parametrize("said", FINE)
def test_words_that_mean_nothing_together_will_do(said: str) -> None:
    assert not too_common(said, ["Idony", "Lanthorn Garth teaching garden"])


@pytest.mark.parametrize("said", ["LanthornGarth1", "lanthorn-garth", "Idony*Lanthorn", "garth garth garth"])
def test_names_of_the_garden_and_of_the_person_are_common_here_only(said: str) -> None:
    near = ["Idony", "Lanthorn Garth teaching garden"]
    assert too_common(said, near)
    assert not too_common(said) or said.startswith("garth")


@given(st.text(max_size=200), st.lists(st.text(max_size=80), max_size=3))
def test_any_text_is_judged(said: str, near: list[str]) -> None:
    assert too_common(said, near) in (True, False)


def test_it_is_asked_wherever_a_passphrase_is_set(lan: Browser) -> None:
    lan.come_in()
    common = "lanthorn garth"  # of the garden's name
    for wish in ({"wish": "add", "name": "Wenna"}, {"wish": "change", "old": PASSPHRASE}):
        answer = lan.send("/people", at="/people", passphrase=common, **wish)
        assert answer.status_code == 400
        assert "tried first" in answer.text
    desk = Desk(lan.folder, clock=lan.clock)
    for set_ in (lambda: add_person(desk, "Wenna", common), lambda: new_passphrase(desk, "Perrin", common)):
        with pytest.raises(UsageError, match="tried first"):
            set_()
    desk.close()
