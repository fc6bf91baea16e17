"""What is printed is cleaned sign by sign; the short way for what is printable all through alters nothing of that."""

from __future__ import annotations

import sys
import unicodedata

from kailyard.publish.words import clean


def test_every_printable_sign_stays_and_none_that_steers_is_printable() -> None:
    # Unicode, general categories: Cc and Cf steer, Cs cannot be written, Zl and Zp part lines.
    for code in range(33, sys.maxunicode + 1):
        sign = chr(code)
        if sign.isprintable():
            assert clean(sign) == sign, hex(code)
        elif unicodedata.category(sign) in ("Cc", "Cf", "Zl", "Zp", "Cs") and sign not in "\u200c\u200d":
            assert sign not in clean(f"a{sign}b"), hex(code)


def test_blanks_of_any_sort_become_one() -> None:
    assert clean("  7 \u00a0 °C\u202f\n and  more ") == "7 °C and more"
