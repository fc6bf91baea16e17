"""One formula of the science: its form, and its answer with its source."""

from __future__ import annotations

import shlex
from collections.abc import Mapping
from dataclasses import dataclass, field

from kailyard.desk.desk import Desk
from kailyard.desk.people import Visitor
from kailyard.desk.reckon import method, methods, reckon
from kailyard.documents.methods import Method, MethodInput
from kailyard.errors import UsageError
from kailyard.publish import body
from kailyard.publish.markup import Markup, together
from kailyard.publish.reckoned import gives, otherwise, takes

PATH = "/reckoner/{reckoner}"
TITLE = "Reckon"
MENU = None
TEMPLATE = "reckon.html"


@dataclass(frozen=True, slots=True)
class Query:
    """Which formula, and what is given to it."""

    reckoner: str
    given: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Asked:
    """One input of the form."""

    input: MethodInput
    value: str
    """As given, or at first that of an example; blank where it is read off a label."""
    hint: str


@dataclass(frozen=True, slots=True)
class Page:
    """The formula, its form, and the answer or what was wrong with what was given."""

    title: str
    method: Method
    says: str
    gives: str
    asked: tuple[Asked, ...]
    formula: tuple[str, ...]
    answer: Markup
    wrong: str


QUERY = Query


def page(desk: Desk, query: Query, person: Visitor) -> Page:
    """The form, and once it is filled in the answer."""
    (found,) = method(query.reckoner).methods
    answer, wrong = Markup(), ""
    if query.given:
        words = [f"{name}={value.strip()}" for name, value in query.given.items() if value.strip()]
        try:
            answer = together(*body(reckon(found.name, words)).parts[1:])
        except UsageError as err:
            wrong = str(err)
    off_label = {each.name for each in found.inputs if each.off_label}
    shown = query.given or {name: value for name, value in example(found).items() if name not in off_label}
    asked = tuple(Asked(each, shown.get(each.name, ""), _hint(each)) for each in found.inputs)
    formula = tuple(found.formula.replace("\n    ", " ").splitlines())
    return Page(found.title, found, found.says.replace("`", ""), gives(found), asked, formula, answer, wrong)


def example(found: Method) -> dict[str, str]:
    """The method's example, by input."""
    words = shlex.split(found.example)[3:]
    return {name: value for name, _, value in (word.partition("=") for word in words)}


def names() -> list[str]:
    """Every formula that has such a page."""
    return [each.name for each in methods().methods]


def _hint(each: MethodInput) -> str:
    span = takes(each) if each.required else f"{takes(each)}; left blank: {otherwise(each).removeprefix('else ')}"
    return f"{each.means.replace('`', '')} {span[0].upper()}{span[1:]}."
