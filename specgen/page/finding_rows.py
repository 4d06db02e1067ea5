"""The findings of a state as the page lists them: each with a name for its address, in the groups of who must act."""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from specgen.model.finding import Finding, Outcome, Severity
from specgen.model.folded import FoldedFinding, folded
from specgen.page.desk import Desk
from specgen.page.places import wall_place
from specgen.wall.paper_words import PaperWords

MARKS = {
    Severity.DEFECT.value: "bad",
    Severity.RISK.value: "doubt",
    Severity.QUERY.value: "ask",
    Outcome.UNKNOWN.value: "ask",
    Outcome.NOT_COVERED.value: "ask",
}
"""The look of the word of a finding; the word says the same."""


@dataclass(frozen=True)
class FindingRow:
    """One finding of the list, at every parapet that shares it."""

    name: str
    shared: FoldedFinding

    @property
    def finding(self) -> Finding:
        """As the first parapet has it."""
        return self.shared.finding

    @property
    def look(self) -> str:
        """Of its word."""
        return MARKS.get(self.finding.word, "")


@dataclass(frozen=True)
class FindingGroup:
    """What is listed together, with who must act on it."""

    title: str
    rows: tuple[FindingRow, ...]
    settled: bool = False


def names(findings: Iterable[Finding]) -> Mapping[str, Finding]:
    """The findings that are shown, by a name that stays while the finding stands.

    The name is made of rule, parapet, component and attribute, and not of what the finding says: that changes with the
    value.
    """
    seen: Counter[tuple[str, ...]] = Counter()
    found: dict[str, Finding] = {}
    for one in findings:
        if one.shown:
            key = (one.code, one.parapet, one.layer, one.attribute)
            seen[key] += 1
            found[_name(key, seen[key])] = one
    return found


def _name(key: tuple[str, ...], number: int) -> str:
    return f"{key[0]}-{hashlib.sha256(repr((*key, number)).encode()).hexdigest()[:10]}"


def same_elsewhere(named: Mapping[str, Finding], one: Finding) -> tuple[tuple[str, Finding], ...]:
    """The findings that say the same of other parapets, with their names."""

    def words(finding: Finding) -> tuple[object, ...]:
        return finding.code, finding.severity, finding.outcome, finding.layer, finding.message

    return tuple(
        (name, other)
        for name, other in named.items()
        if other.parapet != one.parapet and words(other) == words(one)
    )


def groups(findings: Iterable[Finding], named: Mapping[str, Finding]) -> tuple[FindingGroup, ...]:
    """The findings as `specgen check` folds them: what fails, what is asked, what is unknown, what is settled.

    Args:
        findings: those that are looked at.
        named: all, by name.
    """
    by_identity = {id(one): name for name, one in named.items()}
    rows = [
        FindingRow(by_identity[id(one.finding)], one) for one in folded(one for one in findings if one.shown)
    ]
    fails = [one for one in rows if one.finding.failed]
    asked = [one for one in rows if one.finding.outcome is Outcome.FAIL and not one.finding.failed]
    unknown = [one for one in rows if one.finding.open]
    settled = [one for one in rows if not one.finding.counts]
    order = list(Severity)
    return tuple(
        FindingGroup(title, tuple(sorted(part, key=lambda one: order.index(one.finding.severity))), quiet)
        for title, part, quiet in (
            ("Defects and risks", fails, False),
            ("Queries: somebody answers or confirms in writing", asked, False),
            ("Unknown: the project does not say enough", unknown, False),
            ("Waived, answered, or not applicable", settled, True),
        )
        if part
    )


def place_of(finding: Finding) -> str:
    """Where the wall shows what a finding is about, below the base of the page; "" where it is about no parapet."""
    return "" if finding.parapet in ("", "all") else wall_place(finding.parapet, finding.layer)


def plain_words(desk: Desk) -> PaperWords:
    """How the page prints the words of rules: as papers do, for whoever has never seen the project file."""
    return desk.once("plain words", desk.assessment.paper_words)
