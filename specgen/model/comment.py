"""Comments that people leave on a finding, a paragraph, or a value of a project."""

from __future__ import annotations

import hashlib
from dataclasses import asdict, dataclass
from typing import ClassVar, Literal

from specgen.files.marks import Mark

Kind = Literal["finding", "paragraph", "value"]
_LENGTH = 8  # letters of a key


@dataclass(frozen=True)
class About:
    """What a comment is about, by the names under which the file and the papers know it.

    A finding by its rule, with parapet and layer where it has them; a paragraph by its section and key; a value by its
    key, with what it is of (a section of the file, or the id of a component, a lap as ``barrier / cleat``, a place), and
    the parapet.
    """

    finding: str = ""
    section: str = ""
    paragraph: str = ""
    value: str = ""
    of: str = ""
    parapet: str = ""
    layer: str = ""

    @property
    def kind(self) -> Kind:
        """Which of the three it is."""
        return "finding" if self.finding else "paragraph" if self.paragraph else "value"

    @property
    def named(self) -> dict[str, str]:
        """The names that are given, in the order in which they are written."""
        return {key: words for key, words in asdict(self).items() if words}

    @property
    def words(self) -> str:
        """What it is about, for a reader.

        >>> About(finding="CP02", parapet="P-1", layer="coping").words, About(section="07 71 00", paragraph="drip").words
        ('finding CP02 at parapet P-1, layer coping', 'Section 07 71 00, paragraph drip')
        >>> About(value="slope", of="coping", parapet="P-1").words, About(value="wind_speed", of="site").words
        ('slope of coping at parapet P-1', 'wind_speed of site')
        """
        if self.kind == "paragraph":
            return f"Section {self.section}, paragraph {self.paragraph}"
        first = f"finding {self.finding}" if self.finding else self.value
        where = f"{first} of {self.of}" if self.of else first
        where += f" at parapet {self.parapet}" if self.parapet else ""
        return f"{where}, layer {self.layer}" if self.layer else where


@dataclass(frozen=True)
class Answer:
    """What somebody answered: who, when (ISO, with the time zone), and the words."""

    name: str
    time: str
    text: str


@dataclass(frozen=True)
class Comment:
    """One comment with its answers, oldest first."""

    about: About
    name: str
    time: str  # ISO, with the time zone
    text: str
    answers: tuple[Answer, ...]
    answered: bool
    mark: Mark
    ALSO_PLAIN: ClassVar = ("key",)

    @property
    def key(self) -> str:
        """By what it is named: the same as long as its own words stay, whatever is answered."""
        return _sum(self.about.words, self.name, self.time, self.text)

    @property
    def state(self) -> str:
        """Changes with every answer, and when it is marked: what a person has seen who answers it."""
        answers = [words for one in self.answers for words in (one.name, one.time, one.text)]
        return _sum(self.key, str(self.answered), *answers)


def _sum(*words: str) -> str:
    return hashlib.sha256("\0".join(words).encode("utf-8", "surrogatepass")).hexdigest()[:_LENGTH]
