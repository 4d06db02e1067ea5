"""One project, assessed: calculations, requirements and findings, each made once from the one before."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from types import ModuleType

from specgen.design.run import on_demand
from specgen.model.calculation import OnDemand
from specgen.model.finding import Finding, Outcome, Severity
from specgen.model.project import Project, Waiver
from specgen.model.requirement import RequirementSet
from specgen.practice.entries import Practice
from specgen.practice.office import Office
from specgen.requirements.derive import derive
from specgen.rules.book import load_book, run_book
from specgen.rules.office import under_office, with_office_severity
from specgen.rules.waivers import in_force


@dataclass(frozen=True)
class Assessment:
    """A project with everything that follows from it."""

    project: Project
    practice: Practice
    calculations: Mapping[str, OnDemand]  # by parapet, then by subject; made when asked for
    requirements: RequirementSet
    findings: tuple[Finding, ...]
    office: Office | None = None
    clauses: Path | None = None  # folder of the office's own clauses

    @property
    def system(self) -> str:
        """The language of units of the project's documents."""
        return self.project.info.word("units") or "inch-pound"

    def failed(self, severity: Severity) -> tuple[Finding, ...]:
        """The failed findings of one severity."""
        return tuple(one for one in self.findings if one.outcome is Outcome.FAIL and one.severity is severity)

    def unknown(self) -> tuple[Finding, ...]:
        """The findings that wait for data, or for a person's answer."""
        return tuple(one for one in self.findings if one.open)

    @property
    def waivers_in_force(self) -> tuple[Waiver, ...]:
        """The project's waivers that waive a finding and have not ended at the issue date."""
        return in_force(self.project, self.findings)


def assess(
    project: Project,
    practice: Practice,
    office: Office | None = None,
    modules: Iterable[ModuleType] = (),
    clauses: Path | None = None,
) -> Assessment:
    """Calculate, derive the requirements and run the rule book.

    Args:
        project: the project.
        practice: the practice folder as shipped.
        office: the office's own standards, laid over the practice before anything is calculated.
        modules: rule modules of the office.
        clauses: the folder of the office's own clauses, from which its sections are written.

    Raises:
        RuleCrash: a rule failed to run; never counted as a pass.
        RuleBookError: a rule module cannot be used.
    """
    papers: tuple[Finding, ...] = ()
    adjusted = None
    if office is not None:
        practice, papers = under_office(practice, office, project)
        adjusted = partial(with_office_severity, office=office)
    practice = practice.in_units(project.info.word("units") or "inch-pound")
    calculations = on_demand(project, practice)
    requirements = derive(project, calculations, practice)
    book = load_book(practice, modules)
    findings = run_book(book, project, calculations, requirements, practice, papers, adjusted)
    return Assessment(project, practice, calculations, requirements, findings, office, clauses)
