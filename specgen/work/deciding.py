"""What a person decides of a submittal or a request: entered beside the project and in its register."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from specgen.files.faults import OutputError
from specgen.files.foreign import refused
from specgen.files.withdrawn import REGISTER
from specgen.intake.accepted import FILE_NAME
from specgen.model.project import Record
from specgen.model.submission import Recommendation
from specgen.practice.entries import Practice
from specgen.register.results import fault_of, result_of
from specgen.register.typed import Decided, TypedRow
from specgen.review.package import Reviewed
from specgen.review.substitution import Substitution
from specgen.specification import Specification
from specgen.work.accepting import Decision, accept
from specgen.work.inputs import Inputs
from specgen.work.papers import refuse_unready
from specgen.work.register_run import Done, Sources
from specgen.work.registering import keep_register, register_folder, schedule_beside, wanted
from specgen.work.replying import write_forms, write_reviews
from specgen.work.reviews import load_reviews

ACCEPTED = (Recommendation.NO_EXCEPTIONS.value, Recommendation.CORRECTIONS.value)
REQUESTED = "Substitution request"
LONGEST = 2000  # characters of a note


@dataclass(frozen=True)
class Recorded:
    """Where a decision stands now: the letter or form, the record of what was accepted, and what the register says."""

    paper: Path
    record: Path | None  # None where the paper was not accepted
    register: Path
    notes: tuple[str, ...]


def decision_of(paper: Path, result: str, by: str, day: str, note: str = "") -> Decision:
    """A decision as a person states it, in the words of an office.

    Args:
        paper: a submittal or a substitution request.
        result: as it is written on such papers: no exceptions taken, approved as noted.
        by: who decided, by role and initials.
        day: as 2026-12-01.
        note: a condition.

    Raises:
        InputError: the result is none, nobody signs, or the day cannot be.
    """
    meant, name = result_of(result), paper.name
    if not meant:
        raise refused(name, fault_of(result), "choose one of them")
    if not by.strip():
        raise refused(name, "nobody signs the decision", "say who decided, by role and initials")
    if len(note) > LONGEST or len(by) > LONGEST:
        raise refused(name, f"a text is longer than {LONGEST} characters", "shorten it")
    try:
        decided = date.fromisoformat(day.strip())
    except ValueError:
        raise refused(name, f"`{day.strip()[:40]}` is no date", "write 2027-03-01") from None
    return Decision(paper, decided, " ".join(by.split()), meant, " ".join(note.split()))


def decide_submittal(
    decision: Decision, reviewed: Sequence[Reviewed], inputs: Inputs, spec: Specification, today: date
) -> Recorded:
    """Enter a decision on one submittal: its letter and data, ``accepted.yaml`` if it was accepted, the register.

    The tool recommends; what is entered is what the person decided, whatever was recommended.

    Args:
        decision: on the submittal.
        reviewed: the submittal as it was judged; the first of them is the one decided.
        inputs: what was read of the project.
        spec: the project as written.
        today: for what the register says of the day.

    Raises:
        InputError: the project lacks what papers bear, or the paper was accepted before; nothing was written.
        OutputError: a file cannot be written; the message says what was.
    """
    refuse_unready(inputs.project, inputs.practice)
    submission = reviewed[0][0]
    _refuse_before_receipt(decision, submission.info)
    record = _accepted(decision, inputs)
    entry = Decided(
        submission.info.word("number") or "",
        submission.round,
        decision.result,
        decision.by,
        decision.day,
        decision.note,
    )
    folder = register_folder(inputs.project)

    def write() -> tuple[Path, Done]:
        answers, _written = write_reviews(folder, reviewed[:1], inputs, spec)
        return folder / answers[0].letter, entered(inputs, spec, today, decided=(entry,))

    return _recorded(write, record, folder)


def decide_request(
    decision: Decision, found: Substitution, inputs: Inputs, spec: Specification, today: date
) -> Recorded:
    """Enter a decision on one substitution request, as :func:`decide_submittal` does on a submittal."""
    refuse_unready(inputs.project, inputs.practice)
    info = found.request.info
    _refuse_before_receipt(decision, info)
    record = _accepted(decision, inputs)
    received = info.values.get("date")
    entry = Decided(
        found.request.number,
        1,
        decision.result,
        decision.by,
        decision.day,
        decision.note,
        f"{REQUESTED} {found.request.number}",
        received if isinstance(received, date) else None,
    )
    folder = register_folder(inputs.project)

    def write() -> tuple[Path, Done]:
        forms = write_forms(folder, [found], inputs, spec)
        return folder / forms.names[0], entered(inputs, spec, today, decided=(entry,))

    return _recorded(write, record, folder)


def _refuse_before_receipt(decision: Decision, info: Record) -> None:
    received = info.values.get("date")
    if isinstance(received, date) and decision.day < received:
        what = f"it was decided on {decision.day}, before it was received on {received}"
        raise refused(decision.paper.name, what, "correct one of the two dates")


def _accepted(decision: Decision, inputs: Inputs) -> Path | None:
    return accept(inputs.project, inputs.practice, decision) if decision.result in ACCEPTED else None


def _recorded(write: Callable[[], tuple[Path, Done]], record: Path | None, folder: Path) -> Recorded:
    try:
        paper, done = write()
    except OutputError as error:
        if record is None:
            raise
        raise OutputError(
            f"{FILE_NAME} holds the decision; letter and register do not yet: {error}; enter the result in the register"
        ) from None
    return Recorded(paper, record, folder / f"{REGISTER}.xlsx", done.notes)


def sources_of(
    inputs: Inputs,
    practice: Practice,
    typed: tuple[TypedRow, ...] = (),
    decided: tuple[Decided, ...] = (),
    copies: tuple[Path, ...] = (),
) -> Sources:
    """The register of a project with the reviews that lie beside it, and what is to be entered in it.

    Raises:
        InputError: the data of a review cannot be used.
    """
    folder = register_folder(inputs.project)
    reviews = load_reviews(folder, practice) if any(folder.glob("review-*.json")) else ()
    return Sources(folder, REGISTER, copies, reviews=reviews, typed=typed, decided=decided)


def entered(
    inputs: Inputs,
    spec: Specification,
    today: date,
    typed: tuple[TypedRow, ...] = (),
    decided: tuple[Decided, ...] = (),
    copies: tuple[Path, ...] = (),
) -> Done:
    """Bring the register of a project up to date, with what is entered in it.

    Raises:
        InputError: the project lacks what papers bear, or a workbook or record cannot be used.
        OutputError: a file cannot be written.
    """
    asked = wanted(spec, schedule_beside(inputs.project))
    sources = sources_of(inputs, spec.assessment.practice, typed, decided, copies)
    return keep_register(sources, asked, inputs.practice, today)[0]
