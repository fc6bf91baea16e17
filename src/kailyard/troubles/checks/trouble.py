"""Is the trouble on the label?"""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.troubles.case import Case, read_it, typed
from kailyard.troubles.label import against, trouble_words
from kailyard.troubles.verdict import Finding

NAME = "trouble"


def check(case: Case) -> Iterator[Finding]:
    """Against a trouble that the label does not name it is no remedy; against none it is never put on."""
    name = trouble_words(case.trouble)
    listed = against(case.label, case.trouble)
    if not case.label.troubles:
        yield read_it(case, NAME, "the troubles it is for")
    elif not case.trouble:
        yield Finding(NAME, "unknown", "Say which trouble it is for: nothing is put on against nothing.", typed(case))
    elif listed:
        yield Finding(NAME, "may", f"The label lists {name}.", typed(case))
    else:
        yield Finding(
            NAME, "never", f"The label lists {', '.join(case.label.troubles)}; {name} is not among them.", typed(case)
        )
