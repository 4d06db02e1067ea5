"""Two states of a project, and everything that differs between what follows from them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import ClassVar

from specgen.design.changes import ResultChange
from specgen.drawing.sheets import sheets
from specgen.review.compare import Comparison, FindingChange, changed_findings, compare
from specgen.specification import Specification


@dataclass(frozen=True)
class Compared:
    """What differs between two states: findings that come and go, and every reading."""

    findings: tuple[FindingChange, ...]
    difference: Comparison
    SPREAD_PLAIN: ClassVar = ("difference",)

    @property
    def empty(self) -> bool:
        """Whether nothing differs."""
        return not self.findings and self.difference.empty


def compared(before: Specification, after: Specification) -> Compared:
    """Hold one state against another.

    Args:
        before: the project as it stood.
        after: as it stands, or another.
    """
    findings = changed_findings(before.assessment.findings, after.assessment.findings)
    return Compared(tuple(findings), compare(before, after, sheets(before)))


def by_parapets(results: Iterable[ResultChange]) -> tuple[tuple[ResultChange, tuple[str, ...]], ...]:
    """Results that change alike at several parapets once, with the parapets."""
    found: dict[tuple[object, ...], list[ResultChange]] = {}
    for one in results:
        times = "" if one.factor is None else f"{one.factor:.3g}"
        found.setdefault((one.subject, one.title, one.before, one.after, times), []).append(one)
    return tuple((same[0], tuple(one.parapet for one in same)) for same in found.values())
