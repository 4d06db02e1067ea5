"""The catalogue of requirements: which attribute is limited, by what, when, and why."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any, NoReturn, cast, get_args

from specgen.files.compiled import shipped_yaml
from specgen.model.requirement import Comparison, Stage
from specgen.practice.entries import Practice, PracticeError
from specgen.practice.load import load_practice
from specgen.requirements.lookups import LOOKUP_KEYS, LOOKUPS
from specgen.wall.facts import CALCULATED, CONDITIONS

FOLDER = Path(__file__).parent / "catalogue"
ORIGIN_WORDS = ("choice", "stricter", "practice", "calculation", "lookup", "fact", "lap")
EVIDENCE = ("product data", "shop drawing", "mock-up", "test report", "compatibility letter")
NEEDED = ("role", "attribute", "stage", "limit", "evidence", "reason")
KNOWN = frozenset(
    {
        *NEEDED,
        "measured_before",
        "method",
        "title",
        "when",
        "options",
        "identity",
        "step",
        "because",
        "calculation_governs",
        "beside",
    }
)
SYSTEMS = frozenset({"inch-pound", "SI"})


@dataclass(frozen=True)
class Beside:
    """A calculation on the matter of a requirement whose result is no limit of it."""

    result: str  # "subject.name"
    says: str
    governs: str


@dataclass(frozen=True)
class CatalogueEntry:
    """One requirement before it meets a project."""

    name: str
    role: str
    attribute: str
    title: str
    method: str  # in place of the attribute's own, where kinds are tested by methods of their own
    stage: Stage
    comparison: Comparison
    origins: tuple[str, ...]
    when: tuple[str, ...]
    evidence: str
    reason: str
    identity: bool
    measured_before: bool  # at the wall, before the part goes on
    step: Mapping[str, str]  # rounding step of a calculated limit, by language of units
    because: str
    calculation_governs: bool  # in place of a stricter rule of thumb, where it has a result
    beside: tuple[Beside, ...]
    options: Mapping[str, str]  # name and wording of the option of a rule, in the order of the practice keys


@lru_cache(maxsize=1)
def load_catalogue() -> tuple[CatalogueEntry, ...]:
    """The catalogue that ships with specgen, in the order of its files.

    Raises:
        PracticeError: an entry that lacks a part, or names what the practice folder does not know.
    """
    practice = load_practice()
    entries: dict[str, CatalogueEntry] = {}
    for path in sorted(FOLDER.glob("*.yaml")):
        content = shipped_yaml(path)
        for name, node in cast("dict[str, Any]", content).items():
            if name in entries:
                raise PracticeError(f"{path.name}: requirement {name!r} is defined twice")
            _check(name, node, practice)
            entries[name] = _entry(name, node)
    return tuple(entries.values())


def _check(name: str, node: Mapping[str, Any], practice: Practice) -> None:
    """Every part is there, and every name it uses is known."""

    def refuse(what: str) -> NoReturn:
        raise PracticeError(f"requirement {name!r}: {what}")

    for key in NEEDED:
        if not node.get(key):
            refuse(f"{key!r} is missing")
    if unknown := sorted(set(node) - KNOWN):
        refuse(f"unknown key {', '.join(unknown)}")
    role = practice.vocabulary.roles.get(node["role"])
    if role is None:
        refuse(f"unknown role {node['role']!r}")
    if node["attribute"] != "kind" and node["attribute"] not in role.fields and not node.get("title"):
        refuse(f"{node['role']} has no attribute {node['attribute']!r}, and no title is given")
    if node["stage"] not in get_args(Stage):
        refuse(f"unknown stage {node['stage']!r}")
    if node["evidence"] not in EVIDENCE:
        refuse(f"unknown evidence {node['evidence']!r}")
    if node.get("step") and set(node["step"]) != SYSTEMS:
        refuse(f"a step for each of {', '.join(sorted(SYSTEMS))} is wanted")
    for origin in (one for origins in node["limit"].values() for one in origins):
        word, _, rest = origin.partition(" ")
        if word == "practice" and rest not in practice.entries:
            refuse(f"no practice entry {rest!r}")
        if word == "calculation" and "." not in rest:
            refuse(f"{origin!r} names no result: write calculation SUBJECT.RESULT")
    if node.get("options") and not any(
        origin.startswith(("practice", "lookup")) for origins in node["limit"].values() for origin in origins
    ):
        refuse("options are of practice values, and none is among the origins")
    for one in node.get("beside", ()):
        if set(one) != {"result", "says", "governs"} or "." not in one["result"]:
            refuse("`beside` wants result: SUBJECT.RESULT, says: WORDS, governs: WORDS")


def _entry(name: str, node: Mapping[str, Any]) -> CatalogueEntry:
    (comparison, origins), *more = node["limit"].items()
    if more or comparison not in get_args(Comparison):
        raise PracticeError(f"requirement {name!r}: one comparison of {get_args(Comparison)} is wanted")
    for origin in origins:
        word, _, rest = origin.partition(" ")
        if word not in ORIGIN_WORDS or (word == "lookup" and rest not in LOOKUPS):
            raise PracticeError(f"requirement {name!r}: unknown origin {origin!r}")
    for condition in node.get("when", ()):
        if condition not in CONDITIONS and condition not in CALCULATED:
            raise PracticeError(f"requirement {name!r}: unknown condition {condition!r}")
    return CatalogueEntry(
        name=name,
        role=node["role"],
        attribute=node["attribute"],
        title=node.get("title", ""),
        method=node.get("method", ""),
        stage=node["stage"],
        comparison=comparison,
        origins=tuple(origins),
        when=tuple(node.get("when", ())),
        evidence=node["evidence"],
        reason=node["reason"],
        identity=node.get("identity", False),
        measured_before=node.get("measured_before", False),
        step=node.get("step", {}),
        because=node.get("because", ""),
        calculation_governs=node.get("calculation_governs", False),
        beside=tuple(Beside(one["result"], one["says"], one["governs"]) for one in node.get("beside", ())),
        options=node.get("options", {}),
    )


def practice_keys(entry: CatalogueEntry) -> tuple[str, ...]:
    """The practice keys that a limit may come from: of its origins, and of what its lookups choose from."""
    words = [origin.partition(" ") for origin in entry.origins]
    keys = {"practice": lambda key: (key,), "lookup": LOOKUP_KEYS.__getitem__}
    return tuple(key for word, _, rest in words if word in keys for key in keys[word](rest))


def title_of(entry: CatalogueEntry, practice: Practice) -> str:
    """What the requirement's attribute is called."""
    if entry.title:
        return entry.title
    if entry.attribute == "kind":
        return "generic kind"
    return practice.vocabulary.roles[entry.role].fields[entry.attribute].title
