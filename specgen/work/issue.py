"""An issue written: refused where it may not go out, read by the linter, its documents held against each other."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from specgen.agreement.reader import contradictions
from specgen.agreement.statement import Contradiction
from specgen.assessment import Assessment
from specgen.files.archive import zip_deterministic
from specgen.files.lock import locked
from specgen.files.marks import InputProblem
from specgen.files.withdrawn import Owner
from specgen.files.writing import Written
from specgen.intake.accepted import FILE_NAME as ACCEPTED
from specgen.intake.accepted import load_accepted
from specgen.intake.comments import comments_beside
from specgen.render.issues import Record, edits_by_hand, project_folder, read_record
from specgen.render.outputs import absent, add_issue, clauses_read, inputs_read
from specgen.render.word_template import Template
from specgen.render.word_text import HandEdit
from specgen.sections.addendum import Addendum, NotFollowed
from specgen.sections.lint import Remark
from specgen.specification import Specification
from specgen.work.followed import not_followed
from specgen.work.lint_issue import lint_issue
from specgen.work.papers import refuse_unready


@dataclass(frozen=True)
class Issued:
    """An issue that was written."""

    files: Written
    remarks: tuple[Remark, ...]  # of the linter on the text
    addendum: Addendum | None  # what changed since an earlier issue in the folder
    hand_edits: Mapping[
        str, tuple[HandEdit, ...]
    ]  # in files that somebody edited, kept in place or withdrawn
    former: Owner | None  # another project that the folder was of
    because: Mapping[str, str]  # of papers withdrawn, why, where that can be told
    not_followed: tuple[
        NotFollowed, ...
    ] = ()  # of accepted substitutions, what the project file does not say


class StrictError(Exception):
    """An issue that is to be free of remarks and contradictions has some: nothing was written."""

    def __init__(self, remarks: tuple[Remark, ...], differing: tuple[Contradiction, ...] = ()) -> None:
        super().__init__("\n".join(str(one) for one in (*remarks, *differing)))
        self.remarks, self.contradictions = remarks, differing


def write_issue(
    spec: Specification,
    folder: Path,
    *,
    template: Template | None = None,
    force: bool = False,
    strict: bool = False,
    with_open_points: bool = False,
    other_project: bool = False,
    pdf: bool = False,
) -> Issued:
    """Write every document of an issue.

    Args:
        spec: the project as specified.
        folder: made if absent.
        template: the office's own look.
        force: overwrite files that somebody edited by hand; without it they are kept, the new text beside them.
        strict: write nothing where the linter has a remark, or two of the documents differ.
        with_open_points: write an issue for bid or construction that leaves something open; every page says so.
        other_project: the folder may hold another project's papers; they are withdrawn.
        pdf: each Word file but the bound one as tagged PDF too, which needs the extra.

    Raises:
        InputError: there is nothing to write, or the papers would lack what they bear.
        OpenPointsError: an issue for bid or construction has a defect that stands, or something unknown.
        StrictError: as ``strict`` says.
        OutputError: the folder is another project's, or cannot be written; nothing was.
    """
    refuse_unwritable(spec.assessment)
    issuable = spec.assessment.issuable(with_open_points)
    if issuable is not spec.assessment:
        spec = spec.again(issuable.project)
    beside = Path(spec.assessment.project.path).parent / ACCEPTED
    accepted = load_accepted(beside, spec.assessment.practice) if beside.is_file() else ()
    comments = comments_beside(Path(spec.assessment.project.path), spec.assessment.practice)
    behind = not_followed(spec.assessment.project, spec.assessment.practice, accepted)
    remarks = lint_issue(spec)
    if strict and remarks:
        raise StrictError(remarks)
    with locked(folder):
        record = read_record(folder)
        output = project_folder(folder, spec.assessment.project, record, other_project=other_project)
        former = output.former_owner()
        addendum = add_issue(
            output, spec, Record() if former else record, template, accepted, behind, comments, pdf
        )
        if strict and (found := contradictions(output.contents)):
            raise StrictError((), found)
        extra = {**inputs_read(spec.assessment.project), **clauses_read(spec.clauses)}
        written = output.commit(force=force, manifest_extra=extra)
        why, edits = _why(written, record, spec), edits_by_hand(written, record)
        return Issued(written, remarks, addendum, edits, former, why, behind)


def issue_archive(spec: Specification, scratch: Path, *, with_open_points: bool = False) -> bytes:
    """A whole issue as a zip archive, the same bytes for the same project.

    Args:
        spec: the project as specified.
        scratch: a folder in which the issue is written, and from which it is removed again.
        with_open_points: as for :func:`write_issue`, which raises the same errors.
    """
    with TemporaryDirectory(dir=scratch) as held:
        folder = Path(held) / "issue"
        write_issue(spec, folder, with_open_points=with_open_points)
        files = sorted(path for path in folder.rglob("*") if path.is_file())
        return zip_deterministic({path.relative_to(folder).as_posix(): path.read_bytes() for path in files})


def _why(written: Written, record: Record, spec: Specification) -> dict[str, str]:
    """Of papers withdrawn, by file, why, where that can be told."""
    reasons, issued = absent(spec), record.current.documents if record.current else {}
    numbers = {one.name: issued[one.name].page_prefix for one in written.withdrawn if one.name in issued}
    return {name: reasons[number] for name, number in numbers.items() if number in reasons}


def refuse_unwritable(assessment: Assessment) -> None:
    """Stop where the papers would lack what they bear, or no parapet lists a component: nothing can be specified.

    Raises:
        InputError: names each value, and the roles that are missing.
    """
    empty = _nothing_listed(assessment)
    refuse_unready(assessment.project, assessment.practice, empty)


def _nothing_listed(assessment: Assessment) -> tuple[InputProblem, ...]:
    parapets = assessment.project.parapets
    if any(part for parapet in parapets for part in parapet.components()):
        return ()
    roles = assessment.practice.vocabulary.roles.values()
    lists = {
        key: ", ".join(role.name for role in roles if role.where == where)
        for key, where in (("build_up", "build-up"), ("top", "top"))
    }
    return tuple(
        InputProblem(
            parapets[0].mark,
            f"no parapet lists a component, so no section can be written; missing in `{key}`: {names}",
            f"add `{key}:` with lines that start with `- role: …`, or name a `type` that has them",
        )
        for key, names in lists.items()
    )
