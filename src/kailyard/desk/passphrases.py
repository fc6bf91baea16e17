"""Whether a passphrase is one that is tried first: made of common words, rows of keys, years and names of this garden.

OWASP ASVS 5.0.0, 6.2.4 asks that the 3000 commonest passwords of the allowed length be refused. No counted list is
shipped. What follows is a rule, with words and phrases written down from memory: a passphrase is common where it is
wholly taken up by few of them. That refuses far more than 3000, and nothing says that it refuses each of the counted
ones.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable

ENOUGH = 3.5
"""A passphrase must cost a guesser so many parts: a word, row, year or repeat is one, a loose letter one and a half,
a small word, loose figure or sign a half. Three words of the list are too few; so is one with a year and a sign."""
_LETTER, _SIGN = 1.5, 0.5
_PHRASES = (
    "correcthorsebatterystaple letmein iloveyou trustno ihateyou iloveu welcome changeme password passwort passphrase "
    "passcode passw letmeinplease openup opensesame abracadabra nevermind whatever forever together foryou fuckyou "
    "iamtheone thisismypassword mypassword newpassword nopassword secretword topsecret godisgood jesuschrist ilovegod "
    "thequickbrownfox loremipsum tobeornottobe maytheforcebewithyou onceuponatime goodmorning happybirthday "
    "merrychristmas happynewyear testing administrator"
)
_SMALL = frozenset(["a", "i", "u", "my", "the", "and", "you", "me", "is", "it", "in", "to", "of", "for", "at", "on"])
_WORDS = (
    "love this that new old big one two three four five six seven eight nine ten "
    "hello secret login admin user guest root test temp master access super man woman boy girl baby angel "
    "lover princess "
    "prince queen king dragon monkey shadow sunshine sun moon star summer winter spring autumn flower rose lily daisy "
    "cookie chocolate cheese banana apple orange lemon cherry pepper ginger honey sugar coffee pizza butter peanut "
    "football baseball basketball soccer hockey golf tennis dancer music guitar piano hunter killer soldier warrior "
    "ninja pirate wizard magic tiger lion eagle falcon hawk wolf bear dolphin horse pony puppy kitty cat dog fish bird "
    "butterfly spider snake rabbit turtle chicken purple yellow green blue red black white silver golden gold "
    "pink brown "
    "happy lucky sweet pretty beautiful crazy funny sexy cool hot cold good bad best great perfect special "
    "michael jessica jennifer ashley daniel matthew anthony joshua andrew thomas robert jordan charlie michelle nicole "
    "amanda samantha hannah maggie buster bailey max oliver george harley jack john james david mary maria anna peter "
    "paul mark jason justin brandon christian alexander william steven richard patrick elizabeth stephanie "
    "mother father mom mum dad mommy daddy sister brother family friend friends grandma children "
    "jesus christ god heaven faith hope peace freedom liberty life world earth water fire ice thunder storm rain snow "
    "sky ocean river mountain forest tree garden gardener kitchen kailyard vegetable tomato potato farm farmer home "
    "house school college computer internet windows server network system phone mobile money dollar business office "
    "manager service company work job monday tuesday wednesday thursday friday saturday sunday january february march "
    "april may june july august september october november december today tomorrow morning night day year time "
    "blink trouble player gamer rock rocker metal heart diamond crystal phoenix rainbow unicorn racer driver car truck "
    "bike biker rider police doctor nurse teacher student captain boss hero legend champion winner power "
    "strong victory "
    "london paris manchester liverpool chelsea united city england ireland scotland canada "
    "first last only never always again please nothing something everything number letter word abc xyz"
)
_ROWS = ("qwertyuiop", "asdfghjkl", "zxcvbnm", "qwertzuiop", "yxcvbnm", "azertyuiop", "abcdefghijklmnopqrstuvwxyz",
         "01234567890123456789", "1qaz2wsx3edc4rfv5tgb6yhn", "q1w2e3r4t5y6u7i8o9p0", "1q2w3e4r5t6y7u8i9o0p",
         "qazwsxedcrfvtgbyhnujm", "zaq1xsw2cde3vfr4", "147258369", "159753", "a1b2c3d4e5f6", "aqswdefrgt", "!@#$%^&*()",
         "11223344556677889900", "112233445566")  # fmt: skip
_COMMON = frozenset(f"{_PHRASES} {_WORDS}".split())
_LONGEST = max(map(len, _COMMON))
_UNDONE = str.maketrans("013457@$!|+8", "oieastasiitb")
"""Figures and signs that stand for letters: 'p4$$w0rd'."""


def too_common(passphrase: str, near: Iterable[str] = ()) -> bool:
    """Whether a passphrase is guessed from common parts. `near`: names that a guesser here would try."""
    said = "".join(unicodedata.normalize("NFKC", passphrase).casefold().split())
    own = {word for name in near for word in re.findall(r"\w{2,}", unicodedata.normalize("NFKC", name).casefold())}
    return _cost(said, own) < ENOUGH


def _cost(said: str, own: set[str]) -> float:
    """Of the cheapest way to make `said` up from common parts."""
    known = _COMMON | own
    longest = max(_LONGEST, *(len(word) for word in own), 0)
    best = [0.0] + [float("inf")] * len(said)
    for end in range(1, len(said) + 1):
        last = said[end - 1]
        best[end] = best[end - 1] + (_LETTER if last.isalpha() and last not in _SMALL else _SIGN)
        for start in range(max(0, end - max(longest, 24)), end - 1):
            part = said[start:end]
            if part in known or part.translate(_UNDONE) in known or _run(part):
                best[end] = min(best[end], best[start] + 1)
            elif part in _SMALL:
                best[end] = min(best[end], best[start] + _SIGN)
            elif said.endswith(part, 0, start):
                best[end] = min(best[end], best[start])  # the same once more costs nothing
    return best[-1]


def _run(part: str) -> bool:
    """A row of keys either way, the same sign over and over, a year."""
    if len(set(part)) == 1:
        return len(part) >= 3
    if len(part) == 4 and part.isdecimal() and part[:2] in ("19", "20"):
        return True
    return len(part) >= 3 and any(part in row or part in row[::-1] for row in _ROWS)
