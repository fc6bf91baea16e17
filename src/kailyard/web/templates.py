"""Templates: escaped always; markup that `publish` made passes, and nothing else does."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cache
from typing import Any

import markupsafe
from jinja2 import Environment, PackageLoader, StrictUndefined

from kailyard.desk.cache import Behind
from kailyard.publish import markup, units, words
from kailyard.web import statics


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands around every page."""

    title: str
    garden: str
    """'' for a stranger."""
    menu: tuple[tuple[tuple[str, str, bool], ...], ...]
    """Its rows, of (title, address, whether it is this page); () for a stranger."""
    person: str
    """Who is in; '' where names are not set or nobody is."""
    token: str
    """To be sent back with every form, as the field `token`."""
    path: str
    waits: str = ""
    """Paths whose forms may wait on a device for signal, parted by blanks."""
    pretended: date | None = None
    """The day, where it is a pretended one."""
    ahead_s: int = 0
    """So far is the pretended day ahead of the real one. [s]"""
    behind: Behind | None = None
    """Where the page rests on the garden as it was a moment ago."""
    message: str = ""
    """Said once, after a form was taken."""
    problem: str = ""
    """Why a form was not taken."""
    typed: Mapping[str, str] = field(default_factory=dict)
    """What was typed into a form that was not taken."""
    kind: str = ""
    """Class of the body element."""

    def was(self, name: str, otherwise: str = "") -> str:
        """What was typed into the field `name` of a form that was not taken; else `otherwise`."""
        return self.typed.get(name, otherwise)


@cache
def environment() -> Environment:
    """The templates, with what they may use."""
    made = Environment(
        loader=PackageLoader("kailyard.web", "templates"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=_finalize,
        auto_reload=False,
    )
    made.globals["static"] = statics.address
    made.filters |= {
        "day": words.day,
        "day_of_week": words.day_of_week,
        "full_day": words.full_day,
        "short_day": words.short_day,
        "sentence": words.sentence,
        "clean": words.clean,
        "figure": units.figure,
    }
    return made


def fill(template: str, frame: Frame, page: Any) -> str:
    """The template with its one page object and the frame."""
    return environment().get_template(template).render(frame=frame, page=page)


def _finalize(value: Any) -> Any:
    """Markup made by `publish` escaped its own text; everything else is escaped by the template."""
    return markupsafe.Markup(value) if isinstance(value, markup.Markup) else value
