"""How words are printed on every paper that leaves the office, for people who have never seen the project file."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from specgen.model.finding import Finding
from specgen.model.project import Component, Parapet, Project, Record
from specgen.practice.entries import Vocabulary
from specgen.practice.trade_names import abbreviations
from specgen.units.spelling import typeset
from specgen.wall.own_words import own_words

_NAMED = re.compile(r"`([^`]*)`")  # how messages of rules mark a name of the project file
_CODED = re.compile(r"[\d_]")
_VOWELS = frozenset("aeiouy")


@dataclass(frozen=True)
class PaperWords:
    """Reads words for paper: fields by their titles, parts and rules by their names, units as they are printed.

    What a person wrote as a text stays as it is written.
    """

    vocabulary: Vocabulary
    own: tuple[str, ...] = ()
    names: Mapping[str, str] = field(
        default_factory=dict
    )  # of component ids and rule codes that are no words

    def __call__(self, words: str) -> str:
        """Words as a paper prints them; papers print many of them again."""
        printed = self._printed.get(words)
        if printed is None:
            printed = self._printed[words] = self._on_paper(words)
        return printed

    @cached_property
    def _printed(self) -> dict[str, str]:
        return {}

    def _on_paper(self, words: str) -> str:
        if any(text in words for text in self.own):
            parts = re.split(f"({'|'.join(map(re.escape, self.own))})", words)
            return "".join(one if one in self.own else self._plain(one) for one in parts)
        return self._plain(words)

    def _plain(self, words: str) -> str:
        words = self.without_marks(words)
        if self._called:
            words = self._renamed.sub(lambda found: self._called[found[0]], words)
        return self.vocabulary.on_paper(typeset(words))

    def without_marks(self, words: str) -> str:
        """Words with the title of each field that they mark, and other names without their marks."""
        return _NAMED.sub(lambda found: self._titled(found[1]), words) if "`" in words else words

    @cached_property
    def _called(self) -> Mapping[str, str]:
        """What is printed in place of a name, also where a sentence begins with it."""
        heads = {
            name[:1].upper() + name[1:]: called[:1].upper() + called[1:]
            for name, called in self.names.items()
        }
        return {**heads, **self.names}

    @cached_property
    def _renamed(self) -> re.Pattern[str]:
        longest = sorted(self._called, key=len, reverse=True)
        return re.compile(rf"(?<![\w-])(?:{'|'.join(map(re.escape, longest))})(?![\w-])")

    def _titled(self, name: str) -> str:
        """A name that messages mark: a field by its title, where it has one alone; else the name without its marks."""
        of, _, key = name.rpartition(".")
        if key in self.vocabulary.roles or key in self.names:
            return key
        roles = [(role.name, role.fields) for role in self.vocabulary.roles.values()]
        records = [(record.name, record.fields) for record in self.vocabulary.records.values()]
        titles = {
            fields[key].title for what, fields in (*roles, *records) if of in ("", what) and key in fields
        }
        return next(iter(titles)) if len(titles) == 1 else key.replace("_", " ")


def paper_words(
    vocabulary: Vocabulary,
    project: Project,
    findings: Iterable[Finding] = (),
    others: Iterable[Record] = (),
    products: Iterable[str] = (),
) -> PaperWords:
    """The reading of the papers of a project.

    Args:
        vocabulary: has the titles of fields and the trade's names of roles.
        project: its components may have ids that are no words; its records hold texts of people.
        findings: name the rules.
        others: records beside the project: of a submittal, of a request.
        products: their names are printed as written.
    """
    names = {**part_names(project, vocabulary), **{one.code: f"“{one.name}”" for one in findings}}
    return PaperWords(vocabulary, own_words(vocabulary, project, others, products, names), names)


def part_names(project: Project, vocabulary: Vocabulary) -> Mapping[str, str]:
    """By the id of each component that is an abbreviation or a code, what the trade calls the part.

    An id in words is printed as it stands.

    Args:
        project: with its components.
        vocabulary: has the trade's names of roles.
    """
    found: dict[str, dict[str, None]] = {}
    for parapet in project.parapets:
        for part in parapet.components():
            if is_code(part.id, part.role):
                found.setdefault(part.id, {})[_called(part, parapet, vocabulary)] = None
    return {name: " or ".join(called) for name, called in found.items()}


def is_code(name: str, role: str) -> bool:
    """Whether a component's id is no word that a paper could print.

    >>> [is_code(one, "barrier") for one in ("wrb", "WRB", "film_2", "bx", "barrier", "outer film", "TPO")]
    [True, True, True, True, False, False, False]
    """
    if _CODED.search(name) or name.lower() in abbreviations(role):
        return True
    words = re.split(r"[ -]", name)
    return name == name.lower() and any(not _VOWELS & set(word) for word in words if len(word) > 1)


def _called(part: Component, parapet: Parapet, vocabulary: Vocabulary) -> str:
    """The role of a part; its kind where the parapet has several of that role, a number where kinds are alike."""
    role = vocabulary.roles[part.role]
    name, others = role.called or role.name, [one for one in parapet.all_of(part.role) if one is not part]
    if not others:
        return name
    same = [one for one in parapet.all_of(part.role) if one.kind == part.kind]
    number = f", {same.index(part) + 1}" if len(same) > 1 else ""
    return f"{name} ({part.kind}{number})"
