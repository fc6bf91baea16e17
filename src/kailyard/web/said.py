"""Messages of the desk as a page says them: nobody in a browser is sent to a terminal."""

from __future__ import annotations

import re

_COMMAND = re.compile(r"(?:^|(?<=[.:!?)] )|(?<=\n))[^.!?\n`]*`kailyard\b[^`]*`[^.\n]*\.? ?", re.MULTILINE)


def on_a_page(text: str) -> str:
    """`text` without the sentences that name a command; whole where nothing else would be left."""
    return _COMMAND.sub("", text).strip() or text
