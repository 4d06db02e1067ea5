"""The catalogue of requirements: which attribute is limited, by what, when, and why."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, cast, get_args

from specgen.files.yaml_reader import read_yaml
from specgen.model.requirement import Comparison, Stage
from specgen.practice.entries import Practice, PracticeError
from specgen.requirements.conditions import CONDITIONS
from specgen.requirements.lookups import LOOKUPS

FOLDER = Path(__file__).parent / "catalogue"
ORIGIN_WORDS = ("choice", "practice", "calculation", "lookup", "fact", "lap")


@dataclass(frozen=True)
class CatalogueEntry:
    """One requirement before it meets a project."""

    name: str
    role: str
    attribute: str
    title: str
    stage: Stage
    comparison: Comparison
    origins: tuple[str, ...]
    when: tuple[str, ...]
    evidence: str
    reason: str
    identity: bool
    step: Mapping[str, str]  # rounding step of a calculated limit, by language of units
    because: str


@lru_cache(maxsize=1)
def load_catalogue() -> tuple[CatalogueEntry, ...]:
    """The catalogue that ships with specgen, in the order of its files."""
    entries: dict[str, CatalogueEntry] = {}
    for path in sorted(FOLDER.glob("*.yaml")):
        content = read_yaml(path)
        for name, node in cast("dict[str, Any]", content).items():
            if name in entries:
                raise PracticeError(f"{path.name}: requirement {name!r} is defined twice")
            entries[name] = _entry(name, node)
    return tuple(entries.values())


def _entry(name: str, node: Mapping[str, Any]) -> CatalogueEntry:
    (comparison, origins), *more = node["limit"].items()
    if more or comparison not in get_args(Comparison):
        raise PracticeError(f"requirement {name!r}: one comparison of {get_args(Comparison)} is wanted")
    for origin in origins:
        word, _, rest = origin.partition(" ")
        if word not in ORIGIN_WORDS or (word == "lookup" and rest not in LOOKUPS):
            raise PracticeError(f"requirement {name!r}: unknown origin {origin!r}")
    for condition in node.get("when", ()):
        if condition not in CONDITIONS:
            raise PracticeError(f"requirement {name!r}: unknown condition {condition!r}")
    if not node.get("reason"):
        raise PracticeError(f"requirement {name!r} has no reason")
    return CatalogueEntry(
        name=name,
        role=node["role"],
        attribute=node["attribute"],
        title=node.get("title", ""),
        stage=node["stage"],
        comparison=comparison,
        origins=tuple(origins),
        when=tuple(node.get("when", ())),
        evidence=node["evidence"],
        reason=node["reason"],
        identity=node.get("identity", False),
        step=node.get("step", {}),
        because=node.get("because", ""),
    )


def title_of(entry: CatalogueEntry, practice: Practice) -> str:
    """What the requirement's attribute is called."""
    if entry.title:
        return entry.title
    if entry.attribute == "kind":
        return "generic kind"
    return practice.vocabulary.roles[entry.role].fields[entry.attribute].title
