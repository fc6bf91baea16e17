"""What can go wrong in ways a person can mend. Anything else is a bug and keeps its traceback."""

from __future__ import annotations

from collections.abc import Sequence


class KailyardError(Exception):
    """Base of every error with a message meant for a person; doors print it and exit with `exit_code`."""

    exit_code = 1


class UsageError(KailyardError):
    """The command's words are off: an unknown option, a date that is none, a missing argument."""

    exit_code = 2


class DataError(KailyardError):
    """Material handed in cannot be used. Carries every problem found, one line each."""

    exit_code = 3

    def __init__(self, problems: Sequence[str] | str) -> None:
        self.problems = (problems,) if isinstance(problems, str) else tuple(problems)
        super().__init__("\n".join(self.problems))


class FactError(DataError):
    """A handbook row breaks a rule of its table."""


class NotFound(KailyardError):
    """A named thing is not there; the message lists what is near."""

    exit_code = 4


class Conflict(KailyardError):
    """Two different things claim one identity; nothing was changed."""

    exit_code = 5
