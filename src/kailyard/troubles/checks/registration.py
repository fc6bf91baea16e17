"""Is it registered where the garden lies?"""

from __future__ import annotations

from collections.abc import Iterator

from kailyard.troubles.case import GARDEN_RULES, Case, read_it, typed
from kailyard.troubles.label import exempt
from kailyard.troubles.verdict import Finding

NAME = "registration"


def check(case: Case) -> Iterator[Finding]:
    """What is not registered here may not be used here, whatever else it says."""
    label, here = case.label, case.rules.registered_in
    real = any(c.isdigit() for c in label.number) or exempt(label)  # 'none' is no number
    if not real or not (label.registered_in or exempt(label)):
        yield read_it(case, NAME, "where it is registered, and the number")
    elif not here:
        says = (
            "Whose registrations count where this garden lies is not said: enter it as ‘rules’, or by "
            "`kailyard enter rules registered-in=...`."
        )
        yield Finding(NAME, "unknown", says, GARDEN_RULES)
    elif exempt(label) and not label.registered_in:
        says = f"The label says that it needs no registration; whether {here} agrees, ask the extension office."
        yield Finding(NAME, "unknown", says, typed(case))
    elif label.registered_in.casefold() == here.casefold():
        yield Finding(NAME, "may", f"Registered in {label.registered_in}, number {label.number}.", typed(case))
    else:
        says = f"Registered in {label.registered_in}; this garden lies in {here}."
        yield Finding(NAME, "never", says, typed(case))
