"""One project, assessed: calculations, requirements and findings, each made once from the one before."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import partial
from itertools import count
from pathlib import Path

from specgen.design.hourly_kept import standing
from specgen.design.run import OnDemand, on_demand
from specgen.model.finding import Finding, Severity
from specgen.model.project import Decision, Project
from specgen.model.requirement import RequirementSet
from specgen.model.submission import Submission
from specgen.model.substitution import Request
from specgen.paths.shapes import LayerPath
from specgen.practice.entries import Practice
from specgen.practice.office import Office
from specgen.requirements.complete import Address, Fills, Known, completed, fills
from specgen.requirements.derive import derive
from specgen.rules.book import BookEntry, load_book, run_book
from specgen.rules.office import under_office, with_office_severity
from specgen.rules.waivers import in_force
from specgen.rules.wall import Wall, walls_of
from specgen.wall.memo import Memo
from specgen.wall.paper_words import PaperWords, paper_words

ROUNDS = 6  # limits put in and derived again; real walls settle in two or three


class OpenPointsError(Exception):
    """An issue for bid or construction that leaves something open; ``points`` are the findings."""

    def __init__(self, project: Project, points: tuple[Finding, ...]) -> None:
        super().__init__(
            f"{project.title} is to be {project.state.lower()} with open points: nothing was written"
        )
        self.project, self.points = project, points


@dataclass(frozen=True)
class Stage:
    """A project with limits in place of what is not stated, and the requirements that follow from it."""

    memo: Memo  # what was worked out, and from which values
    requirements: RequirementSet
    put_in: Fills


@dataclass(frozen=True)
class Assessment:
    """A project with everything that follows from it.

    ``project`` is as its file states it; the calculations and the walls have the limit of a requirement wherever it
    states nothing and one is asked for.
    """

    project: Project
    practice: Practice
    calculations: Mapping[str, OnDemand]  # by parapet, then by subject; made when asked for
    requirements: RequirementSet
    findings: tuple[Finding, ...]
    walls: tuple[Wall, ...]  # the parapets as rules see them, in the order of the file
    book: tuple[BookEntry, ...]  # the rules that were run
    shipped: Practice  # the practice without the office's standards
    stages: tuple[Stage, ...] = field(repr=False, compare=False)  # the last is what everything rests on
    office: Office | None = None
    clauses: Path | None = None  # folder of the office's own clauses

    @property
    def system(self) -> str:
        """The language of units of the project's documents."""
        return self.project.system

    def issuable(self, marked: bool) -> Assessment:
        """The assessment as its documents may be issued: every door asks this before it writes.

        Args:
            marked: whether an issue for bid or construction may leave something open; every page then says so.

        Returns:
            This one, or the same with the mark.

        Raises:
            OpenPointsError: others would build or bid on a defect that stands, or on what is unknown.
        """
        points = tuple(
            one for one in self.findings if one.open or (one.failed and one.severity is Severity.DEFECT)
        )
        if not points or not self.project.final:
            return self
        if not marked:
            raise OpenPointsError(self.project, points)
        return self.again(replace(self.project, open_points=True))

    @property
    def with_hours_that_hold(self) -> Project:
        """The project as its papers know it: of the kept hourly results those alone that hold for the walls."""
        if not self.project.hourly:
            return self.project
        memo, kept = self.stages[-1].memo, self.project.hourly
        named = (one.name for one in self.project.parapets if one.name in kept)
        return replace(
            self.project, hourly={name: kept[name] for name in named if memo.at(standing, name).held}
        )

    @property
    def paths(self) -> tuple[LayerPath, ...]:
        """The paths of the control layers of every parapet."""
        return tuple(path for wall in self.walls for path in wall.paths)

    def again(self, project: Project) -> Assessment:
        """Another project assessed in the same way: same practice, office and rules.

        Only what rests on a value that differs is worked out; the result equals that of a new assessment.
        """
        return assess(project, self.shipped, self.office, self.book, self.clauses, self)

    def paper_words(self, *answered: Submission | Request) -> PaperWords:
        """How words are printed on papers that leave the office.

        Args:
            answered: submittals and requests that a paper answers; what people wrote in them is printed as written.
        """
        products = [product.name for one in answered for product in one.products]
        infos = [one.info for one in answered]
        return paper_words(self.practice.vocabulary, self.project, self.findings, infos, products)

    @property
    def waivers_in_force(self) -> tuple[Decision, ...]:
        """The project's waivers that waive a finding and have not ended at the issue date."""
        return in_force(self.project.waivers, self.project, self.findings)

    @property
    def answers_in_force(self) -> tuple[Decision, ...]:
        """The project's answers to what no rule covers."""
        return in_force(self.project.answers, self.project, self.findings)


