"""The register of checks against the outside: what each compares, with which source, where in it, how near, how obtained.

``@published(...)`` on a test makes one entry. One entry is one check, however many points it is tried at; the points
are counted beside it. Only what was read, or what a reference library computed, counts as not from memory.
``python -m tests.published.register`` writes ``docs/published-checks.md``.
"""

from __future__ import annotations

import importlib
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from enum import StrEnum
from pathlib import Path
from typing import Any, TypeVar

import specgen.design.run as run

PAGE = Path(__file__).parents[2] / "docs" / "published-checks.md"
HOURLY = "hourly moisture"
GROUNDWORK = ("materials", "sun and sky", "mold", HOURLY)
LEAST = 90
# What was looked for in public text and not found; its pieces are held one by one.
NOT_FOUND = (
    "cleat loads, cleat fasteners: a worked example of the loads on the fasteners of a coping's cleat.",
    "scuppers: an example that carries two rates to the size of both scuppers; the one of a state's plumbing code, with "
    "both rates, breaks off in the copy that was read.",
    "hourly moisture: the printed limits of the annex of EN 15026, and materials and results of four of the five coupled "
    "benchmarks; docs/heat-and-moisture-checks.md says what was looked at.",
)

Test = TypeVar("Test", bound=Callable[..., Any])


class How(StrEnum):
    """How the outside value was obtained."""

    READ = "read"
    PACKAGE = "reference library"
    CLOSED_FORM = "closed form"
    MEMORY = "memory"

    @property
    def counts(self) -> bool:
        """Whether the check is not from memory: read in a published text, or computed by somebody else's library."""
        return self in (How.READ, How.PACKAGE)


@dataclass(frozen=True)
class Published:
    """One check; ``place`` says where in the source, and for a text that was read, where it was read."""

    subject: str
    what: str
    source: str
    place: str
    tolerance: str
    how: How
    edition: str = ""
    test: str = ""
    points: int = 1


def published(
    subject: str, what: str, source: str, place: str, tolerance: str, how: How, edition: str = ""
) -> Callable[[Test], Test]:
    """Enter a test in the register."""

    def enter(test: Test) -> Test:
        test.__dict__.setdefault("entries_of_register", []).append(
            Published(subject, what, source, place, tolerance, how, edition)
        )
        return test

    return enter


def checks() -> tuple[Published, ...]:
    """Every entry of this folder, by subject and name of the test."""
    found = []
    for path in sorted(Path(__file__).parent.glob("test_*.py")):
        if "@published(" not in path.read_text(encoding="utf-8"):
            continue
        module = importlib.import_module(f"tests.published.{path.stem}")
        for name, test in vars(module).items():
            for entry in getattr(test, "entries_of_register", ()):
                place = f"{path.name}::{name}"
                found.append(replace(entry, test=place, points=_points(test)))
    return tuple(sorted(found, key=lambda entry: (entry.subject, entry.test, entry.what)))


def _points(test: Any) -> int:
    count = 1
    for mark in getattr(test, "pytestmark", ()):
        if mark.name == "parametrize":
            count *= len(list(mark.args[1]))
    return count


def subjects() -> tuple[str, ...]:
    """The calculation subjects, and the groundwork that several of them stand on."""
    return tuple(dict.fromkeys((*sorted(run.subjects()), *GROUNDWORK)))


def page() -> str:
    """The register as Markdown."""
    entries = checks()
    outside = [entry for entry in entries if entry.how.counts]
    apart = [entry for entry in entries if not entry.how.counts]
    by_how = Counter(entry.how for entry in entries)
    points = sum(entry.points for entry in outside)
    return "\n".join(
        [
            "# Published checks",
            "",
            "Written by `python -m tests.published.register` from the tests themselves; a test compares it.",
            "",
            f"**{len(outside)} checks not from memory** ({by_how[How.READ]} read, {by_how[How.PACKAGE]} against a "
            f"reference library), tried at {points} points. Listed apart and not counted: {by_how[How.MEMORY]} from "
            f"memory, {by_how[How.CLOSED_FORM]} closed forms worked here.",
            "",
            "*Read* is a published text that was opened; the place says which text, and where the figures stand second "
            "hand. *Reference library* is a number that somebody else's code computed in the test.",
            "",
            "| subject | read | library | memory or closed form |",
            "|---|---|---|---|",
            *_counts(entries),
            "",
            "Looked for in public text and not found, its pieces held one by one:",
            "",
            *(f"- {one}" for one in NOT_FOUND),
            "",
            "## Not from memory",
            "",
            *_table(outside),
            "",
            "## From memory, and closed forms: not counted",
            "",
            *_table(apart),
            "",
        ]
    )


def _counts(entries: Iterable[Published]) -> list[str]:
    entries = list(entries)
    lines = []
    for subject in subjects():
        by_how = Counter(entry.how for entry in entries if entry.subject == subject)
        rest = by_how[How.MEMORY] + by_how[How.CLOSED_FORM]
        lines.append(f"| {subject} | {by_how[How.READ]} | {by_how[How.PACKAGE]} | {rest} |")
    return lines


def _table(entries: Iterable[Published]) -> list[str]:
    lines = [
        "| subject | what is compared | source, edition | place | tolerance | how | points | test |",
        "|---|---|---|---|---|---|---|---|",
    ]
    for one in entries:
        source = f"{one.source}, {one.edition}" if one.edition else one.source
        cells = (one.subject, one.what, source, one.place, one.tolerance, one.how, str(one.points), one.test)
        lines.append("| " + " | ".join(cell.replace("|", "/") for cell in cells) + " |")
    return lines


if __name__ == "__main__":
    PAGE.write_text(page(), encoding="utf-8")
