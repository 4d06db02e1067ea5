"""The front door for Python: a project read, assessed, specified, calculated, written; products reviewed.

These calls are what the commands make. They, and the attributes that their docstrings and ``docs/python.md`` name, keep
their names and meaning while :data:`API` stays the same; everything else of specgen may change at any time.

>>> from specgen import api
>>> inputs = api.load("projects/faulty-parapet")
>>> assessment = api.assess(inputs)
>>> assessment.project.title, any(one.failed for one in assessment.findings)
('2602 Quarry Lane Clinic', True)
"""

from __future__ import annotations

import os
from collections.abc import Collection
from datetime import date
from pathlib import Path
from typing import Literal

from specgen.assessment import Assessment, OpenPointsError, settled
from specgen.design.run import calculate_all
from specgen.explain.commented import Commented, commented
from specgen.files.faults import OutputError
from specgen.files.marks import InputError, InputProblem
from specgen.files.writing import Written
from specgen.intake.comments import comments_beside
from specgen.intake.prices import load_prices
from specgen.model.calculation import Calculation
from specgen.model.finding import Finding, Outcome, Severity
from specgen.model.question import OpenQuestions
from specgen.model.submission import ProductReview, Recommendation, Submission
from specgen.propose.quantities import Prices
from specgen.propose.result import Proposed
from specgen.review.package import review_package
from specgen.review.substitution import Substitution
from specgen.specification import Specification
from specgen.specification import specify as _specified
from specgen.work.hourly import Studied, studies
from specgen.work.hourly_file import kept
from specgen.work.inputs import Inputs, read_inputs
from specgen.work.issue import Issued, StrictError, write_issue
from specgen.work.proposals import propose as proposed
from specgen.work.proposals import write_proposals
from specgen.work.questions import questions_of, write_questions
from specgen.work.requests import load_requests, substitutions
from specgen.work.submittals import load_submittals

API = 2  # rises when a call or an attribute named here changes its name or meaning

__all__ = [
    "API",
    "Assessment",
    "Calculation",
    "Commented",
    "Finding",
    "InputError",
    "InputProblem",
    "Inputs",
    "Issued",
    "OpenPointsError",
    "OpenQuestions",
    "Outcome",
    "OutputError",
    "ProductReview",
    "Proposed",
    "Recommendation",
    "Severity",
    "Specification",
    "StrictError",
    "Studied",
    "Submission",
    "Substitution",
    "Written",
    "assess",
    "calculate",
    "comments",
    "exchange",
    "hourly",
    "load",
    "propose",
    "questions",
    "review",
    "specify",
    "substitute",
    "write",
]

Place = str | os.PathLike[str]


def load(
    project: Place,
    *,
    office: Place | None = None,
    allow_office_code: bool = False,
    weather: Place | None = None,
    clauses: Place | None = None,
) -> Inputs:
    """Read a project file and the office's standards.

    Args:
        project: the folder that holds ``project.yaml``, or the file.
        office: the office file; None: ``office.yaml`` beside the project, if there is one.
        allow_office_code: whether rule modules that the office file names may be run.
        weather: a weather file (EPW, TMY3, TM2) in place of the one that the project names.
        clauses: folder of the office's own clauses; None: ``clauses`` beside the office file, if there is one.

    Returns:
        The inputs; ``project`` is the project as read.

    Raises:
        InputError: ``problems`` holds every problem with its mark (file, line, column), message and fix.
    """
    return read_inputs(
        Path(project), _path(office), allow_office_code, weather=_path(weather), clauses=_path(clauses)
    )


def assess(inputs: Inputs) -> Assessment:
    """Calculate, derive the requirements and run the rule book.

    Args:
        inputs: what :func:`load` read.

    Returns:
        The assessment; ``findings`` holds one of each rule and place, with ``code``, ``severity``, ``outcome``,
        ``message``, ``parapet``, ``mark``, ``failed`` and ``open``.

    Raises:
        RuleCrash: a rule failed to run.
    """
    return inputs.assessed()


def specify(assessment: Assessment) -> Specification:
    """Write the sections of an assessed project.

    Args:
        assessment: of :func:`assess`.

    Returns:
        The specification; ``sections`` have ``number`` and ``title``, ``rows`` are the submittal checklist.

    Raises:
        InputError: carries every problem of the office's clause files.
    """
    return _specified(assessment)


