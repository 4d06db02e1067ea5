"""The submittal register of a project, for every door: what is due, how the workbook stands, and a run on it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from specgen.files.foreign import refused
from specgen.files.lock import locked
from specgen.files.marks import of_file, refuse
from specgen.files.withdrawn import REGISTER
from specgen.files.writing import Written
from specgen.intake.schedule import load_schedule
from specgen.model.project import Project
from specgen.model.schedule import Schedule
from specgen.practice.entries import Practice
from specgen.register.columns import DATES, FILLED, ROUND, TITLES
from specgen.register.dates import WorkDates, work_dates
from specgen.register.entries import RegisterEntry, entries
from specgen.register.merge import Row
from specgen.register.package import package_page
from specgen.register.results import RESULT, fault_of, result_of
from specgen.register.typed import TypedRow
from specgen.render.files import docx_bytes
from specgen.render.plain import in_plain_words
from specgen.specification import Specification
from specgen.work.papers import papers_folder
from specgen.work.register_run import Done, Sources, brought_on, read_copy

PAGE = "state-of-submittals.docx"
SCHEDULE = "schedule.yaml"  # beside the project file
FOLDER = (
    "review"  # in the project folder: register, letters and data of reviews, where no other has a register
)


@dataclass(frozen=True)
class Wanted:
    """The submittals that a project asks for, and the dates that they are counted from."""

    spec: Specification
    stated: Schedule
    dates: WorkDates
    due: tuple[RegisterEntry, ...]

    @property
    def too_near(self) -> list[str]:
        """The ids of submittals that are due before the issue date: the start of the work is too near."""
        issued = self.spec.assessment.project.info.values.get("issue_date")
        if not self.stated.start or not isinstance(issued, date):
            return []
        return [one.id for one in self.due if one.submit and one.submit < issued]


def wanted(spec: Specification, schedule: Path | None) -> Wanted:
    """What a project asks for.

    Args:
        spec: the project as written.
        schedule: start of the work and its times; None: no dates are counted.

    Raises:
        InputError: the schedule cannot be used.
    """
    stated = load_schedule(schedule, spec.assessment.practice) if schedule else Schedule()
    dates = work_dates(spec.assessment, stated)
    return Wanted(spec, stated, dates, entries(spec, dates))


def schedule_beside(project: Project) -> Path | None:
    """The schedule that lies beside a project file, or None."""
    path = Path(project.path).parent / SCHEDULE
    return path if path.is_file() else None


def register_folder(project: Project) -> Path:
    """The folder below that of a project in which its register lies, or is to lie."""
    folder = Path(project.path).parent
    found = sorted(one.parent for one in folder.glob(f"*/{REGISTER}.xlsx"))
    usual = folder / FOLDER
    return found[0] if found and usual not in found else usual


def keep_register(
    sources: Sources,
    asked: Wanted,
    practice: Practice,
    day: date,
    *,
    other_project: bool = False,
    page: bool = False,
    moved: Callable[[Written], None] | None = None,
) -> tuple[Done, Written]:
    """Write the register, or bring the one in its folder up to date.

    Args:
        sources: the folder, and what is merged into the register and entered in it.
        asked: what is due.
        practice: the practice as shipped.
        day: for which the register says who is waited for and what is late.
        other_project: the folder may be of another project, whose papers are withdrawn.
        page: write the state of the package on one page as well.
        moved: is called with what the papers of another project were moved for.

    Returns:
        The register after the run, and what was written of papers beside it.

    Raises:
        InputError: the project lacks what papers bear, or a workbook or record cannot be used.
        OutputError: a file cannot be written.
    """
    assessment = asked.spec.assessment
    folder = papers_folder(sources.folder, assessment.project, practice, other_project=other_project)
    with locked(sources.folder):
        if folder.former_owner():
            if sources.back_to is not None:
                what = "a state is brought back of the same project alone, and this folder is of another one"
                raise refused(sources.folder, what, "bring no state back, or name another folder")
            for path in sources.copies:
                read_copy(path)  # what cannot be read is refused before the other project's papers move
            left = folder.commit()
            if moved:
                moved(left)
        done = brought_on(sources, asked.due, assessment.project, asked.dates, day)
        if page:
            state = package_page(done.register, assessment, asked.dates, day)
            folder.add(PAGE, docx_bytes(in_plain_words(state, assessment.paper_words())))
        return done, folder.commit()  # from now on the folder is known as this project's


def typed_row(row: str, was: dict[str, str], now: dict[str, str], name: str) -> TypedRow:
    """A row as a person typed it into a form.

    Args:
        row: its id.
        was: the cells as the form showed them, by column.
        now: as they were sent.
        name: of what messages are about.

    Raises:
        InputError: a date or a result cannot be understood, or a submittal is returned before it is received.
    """
    problems = []
    cells: dict[str, Row] = {"was": {}, "now": {}}
    for side, given in (("was", was), ("now", now)):
        found = {}
        for key, text in given.items():
            words = " ".join(text.split())
            if key not in FILLED:
                continue
            try:
                found[key] = _cell(key, words)
            except ValueError as error:
                if side == "now":
                    problems.append(
                        of_file(name, f"`{TITLES[key]}`: {error}", "correct it; nothing was entered")
                    )
        cells[side] = found
    received, returned = (cells["now"].get(key) for key in ("received", "returned"))
    if isinstance(received, date) and isinstance(returned, date) and returned < received:
        what = f"it was returned on {returned}, before it was received on {received}"
        problems.append(of_file(name, what, "correct one of the two dates"))
    refuse(problems)
    return TypedRow(row, cells["was"], cells["now"])


def _cell(key: str, words: str) -> str | date | None:
    if not words:
        return None
    if key in DATES:
        try:
            return date.fromisoformat(words)
        except ValueError:
            raise ValueError(f"`{words[:40]}` is no date; write 2027-03-01") from None
    if key == RESULT:
        if not result_of(words):
            raise ValueError(fault_of(words))
        return result_of(words)
    if key == ROUND and len(words) > 40:
        raise ValueError("a round has a short name")
    return words[:2000]
