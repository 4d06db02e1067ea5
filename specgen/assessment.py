"""One project, assessed: calculations, requirements and findings, each made once from the one before."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.design.run import calculate_all
from specgen.model.calculation import Calculation
from specgen.model.finding import Finding, Outcome, Severity
from specgen.model.project import Project
from specgen.model.requirement import RequirementSet
from specgen.practice.entries import Practice
from specgen.requirements.derive import derive
from specgen.rules.book import run


@dataclass(frozen=True)
class Assessment:
    """A project with everything that follows from it."""

    project: Project
    practice: Practice
    calculations: tuple[Calculation, ...]
    requirements: RequirementSet
    findings: tuple[Finding, ...]

    @property
    def system(self) -> str:
        """The language of units of the project's documents."""
        return self.project.info.word("units") or "inch-pound"

    def failed(self, severity: Severity) -> tuple[Finding, ...]:
        """The failed findings of one severity."""
        return tuple(one for one in self.findings if one.outcome is Outcome.FAIL and one.severity is severity)

    def undetermined(self) -> tuple[Finding, ...]:
        """The findings that wait for data."""
        return tuple(one for one in self.findings if one.outcome is Outcome.UNDETERMINED)


def assess(project: Project, practice: Practice) -> Assessment:
    """Calculate, derive the requirements and run the rule book.

    Raises:
        RuleCrash: a rule failed to run; never counted as a pass.
    """
    calculations = calculate_all(project, practice)
    requirements = derive(project, calculations, practice)
    findings = run(project, calculations, requirements, practice)
    return Assessment(project, practice, calculations, requirements, findings)
