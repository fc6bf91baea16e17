"""Rules for identifiers and names: what may be typed, what is refused, said in one phrase.

Each `..._problem` returns '' where the text is fit for use, else what is wrong with it. Quotes, emoji and text that
runs from right to left are fine in names; characters that nobody can see or that turn a line round are not.
"""

from __future__ import annotations

import re
import unicodedata

NAME_LENGTH = 80
TEXT_LENGTH = 10_000

_ENTRY_ID = re.compile(r"[A-Za-z0-9][A-Za-z0-9_.-]{0,63}")
_THING_ID = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_KIND = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")
_THING_LENGTH = 40
# Control characters, line and paragraph separators, the overrides that reorder what stands around them, the byte order
# mark, and halves of surrogate pairs, which no file can hold.
_UNSEEN = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff\ud800-\udfff]")
_UNSEEN_IN_TEXT = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ufeff\ud800-\udfff]")


def entry_id_problem(text: str) -> str:
    """An entry's identifier: 1 to 64 letters, digits, '-', '_' or '.', the first a letter or digit."""
    if _ENTRY_ID.fullmatch(text):
        return ""
    return (
        f"{_shown(text)} is no entry identifier: 1 to 64 of A-Z, a-z, 0-9, '-', '_' and '.', not beginning with a sign"
    )


def thing_id_problem(text: str) -> str:
    """A bed's or planting's identifier, such as 'pea-6': it is typed often, so it is short and plain."""
    if _THING_ID.fullmatch(text) and len(text) <= _THING_LENGTH:
        return ""
    return (
        f"{_shown(text)} is no identifier for a bed or planting: up to {_THING_LENGTH} small letters a-z and digits, "
        "words joined by single hyphens, like 'pea-6'"
    )


def kind_problem(text: str, *, what: str = "kind of entry") -> str:
    """The name of a kind of entry, or of another `what` of the same form, known or not."""
    if _KIND.fullmatch(text) and len(text) <= _THING_LENGTH:
        return ""
    return f"{_shown(text)} is no {what}: small letters a-z and digits, words joined by single hyphens"


def name_problem(text: str, *, length: int = NAME_LENGTH) -> str:
    """A name on one line, in any script: not empty, no unseen characters, no blanks at its ends, at most `length`."""
    if not text:
        return "is empty"
    if problem := _unseen_problem(text, _UNSEEN):
        return problem
    if len(text) > length:
        return f"has {len(text)} characters; at most {length}"
    if text != text.strip():
        return "begins or ends with a blank"
    if not unicodedata.is_normalized("NFC", text):
        return "holds accents as separate characters; use the joined form (Unicode NFC)"
    return ""


def text_problem(text: str, *, length: int = TEXT_LENGTH) -> str:
    """Free text: may be empty and have line ends and tabs; no other unseen characters, at most `length`."""
    if len(text) > length:
        return f"has {len(text)} characters; at most {length}"
    return _unseen_problem(text, _UNSEEN_IN_TEXT)


def tidy_name(text: str) -> str:
    """`text` as typed, with blanks at its ends gone, runs of blanks made one, accents joined (Unicode NFC)."""
    return unicodedata.normalize("NFC", " ".join(text.split()))


def require_name(field: str, text: str, *, empty: bool = False) -> None:
    """ValueError saying what is wrong with the name `text` of `field`; `empty`: it may be left out."""
    if (text or not empty) and (problem := name_problem(text)):
        raise ValueError(f"{field} {problem}")


def require_thing_id(field: str, text: str) -> None:
    """ValueError saying what is wrong with the identifier `text` of `field`."""
    if problem := thing_id_problem(text):
        raise ValueError(f"{field}: {problem}")


def _unseen_problem(text: str, pattern: re.Pattern[str]) -> str:
    if found := pattern.search(text):
        return f"holds the unseen character U+{ord(found.group()):04X} at position {found.start() + 1}; type it without"
    return ""


def _shown(text: str) -> str:
    """`text` quoted so that it cannot break the line it is shown in."""
    short = text if len(text) <= 40 else text[:40] + "…"
    return ascii(short) if _UNSEEN.search(short) else f"'{short}'"