def assess(
    project: Project,
    practice: Practice,
    office: Office | None = None,
    book: tuple[BookEntry, ...] | None = None,
    clauses: Path | None = None,
    before: Assessment | None = None,
) -> Assessment:
    """Calculate, derive the requirements and run the rule book.

    Args:
        project: the project.
        practice: the practice folder as shipped.
        office: the office's own standards, laid over the practice before anything is calculated.
        book: the rules, the office's own among them; None: those that ship with specgen.
        clauses: the folder of the office's own clauses, from which its sections are written.
        before: an assessment by the same practice, office and rules, from which what holds is taken over.

    Raises:
        RuleCrash: a rule failed to run; never counted as a pass.
        RuleBookError: a rule module cannot be used.
    """
    shipped = practice
    practice, papers = under_office(shipped, office, project)
    adjusted = partial(with_office_severity, office=office) if office is not None else None
    if before is not None and practice == before.practice:
        practice = before.practice
    stages = _settled(project, practice, before.stages if before else ())
    memo, requirements = stages[-1].memo, stages[-1].requirements
    calculations = on_demand(memo)
    memo.settle(requirements, before.requirements if before else None)
    walls = walls_of(memo.project, calculations, requirements, practice, memo)
    rules = load_book(shipped) if book is None else book
    findings = run_book(rules, walls, project, practice, papers, adjusted, memo)
    return Assessment(
        project,
        practice,
        calculations,
        requirements,
        findings,
        walls,
        rules,
        shipped,
        stages,
        office,
        clauses,
    )


def settled(project: Project, practice: Practice) -> Project:
    """A project with the limits of its requirements in place of what it leaves to the sections.

    Args:
        project: as stated.
        practice: the office's, where it has one.
    """
    return _settled(project, practice, ())[-1].memo.project


def _settled(project: Project, practice: Practice, before: tuple[Stage, ...]) -> tuple[Stage, ...]:
    """The project as stated with its requirements, and again with their limits put in until they no longer change.

    The last stage is the one that everything reads. A limit that has not settled after ``ROUNDS`` is taken out.
    """
    stages = [_stage(project, practice, {}, before[:1])]
    leave: frozenset[Address] = frozenset()
    for turn in count(1):
        found = fills(project, stages[-1].requirements, practice, leave)
        if found == stages[-1].put_in:
            return tuple(stages)
        if turn > ROUNDS:
            leave |= _restless(stages[-1].put_in, found)
            found = fills(project, stages[-1].requirements, practice, leave)
        put = completed(project, found, _known(before, turn))
        stages.append(_stage(put, practice, found, before[turn : turn + 1] or tuple(stages[-1:])))
    raise AssertionError("what never settles is taken out")


def _restless(old: Fills, new: Fills) -> frozenset[Address]:
    """The values whose limits differ between two turns."""
    every = {(at, *on) for fill in (old, new) for at, limits in fill.items() for on in limits}
    return frozenset(
        (at, place, name)
        for at, place, name in every
        if old.get(at, {}).get((place, name)) != new.get(at, {}).get((place, name))
    )


def _stage(project: Project, practice: Practice, put_in: Fills, before: tuple[Stage, ...]) -> Stage:
    memo = Memo(project, practice, before[0].memo if before else None)
    return Stage(memo, derive(project, on_demand(memo), practice, memo), put_in)


def _known(before: tuple[Stage, ...], turn: int) -> Known:
    """The parapets of an assessment before with what was put in at a turn."""
    if turn >= len(before):
        return {}
    stage = before[turn]
    pairs = zip(before[0].memo.project.parapets, stage.memo.project.parapets, strict=True)
    return {one.name: (one, stage.put_in.get(one.name, {}), put) for one, put in pairs}