def comments(specification: Specification) -> tuple[Commented, ...]:
    """Read what people asked and answered on a project, in the file beside it.

    Args:
        specification: of :func:`specify`.

    Returns:
        The comments, those that wait for an answer first; each has ``comment`` (``name``, ``time``, ``text``,
        ``answers``, ``answered``), ``object`` (``where``, ``now``, ``gone``) and ``open``. None where there is no file.

    Raises:
        InputError: carries every problem of the file.
    """
    one = specification.assessment
    return commented(specification, comments_beside(Path(one.project.path), one.practice))


def exchange(
    specification: Specification, form: Literal["ids", "ifc", "bcf"], day: date | None = None
) -> bytes:
    """Make a file in an open format for other programs, as ``specgen exchange`` does.

    Args:
        specification: of :func:`specify`.
        form: ``ids``, the requirements; ``ifc``, the parapets as a building model; ``bcf``, findings and comments.
        day: that the topics of ``bcf`` bear; None: the issue date.

    Returns:
        The file, the same bytes for the same project.

    Raises:
        ValueError: the project describes nothing of it yet, or topics have no day.
        ModuleNotFoundError: ``ifc`` without the extra `bim`.
        InputError: as :func:`comments`.
    """
    if form == "ids":
        from specgen.render.ids import ids_file

        return ids_file(specification).data
    if form == "ifc":
        from specgen.render.ifc import ifc_file

        return ifc_file(specification, f"{specification.assessment.project.title or 'parapets'}.ifc")
    from specgen.render.bcf import bcf_file

    bears = day or date.fromisoformat(specification.assessment.project.issued)
    return bcf_file(specification, comments(specification), bears).data


def calculate(
    inputs: Inputs, subjects: Collection[str] | None = None, parapets: Collection[str] | None = None
) -> tuple[Calculation, ...]:
    """Run calculations, parapet by parapet.

    Args:
        inputs: what :func:`load` read.
        subjects: as ``coping wind``; None: all but the long studies.
        parapets: by name; None: all.

    Returns:
        One calculation a parapet and subject, with ``subject``, ``parapet``, ``done``, ``missing`` and ``results``
        (values with units).

    Raises:
        KeyError: no such subject, or no such parapet.
    """
    return calculate_all(inputs.project, inputs.effective(), subjects, parapets)


def hourly(
    inputs: Inputs,
    parapets: Collection[str] | None = None,
    *,
    years: int | None = None,
    cores: int = 1,
    keep: bool = True,
) -> tuple[Studied, ...]:
    """Run years of hours through the walls, as ``specgen hourly`` does; a result that holds is not run again.

    Args:
        inputs: what :func:`load` read.
        parapets: by name; None: all.
        years: at most so many; None: those of a kept result, else ten.
        cores: walls at a time, each in a process of its own.
        keep: keep each result beside the project as soon as it is there.

    Returns:
        For each parapet ``parapet``, ``state`` (kept, run, unknown), ``holds`` (the criterion; None where it is not
        known), ``why`` where it is not, and ``result`` with its ``cuts``.

    Raises:
        KeyError: no such parapet.
        InputError: what is kept cannot be read; nothing was written.
        OutputError: the result cannot be written.
    """
    practice = inputs.effective()
    project = settled(inputs.project, practice)
    wanted = [one for one in project.parapets if parapets is None or one.name in parapets]
    unknown = set(parapets or ()) - {one.name for one in wanted}
    if unknown:
        raise KeyError(f"no parapet {', '.join(sorted(unknown))}")
    running = studies(project, practice, wanted, years=years, cores=cores)
    found = {one.parapet: one for one in (kept(Path(project.path).parent, running) if keep else running)}
    return tuple(found[one.name] for one in wanted)


