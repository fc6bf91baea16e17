"""Opening a file that a person hands in: refused whole, before it is read whole, where it cannot be a record."""

from __future__ import annotations

import gzip
import io
import re
import zlib
from pathlib import Path
from typing import BinaryIO

from kailyard.errors import DataError

MOST_BYTES = 100_000_000
"""Larger files are refused, unpacked size counted: 200 years of all GHCN-Daily elements are under 30 MB."""

_CONTROL = re.compile(rb"[\x00-\x08\x0e-\x1f\x7f]")
_HOSTILE = re.compile("[\x00-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2066-\u2069\ud800-\udfff]")


def shown(text: str, longest: int = 40) -> str:
    """`text` fit for a message: nothing that moves a cursor or turns the line round, and not longer than `longest`."""
    clean = _HOSTILE.sub("?", text)
    return clean if len(clean) <= longest else clean[: longest - 1] + "…"


def file_name(data: bytes | Path, name: str = "") -> str:
    """The name by which messages call the file: its last part only.

    Raises
    ------
    DataError
        If the name holds characters that no honest file name has, or is longer than 255.
    """
    full = str(data) if isinstance(data, Path) else (name or "file")
    last = re.split(r"[\\/]", full)[-1] or full
    if _HOSTILE.search(full):
        raise DataError(f"{shown(last)}: the file's name holds control characters. Rename the file.")
    if len(last) > 255:
        raise DataError(f"{shown(last)}: the file's name is {len(last)} characters long; 255 are allowed. Rename it.")
    return shown(last, 80)


def read_bytes(data: bytes | Path, name: str = "") -> bytes:
    """The file's content, unpacked where it is gzip; never more than `MOST_BYTES` held.

    Raises
    ------
    DataError
        Naming the file and the rule: not there, no plain file, empty, too large, cut or damaged gzip.
    """
    called = file_name(data, name)
    if isinstance(data, bytes):
        return _bounded(io.BytesIO(data), len(data), called)
    try:
        if not data.exists():
            raise DataError(f"{called}: there is no such file. Check the name and the folder.")
        if not data.is_file():
            raise DataError(f"{called}: not a plain file. Name the weather file itself.")
        with data.open("rb") as stream:
            return _bounded(stream, data.stat().st_size, called)
    except OSError as err:
        raise DataError(f"{called}: cannot be read ({err.strerror or 'unknown trouble'}).") from err


def _bounded(stream: BinaryIO, size: int, called: str) -> bytes:
    limit = f"larger than {MOST_BYTES // 1_000_000} MB. A daily record is far smaller: export one station only."
    if size == 0:
        raise DataError(f"{called}: the file is empty. Fetch or export it again.")
    if size > MOST_BYTES:
        raise DataError(f"{called}: {limit}")
    packed = stream.read(2) == b"\x1f\x8b"
    stream.seek(0)
    if not packed:
        return stream.read()
    try:
        with gzip.GzipFile(fileobj=stream) as unpacked:
            content = unpacked.read(MOST_BYTES + 1)
    except EOFError as err:
        raise DataError(f"{called}: truncated: the gzip file ends before its end mark. Fetch it again.") from err
    except (gzip.BadGzipFile, zlib.error) as err:
        raise DataError(f"{called}: damaged gzip file. Fetch it again.") from err
    if len(content) > MOST_BYTES:
        raise DataError(f"{called}: unpacked {limit}")
    if not content:
        raise DataError(f"{called}: the file is empty once unpacked. Fetch or export it again.")
    return content


def read_text(data: bytes | Path, name: str = "") -> tuple[str, str]:
    """Name and text of the file. UTF-8, or Latin-1 where it is not: the figures are the same in both.

    Raises
    ------
    DataError
        As `read_bytes`, and where the file is binary.
    """
    called = file_name(data, name)
    content = read_bytes(data, name)
    control = _CONTROL.search(content)
    if control:
        line = content.count(b"\n", 0, control.start()) + 1
        raise DataError(
            f"{called}:{line}: binary, not plain text (byte {content[control.start()]:#04x}). Export it as CSV, UTF-8."
        )
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("latin-1")
    if not text.strip():
        raise DataError(f"{called}: nothing but blanks. Fetch or export it again.")
    return called, text
