"""What stands in the beds today, as far as anybody can tell."""

from __future__ import annotations

import numpy as np

from kailyard.season.life import Life
from kailyard.season.view import SeasonView


def here(view: SeasonView, life: Life) -> bool:
    """Whether a planting stands in its bed today: begun, not ended, and not seemingly killed."""
    if not life.standing or int(np.median(life.begun)) > view.today.toordinal():
        return False
    return view.seems_killed(life) is None
