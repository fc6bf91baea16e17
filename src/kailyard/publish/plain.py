"""Setting plain text: widths as a terminal shows them, wrapping, columns, and odds drawn in characters."""

from __future__ import annotations

import unicodedata
from collections.abc import Sequence

from kailyard.publish.axis import Axis

DENSITY = " ·░▒▓█"
DENSITY_ASCII = " .:-=#"
HEIGHT = " ▁▂▃▄▅▆▇█"
HEIGHT_ASCII = " ._-=+*%#"
_PLAIN = str.maketrans(
    {"°": "deg ", "–": "-", "—": "-", "−": "-", "’": "'", "‘": "'", "“": '"', "”": '"', "·": ".", "×": "x", "…": "...",
     "≥": ">=", "≤": "<=", "²": "2", "³": "3", "½": "1/2", "¼": "1/4", "¾": "3/4", "µ": "u", "ß": "ss", "æ": "ae",
     "ø": "o", "±": "+/-", **dict(zip(DENSITY + HEIGHT, DENSITY_ASCII + HEIGHT_ASCII, strict=True))}
)  # fmt: skip


def shown_width(text: str) -> int:
    """Columns that `text` takes in a terminal: wide signs two, combining ones none."""
    if text.isascii():
        return len(text)
    return sum(_sign_width(sign) for sign in text)


def _sign_width(sign: str) -> int:
    if unicodedata.combining(sign) or unicodedata.category(sign) in ("Mn", "Me", "Cf"):
        return 0
    return 2 if unicodedata.east_asian_width(sign) in "WF" else 1


def wrap(text: str, width: int) -> list[str]:
    """`text` (already clean) in rows of at most `width` columns; a word too long is broken. At least one row."""
    rows: list[str] = []
    row, used = "", 0
    for whole in text.split():
        word = whole
        size = shown_width(word)
        if row and used + 1 + size <= width:
            row, used = f"{row} {word}", used + 1 + size
            continue
        if row:
            rows.append(row)
        while size > width:
            head = _head(word, width)
            rows.append(head)
            word = word[len(head) :]
            size = shown_width(word)
        row, used = word, size
    return [*rows, row] if row or not rows else rows


def _head(word: str, width: int) -> str:
    used = 0
    for i, sign in enumerate(word):
        used += _sign_width(sign)
        if used > width and i:
            return word[:i]
    return word


def left(text: str, width: int) -> str:
    """`text` filled with blanks on its right to `width` columns."""
    return text + " " * (width - shown_width(text))


def right(text: str, width: int) -> str:
    """`text` filled with blanks on its left to `width` columns."""
    return " " * (width - shown_width(text)) + text


def block(text: str, width: int, *, first: str = "", rest: str | None = None) -> list[str]:
    """`text` wrapped to `width` behind `first` on the first row and `rest` (else blanks) on the others."""
    indent = shown_width(first)
    rest = " " * indent if rest is None else rest
    return [(rest if i else first) + row for i, row in enumerate(wrap(text, max(8, width - indent)))]


def with_end(rows: list[str], end: str, width: int) -> list[str]:
    """`rows` with `end` set at the right edge of the last row, or on rows of its own where there is no room."""
    if not end:
        return rows
    if rows and shown_width(rows[-1]) + 2 + shown_width(end) <= width:
        return [*rows[:-1], left(rows[-1], width - shown_width(end)) + end]
    return [*rows, *(right(row, width) for row in wrap(end, width))]


def density(axis: Axis, chances: Sequence[float], per_sign: int = 2) -> str:
    """Chances as a row of signs, one for `per_sign` days, the darker the surer. Sure and never are exact."""
    signs = []
    for i in range(0, axis.days, per_sign):
        some = chances[i : i + per_sign]
        mean = sum(some) / len(some)
        signs.append(DENSITY[0 if mean < 0.02 else min(5, 1 + int(mean * 5))])
    return "".join(signs)


def heights(axis: Axis, chances: Sequence[float], columns: int) -> str:
    """Chances as a small hill, `columns` wide; the peak stands for the likeliest days."""
    sums = [0.0] * columns
    for i, chance in enumerate(chances):
        sums[i * columns // axis.days] += chance
    top = max(sums, default=0.0)
    if top <= 0:
        return " " * columns
    return "".join(HEIGHT[0 if one < 0.02 * top else max(1, round(8 * one / top))] for one in sums)


def ruler(axis: Axis, columns: int) -> str:
    """The axis's dates above a row of `columns` signs; each label begins at its own day."""
    row = ""
    for place, label in axis.ticks():
        column = place * columns // axis.days
        if column >= shown_width(row) + (1 if row else 0) and column + len(label) <= columns:
            row = left(row, column) + label
    return left(row, columns)


def finish(rows: Sequence[str], *, ascii_only: bool) -> str:
    """The rows as one text without blanks at their ends; plain ASCII where asked."""
    text = "\n".join(row.rstrip() for row in rows).strip("\n") + "\n"
    if not ascii_only:
        return text
    text = text.replace("°C·d", "C-days").replace("°F·d", "F-days").replace("°C", "C").replace("°F", "F")
    text = unicodedata.normalize("NFKD", text.translate(_PLAIN))
    return "".join(sign for sign in text if not unicodedata.combining(sign)).encode("ascii", "replace").decode()


def table(columns: Sequence[str], rows: Sequence[Sequence[str]], width: int) -> list[str]:
    """Aligned columns with a thin rule under the heads; figures to the right, words wrapped to fit `width`."""
    count = len(columns)
    cells = [[clip(row[i] if i < len(row) else "") for i in range(count)] for row in rows]
    numeric = [is_numeric([row[i] for row in cells]) for i in range(count)]
    sizes = [max([shown_width(columns[i]), *(shown_width(row[i]) for row in cells)]) for i in range(count)]
    room = width - 2 * (count - 1)
    while sum(sizes) > room and max(sizes) > 4:
        sizes[sizes.index(max(sizes))] -= 1
    if sum(sizes) > room:
        return _stacked(columns, cells, width)
    out = _row(columns, sizes, numeric)
    out.append("  ".join("-" * size for size in sizes))
    for row in cells:
        out += _row(row, sizes, numeric)
    return out


def clip(text: str) -> str:
    """A cell's text, or a dash where there is none."""
    return text or "–"


def is_numeric(cells: Sequence[str]) -> bool:
    """Whether a column ('–' where a cell is empty) holds figures, which stand to the right."""
    said = [cell for cell in cells if cell != "–"]
    return bool(said) and all(cell[0] in "0123456789−-+" and cell[-1].isdigit() for cell in said)


def _row(cells: Sequence[str], sizes: Sequence[int], numeric: Sequence[bool]) -> list[str]:
    wrapped = [wrap(cell, size) for cell, size in zip(cells, sizes, strict=True)]
    height = max(len(rows) for rows in wrapped)
    out = []
    for i in range(height):
        parts = [
            (right if number else left)(rows[i] if i < len(rows) else "", size)
            for rows, size, number in zip(wrapped, sizes, numeric, strict=True)
        ]
        out.append("  ".join(parts))
    return out


def _stacked(columns: Sequence[str], cells: Sequence[Sequence[str]], width: int) -> list[str]:
    out: list[str] = []
    for row in cells:
        for name, cell in zip(columns, row, strict=True):
            out += block(f"{name}: {cell}" if name else cell, width)
        out.append("")
    return out
