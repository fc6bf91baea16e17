"""Is the crop on the label?"""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.troubles.case import Case, read_it, typed
from kailyard.troubles.label import on_crop
from kailyard.troubles.verdict import Finding

NAME = "crop"


def check(case: Case) -> Iterator[Finding]:
    """A crop that the label does not name is never treated with it."""
    listed = on_crop(case.label, case.crop, case.crop_names)
    if listed is None:
        yield read_it(case, NAME, "the crops it is for")
    elif listed:
        yield Finding(NAME, "may", f"The label lists {case.plants}.", typed(case))
    else:
        yield Finding(
            NAME,
            "never",
            f"The label lists {', '.join(case.label.crops)}, not {case.plants}: on {case.plants} it may not be used.",
            typed(case),
        )
