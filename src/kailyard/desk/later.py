"""A form that was typed without signal and comes in later: it is read as on the day it was typed.

The day it happened is the day it was typed, where the form says no other; the moment it was written is the moment it
came in, since that is when the garden came to know it.
"""

from __future__ import annotations

from datetime import date, datetime, timedelta

from kailyard.desk.cache import WarmDesk
from kailyard.desk.clock import PretendedClock
from kailyard.desk.desk import zone
from kailyard.errors import UsageError
from kailyard.garden.model import Garden

LONGEST = timedelta(days=366)
"""What waited longer is not taken unseen."""
_AHEAD = timedelta(days=1)
"""A device's clock may be wrong by so much."""


class LaterDesk(WarmDesk):
    """A desk at which it is the day a form was typed."""

    typed: datetime

    def today(self, garden: Garden) -> date:
        """The day the form was typed where the garden is; never one that has not begun."""
        typed = self.typed
        if isinstance(self.clock, PretendedClock):
            typed += self.now() - self.really_now()
        return min(typed.astimezone(zone(garden.site.timezone)).date(), super().today(garden))

    def is_typed(self, typed: datetime) -> None:
        """Say when it was typed, by the device's clock. UsageError where that cannot be.

        `typed` has its time zone.
        """
        now = self.really_now()
        if typed > now + _AHEAD:
            raise UsageError(f"It was typed on {typed.date()}, says the device, which is still to come. Set its clock.")
        if typed < now - LONGEST:
            raise UsageError(f"It was typed on {typed.date()}, over a year ago. Enter it anew with its day.")
        self.typed = typed
