"""What all kinds of work have to say of one planting."""

from __future__ import annotations

from dataclasses import replace

from kailyard.documents.sheet import Sheet
from kailyard.season.answers import kinds
from kailyard.season.life import Life
from kailyard.season.sheet import compose
from kailyard.season.view import SeasonView


def about(view: SeasonView, life: Life) -> Sheet:
    """A sheet of this planting alone: what stands on the garden's sheet of it, and what found no room there."""
    said = []
    for kind in kinds():
        if kind.SCOPE == "planting":
            said += list(kind.windows(view, life))
        elif kind.SCOPE == "bed" and (bed := view.bed(life.planting)) is not None:
            said += [a for a in kind.windows(view, bed) if life.planting.id in a.of]
        elif kind.SCOPE == "garden":
            said += [a for a in kind.windows(view, view.garden) if life.planting.id in a.of]
    made = compose(view, said=tuple(said))
    own = f"changed/{life.planting.id}/"
    return replace(made, changed=tuple(line for line in made.changed if line.name.startswith(own)))
