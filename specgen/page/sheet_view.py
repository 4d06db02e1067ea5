"""The calculations of a parapet as the page shows them: what is made at once, what runs on request, what is tried."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.datastructures import QueryParams

from specgen.basis import content
from specgen.design import hourly_moisture, roof_junction, uncertainty, vapor_drive
from specgen.design.hourly_kept import HOLDS, NONE, STALE, KeyNow, key_now, standing
from specgen.design.run import everyday, subjects
from specgen.model.calculation import Calculation
from specgen.model.hourly import HourlyResult
from specgen.model.requirement import Requirement
from specgen.page import job_kinds
from specgen.page.desk import Desk
from specgen.page.jobs import DONE, Job, Jobs
from specgen.render import plots
from specgen.render.plotted import plotted
from specgen.units.quantity import QuantityError, parse, to_unit
from specgen.work.editing import Address
from specgen.work.hourly import YEARS
from specgen.work.sensitivity import Slide, slides

HOURS = hourly_moisture.SUBJECT
SLOW = (roof_junction.SUBJECT, uncertainty.SUBJECT)
"""Subjects that run in a job, and whose result stands with the state they were made of."""


@dataclass(frozen=True)
class SheetRow:
    """One subject of the list: its title, and its calculation, or None while it waits to be asked for."""

    subject: str
    title: str
    calculation: Calculation | None
    headline: tuple[tuple[str, str], ...] = ()  # title and value of the first results


def shown_subjects(desk: Desk) -> tuple[str, ...]:
    """The subjects that a parapet has, those on request last."""
    usual = everyday(desk.assessment.project.parapets)
    return (*usual, *(name for name in subjects() if name not in usual and (name in SLOW or name == HOURS)))


def title_of(subject: str) -> str:
    """The title of a subject."""
    return str(getattr(subjects()[subject], "TITLE", subject))


def rows(desk: Desk, jobs: Jobs, parapet: str) -> tuple[SheetRow, ...]:
    """The subjects at a parapet; nothing slow is made for it."""
    found = []
    for name in shown_subjects(desk):
        one = calculation_of(desk, jobs, parapet, name)
        headline: tuple[tuple[str, str], ...] = ()
        if one is not None and one.done:
            cells = (content.line_cells(line, desk.assessment) for line in list(one.results.values())[:2])
            headline = tuple((cell[1], cell[2]) for cell in cells)
        found.append(SheetRow(name, title_of(name), one, headline))
    return tuple(found)


def calculation_of(desk: Desk, jobs: Jobs, parapet: str, subject: str) -> Calculation | None:
    """A calculation of this state; None for a slow one that was not run on it."""
    if subject not in SLOW:
        return desk.assessment.calculations[parapet][subject]
    job = job_of(jobs, parapet, subject)
    made = job is not None and job.state == DONE and not job.outdated(desk.digest)
    return job.result if made and job is not None and isinstance(job.result, Calculation) else None


def job_of(jobs: Jobs, parapet: str, subject: str) -> Job | None:
    """The newest job for a sheet, whatever state it was made of."""
    return jobs.latest(job_kinds.HOURS if subject == HOURS else job_kinds.SHEET, job_title(parapet, subject))


def job_title(parapet: str, subject: str) -> str:
    """What the job for a sheet is called."""
    return f"{title_of(subject)}, {parapet}"


def quoting(desk: Desk, parapet: str, subject: str) -> tuple[Requirement, ...]:
    """The requirements at a parapet whose limit is a result of a calculation."""
    return tuple(
        one
        for one in desk.assessment.requirements.by_id.values()
        if parapet in one.parapets
        and one.origin.kind == "calculation"
        and one.origin.key.partition(".")[0] == subject
    )


@dataclass(frozen=True)
class KeptHours:
    """How the hours of a parapet stand: none kept, kept of an earlier wall, or kept and of the wall as it is."""

    state: str
    result: HourlyResult | None
    now: KeyNow

    @property
    def can_run(self) -> bool:
        """Whether nothing that a run needs is missing."""
        return bool(self.now.key)

    @property
    def words(self) -> str:
        """The state in words."""
        return {
            NONE: "No run is kept for this parapet.",
            STALE: "A run is kept, but the wall or the weather has changed since: it says nothing of this wall.",
            HOLDS: "A run is kept, of the wall as it is described now.",
        }[self.state]


def kept_hours(desk: Desk, parapet: str) -> KeptHours:
    """How the kept hours of a parapet stand, looked at once a state."""

    def made() -> KeptHours:
        project, practice = desk.assessment.stages[-1].memo.project, desk.assessment.practice
        wall = next(one for one in project.parapets if one.name == parapet)
        found = standing(project, wall, practice)
        now = found.now if found.result is not None else key_now(project, wall, practice, YEARS)
        return KeptHours(found.state, found.result, now)

    return desk.once(("kept hours", parapet), made)


@dataclass(frozen=True)
class TriedSlide:
    """One input with the value that is tried; as typed, and as a number in the unit of the stated one."""

    number: int  # in the form
    slide: Slide
    typed: str
    problem: str = ""

    @property
    def at(self) -> float:
        """The number that the slider stands at."""
        number = _number(self.slide, self.typed)
        return self.slide.stated.number if number is None else number

    @property
    def words(self) -> str:
        """The value as a project file says it."""
        return _with_unit(self.slide, self.typed)

    @property
    def moved(self) -> bool:
        """Whether another value than the stated one is tried."""
        return in_digits(self.at) != in_digits(self.slide.stated.number) or bool(self.problem)


def tried_slides(found: tuple[Slide, ...], asked: QueryParams) -> tuple[TriedSlide, ...]:
    """The inputs of a sheet with what a form asks for; what moved since the form was shown decides.

    Args:
        found: the inputs.
        asked: of the form: for each input ``try-N`` typed, ``slide-N`` slid, ``was-N`` as both were shown.
    """
    return tuple(_tried(number, one, asked) for number, one in enumerate(found))


def _tried(number: int, one: Slide, asked: QueryParams) -> TriedSlide:
    stated = in_digits(one.stated.number)
    was = asked.get(f"was-{number}", stated)
    typed, slid = asked.get(f"try-{number}", was).strip(), asked.get(f"slide-{number}", was)
    if typed == was and slid != was and (at := _float(slid)) is not None:
        typed = in_digits(one.near(at))
    typed = typed[:40] or stated
    problem = "" if _number(one, typed) is not None else f"{_with_unit(one, typed)} is no {one.title}"
    return TriedSlide(number, one, typed, problem)


def in_digits(number: float) -> str:
    """A number as a form has it."""
    return f"{number:.10g}"


def _float(words: str) -> float | None:
    try:
        return float(words)
    except ValueError:
        return None


def _with_unit(one: Slide, typed: str) -> str:
    bare = not any(letter.isalpha() or letter in "'\"%" for letter in typed)
    return f"{typed} {one.stated.unit}".strip() if bare else typed


def _number(one: Slide, typed: str) -> float | None:
    try:
        return to_unit(parse(_with_unit(one, typed), {one.stated.dimension}), one.stated.unit)
    except QuantityError:
        return None


def slides_of(desk: Desk, one: Calculation) -> tuple[Slide, ...]:
    """The inputs of a calculation that can be tried; none of one that runs on request alone."""
    if one.subject in SLOW or one.subject == HOURS:
        return ()
    return desk.once(("slides", one.parapet, one.subject), lambda: slides(desk.assessment, one))


PLOTTED = (vapor_drive.SUBJECT, *SLOW)
"""Subjects whose plot no sheet of the drawings shows."""


def plots_of(desk: Desk, parapet: str, subject: str) -> tuple[tuple[str, bytes], ...]:
    """Name and SVG of each plot of a calculation, made once a state; none where nothing can plot."""
    if subject not in PLOTTED:
        return ()

    def made() -> tuple[tuple[str, bytes], ...]:
        project, practice = desk.assessment.stages[-1].memo.project, desk.assessment.practice
        wall = next(one for one in project.parapets if one.name == parapet)
        try:
            plots.require_plots()
        except plots.PlotsMissingError:
            return ()
        found = plotted(project, wall, practice, (subject,))
        return tuple((name, plots.svg_and_png(figure)[0]) for _, name, figure in found)

    return desk.once(("plots", parapet, subject), made)


def address_of(path: str, parapet: str) -> Address:
    """Where a value that was tried stands in the project file.

    >>> address_of("site.wind_speed", "P-1"), address_of("P-1.top flashing.lap", "P-1").place
    (Address(record='site', parapet='', place='', key='wind_speed'), 'top flashing')
    """
    inside = path.startswith(f"{parapet}.")
    part, _, name = path.removeprefix(f"{parapet}." if inside else "").rpartition(".")
    if not inside:
        return Address(part, key=name)
    return Address("component" if part else "parapet", parapet, part, name)
