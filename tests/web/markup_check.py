"""What every page's markup must keep to."""

from __future__ import annotations

from html.parser import HTMLParser

VOID = {"meta", "link", "input", "br", "hr", "img", "path", "line", "circle", "col", "rect", "source"}
FIELDS = {"input", "select", "textarea"}


class Checked(HTMLParser):
    """Reads a page; `problems` holds what is wrong with it, `text` what a reader sees."""

    def __init__(self, page: str) -> None:
        super().__init__(convert_charrefs=True)
        self.problems: list[str] = []
        self.ids: list[str] = []
        self.links: list[str] = []
        self.text = ""
        self._open: list[str] = []
        self._form: dict[str, str] | None = None
        self._token = False
        self.headings: list[str] = []
        self.feed(page)
        self.close()
        if self._open:
            self.problems.append(f"left open: {self._open}")
        self.problems += [f"id {i!r} twice" for i in set(self.ids) if self.ids.count(i) > 1]
        if self.headings[:1] != ["h1"] or self.headings.count("h1") != 1:
            self.problems.append(f"headings begin {self.headings[:2]}; one h1 must come first")

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        self._check_attributes(tag, given)
        if tag in ("h1", "h2", "h3"):
            self.headings.append(tag)
        if tag == "form":
            self._form, self._token = given, False
        named = "label" in self._open or "aria-label" in given or "aria-labelledby" in given
        if tag in FIELDS and given.get("type") != "hidden" and not named:
            self.problems.append(f"a field without a label: {given}")
        if tag == "input" and given.get("name") == "token":
            self._token = True
        if tag not in VOID:
            self._open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        self._check_attributes(tag, given)

    def handle_endtag(self, tag: str) -> None:
        if tag in VOID:
            return
        if not self._open or self._open[-1] != tag:
            self.problems.append(f"</{tag}> closes {self._open[-1:]}")
        else:
            self._open.pop()
        if tag == "form" and self._form is not None:
            if self._form.get("method", "get") == "post" and not self._token:
                self.problems.append(f"a form without a token: {self._form}")
            self._form = None

    def handle_data(self, data: str) -> None:
        if self._open and self._open[-1] in ("script", "style") and data.strip():
            self.problems.append(f"inline {self._open[-1]}: {data[:40]}")
        self.text += data

    def _check_attributes(self, tag: str, given: dict[str, str]) -> None:
        self.problems += [f"{tag} has {name}" for name in given if name.startswith("on") or name == "style"]
        if "id" in given:
            self.ids.append(given["id"])
        for name in ("href", "src", "action"):
            address = given.get(name, "")
            if address.startswith(("javascript:", "data:", "//")):
                self.problems.append(f"{tag} leads to {address}")
            if tag in ("link", "script", "img", "form", "source") and address.startswith("http"):
                self.problems.append(f"{tag} asks another host: {address}")
            if address and tag == "a":
                self.links.append(address)
        if tag == "img" and "alt" not in given:
            self.problems.append("a picture without words")
        if tag == "svg" and not ({"aria-label", "aria-labelledby", "aria-hidden"} & set(given)):
            self.problems.append("a drawing without words")