def propose(
    inputs: Inputs,
    folder: Place | None = None,
    *,
    prices: Place | None = None,
    force: bool = False,
    other_project: bool = False,
) -> Proposed:
    """Propose whole walls from facts, as ``specgen propose`` does.

    Args:
        inputs: what :func:`load` read; what the project leaves open is searched.
        folder: where the walls are written, each as a project file, with the page that compares them; None: nowhere.
        prices: a file of prices of parts, to compare by.
        force: overwrite files that somebody edited by hand; without it they are kept, the new text beside them.
        other_project: the folder may hold another project's papers; they move to ``withdrawn`` in it.

    Returns:
        ``walls`` that no other beats, with ``name``, ``measures``, ``reasons``, ``open_facts``, ``questions`` and
        ``omissions``; ``fallen``, how many walls each reason removed; ``give_up``, the fewest facts to give up where no
        wall fits.

    Raises:
        InputError: a fact is open without which no wall can be proposed, or the prices cannot be used.
        OutputError: the folder is another project's, or cannot be written; nothing was.
    """
    priced = None if prices is None else Prices(*load_prices(Path(prices), inputs.practice))
    ready = proposed(inputs, priced)
    if folder is not None and ready.proposed.walls:
        write_proposals(ready, inputs, Path(folder), force=force, other_project=other_project)
    return ready.proposed


def questions(assessment: Assessment, folder: Place | None = None) -> OpenQuestions:
    """What a project leaves open, in the order in which it is to be asked, as ``specgen check --questions`` does.

    Args:
        assessment: of :func:`assess`.
        folder: where the questions are written, as a form to send (Word) and as a page (HTML); None: nowhere.

    Returns:
        ``questions``, each with ``number``, ``key`` (where its answer is written), ``question``, ``answers``, ``where``,
        ``count`` (conclusions that hang on it), ``decides``, ``who`` and ``meanwhile``.

    Raises:
        OutputError: the folder is another project's, or cannot be written; nothing was.
    """
    found = questions_of(assessment)
    if folder is not None:
        write_questions(assessment, found, Path(folder))
    return found


def review(
    specification: Specification, *submittals: Place
) -> tuple[tuple[Submission, tuple[ProductReview, ...]], ...]:
    """Hold submitted products against the requirements and put them into the wall.

    Args:
        specification: of :func:`specify`.
        submittals: submittal files, judged as one package.

    Returns:
        Each submittal with one review a product: ``product``, ``recommendation``, ``why``, ``verdicts``. They
        recommend; a person decides and signs.

    Raises:
        InputError: carries every problem of every file.
    """
    one = specification.assessment
    return review_package(
        load_submittals(tuple(map(Path, submittals)), one.project, one.shipped), specification
    )


def substitute(specification: Specification, inputs: Inputs, *requests: Place) -> tuple[Substitution, ...]:
    """Put substitution requests into the project and tell what each changes, alone and together.

    Args:
        specification: of :func:`specify`.
        inputs: what :func:`load` read of the same project.
        requests: request files.

    Returns:
        One a request: ``request``, ``recommendation``, ``why``, ``products``, ``points``, ``closed``,
        ``difference``, ``together``. They recommend; a person decides and signs.

    Raises:
        InputError: carries every problem of every file.
    """
    return substitutions(specification, load_requests(tuple(map(Path, requests)), inputs))


def write(
    specification: Specification,
    folder: Place,
    *,
    force: bool = False,
    strict: bool = False,
    with_open_points: bool = False,
    other_project: bool = False,
    pdf: bool = False,
) -> Issued:
    """Write every document of an issue, as ``specgen write`` does.

    Args:
        specification: of :func:`specify`.
        folder: made if absent.
        force: overwrite files that somebody edited by hand; without it they are kept, the new text beside them.
        strict: write nothing where the linter has a remark, or two of the documents differ.
        with_open_points: write an issue for bid or construction that leaves something open; every page says so.
        other_project: the folder may hold another project's papers; they move to ``withdrawn`` in it.
        pdf: each Word file but the bound one as tagged PDF too, which needs the extra `pdf`.

    Returns:
        ``files`` (``folder``, ``written``, ``unchanged``, ``beside``, ``withdrawn``), ``remarks`` of the linter,
        ``addendum``, ``hand_edits``, ``former`` (another project that the folder was of) and ``because`` (of papers
        withdrawn, why).

    Raises:
        InputError: there is nothing to write.
        OpenPointsError: an issue for bid or construction has a defect that stands, or something unknown; ``points``.
        StrictError: as ``strict`` says; ``remarks``, ``contradictions``.
        OutputError: the folder is another project's, or cannot be written; nothing was.
    """
    return write_issue(
        specification,
        Path(folder),
        force=force,
        strict=strict,
        with_open_points=with_open_points,
        other_project=other_project,
        pdf=pdf,
    )


def _path(place: Place | None) -> Path | None:
    return None if place is None else Path(place)
