"""What a clause may ask: of one parapet in its condition, of the whole project in its text."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from specgen.model.project import Component, Parapet, Project
from specgen.model.requirement import Requirement, RequirementSet
from specgen.practice.entries import Practice
from specgen.sections.words import joined, requirement_words
from specgen.units.quantity import Quantity
from specgen.units.show import show_limit
from specgen.wall.code import code_of, energy_standard
from specgen.wall.facts import CONDITIONS, method_of
from specgen.wall.place import Place, part_of

REF_OPEN, REF_CLOSE = "\x02", "\x03"  # cannot stand in a file; replaced once paragraphs are numbered


GROUPS = ("drainage", "film", "fastening")


def condition_context(
    project: Project,
    parapet: Parapet,
    requirements: RequirementSet,
    practice: Practice,
    issued: Callable[[str], bool],
) -> Mapping[str, Any]:
    """The names a ``when`` may use, about one parapet; ``issued`` tells whether a section is written."""

    wall = Place(project, parapet, practice, {})

    def part(role: str) -> Component | None:
        return wall.part(role) or part_of(parapet, role)

    def word(role: str, attribute: str) -> object:
        one = wall.part(role)
        return one.values.get(attribute, "") if one else ""

    return {
        "code": code_of(project),
        "energy": energy_standard(project),
        "has": lambda role: part(role) is not None,
        "kind": lambda role: one.kind if (one := part(role)) else "",
        "bonded": lambda role: (one := part(role)) is not None and wall.kind(one).bonded,
        "metal": lambda role: (one := part(role)) is not None and wall.kind(one).metal,
        "word": word,
        "parapet": lambda name: parapet.values.get(name, ""),
        "issued": issued,
        "place": lambda name: CONDITIONS[name](wall),
        "repaired": lambda what: _recorded(parapet, "repairs", "what", what),
        "opened": lambda found: _recorded(parapet, "openings", "found", found),
        "existing": lambda name: parapet.existing.values.get(name, "") if parapet.existing else "",
        "specified_by": lambda group: method_of(project, group),
        "stated": lambda name: requirements.at(name, parapet.name) is not None,
    }


def _recorded(parapet: Parapet, records: str, field: str, word: str) -> bool:
    """Whether a record of the standing parapet says a word."""
    return parapet.existing is not None and any(
        one.word(field) == word for one in getattr(parapet.existing, records)
    )


class TextFacts:
    """The names a clause's text may use; remembers which practice values were printed."""

    def __init__(self, project: Project, practice: Practice, titles: Mapping[str, str]) -> None:
        self.project = project
        self.practice = practice
        self.titles = titles
        self.system = project.system
        self.printed: dict[str, str] = {}  # practice key to the text printed

    def _print(self, key: str, before: str, comparison: str) -> str:
        value = self.practice.entry(key).value
        if isinstance(value, tuple):
            text = joined(value, "or")
        elif isinstance(value, Quantity):
            text = before + show_limit(value, comparison, self.system)
        else:
            text = str(value)
        self.printed[key] = text
        return text

    def _kinds(self, at: tuple[str, ...]) -> Callable[[str], str]:
        def kinds(role: str) -> str:
            parts = [part for parapet in self.project.parapets if parapet.name in at
                     if (part := part_of(parapet, role))]  # fmt: skip
            titles = dict.fromkeys(self.practice.kind(role, part.kind).title for part in parts)
            return joined(titles, "and")

        return kinds

    def context(self, at: tuple[str, ...], where: str, requirement: Requirement | None) -> Mapping[str, Any]:
        """The names for one paragraph that holds at these parapets."""
        out: dict[str, Any] = {
            "where": f" {where}" if where else "",
            "code": code_of(self.project),
            "energy": energy_standard(self.project),
            "value": lambda key: self._print(key, "", "is"),
            "at_least": lambda key: self._print(key, "at least ", "at least"),
            "at_most": lambda key: self._print(key, "not more than ", "at most"),
            "section": lambda number: f"Section {number}, {self.titles[number]}",
            "ref": lambda key: f"{REF_OPEN}{key}{REF_CLOSE}",
            "there": lambda number, key: (
                f"Section {number}, {self.titles[number]}, {REF_OPEN}{number}#{key}{REF_CLOSE}"
            ),
            "kinds": self._kinds(at),
        }
        if requirement is not None:
            out["limit"] = requirement_words(requirement, self.practice, self.system)
            out["method"] = requirement.method
        return out
