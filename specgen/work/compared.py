"""Two states of a project, and everything that differs between what follows from them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

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
