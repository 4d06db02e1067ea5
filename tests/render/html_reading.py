"""A second reading of a document in HTML: what each paragraph and table says, where its links lead."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser

_VOID = frozenset({"br", "col", "img", "meta", "link", "input", "hr"})


@dataclass
class Element:
    """One element with its attributes and all that stands in it."""

    tag: str
    attributes: dict[str, str]
    inside: list[Element | str] = field(default_factory=list)

    @property
    def text(self) -> str:
        """The words, as they are written."""
        return "".join(one if isinstance(one, str) else one.text for one in self.inside)

    def all(self, tag: str = "", look: str = "") -> list[Element]:
        """The elements below of a tag and of a class, in order."""
        found: list[Element] = []
        for one in self.inside:
            if isinstance(one, Element):
                if tag in ("", one.tag) and (not look or look in one.attributes.get("class", "").split()):
                    found.append(one)
                found += one.all(tag, look)
        return found


class _Builder(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.root = Element("", {})
        self.open = [self.root]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        names = [name for name, _ in attrs]
        assert len(names) == len(set(names)), (tag, names)
        one = Element(tag, {name: value or "" for name, value in attrs})
        self.open[-1].inside.append(one)
        if tag not in _VOID:
            self.open.append(one)

    def handle_endtag(self, tag: str) -> None:
        assert self.open[-1].tag == tag, f"</{tag}> closes <{self.open[-1].tag}>"
        self.open.pop()

    def handle_data(self, data: str) -> None:
        self.open[-1].inside.append(data)


def read_html(text: str) -> Element:
    """The tree of a fragment or a page; whatever is open at the wrong place fails the test."""
    builder = _Builder()
    builder.feed(text)
    builder.close()
    assert [one.tag for one in builder.open] == [""]
    return builder.root
