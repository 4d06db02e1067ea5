"""A paper that a person accepted, entered in ``accepted.yaml`` beside the project without typing it again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from specgen.files.atomic import write_together
from specgen.files.foreign import in_utf8, present_bytes, refused
from specgen.files.lock import locked
from specgen.files.marks import refuse
from specgen.files.yaml_reader import MarkedList, read_yaml, read_yaml_text
from specgen.intake.accepted import FILE_NAME, accepted_in
from specgen.intake.formats import current
from specgen.intake.start import scalar
from specgen.intake.submittal import load_submission
from specgen.intake.substitution import load_request
from specgen.intake.wrong_file import kind_of_tree
from specgen.model.accepted import SUBMITTAL, SUBSTITUTION
from specgen.model.project import Project
from specgen.practice.entries import Practice

LARGEST = 5_000_000


@dataclass(frozen=True)
class Decision:
    """What a person decided of one paper."""

    paper: Path
    day: date
    by: str
    result: str
    note: str = ""


def accept(project: Project, practice: Practice, decision: Decision) -> Path:
    """Enter a decision in the record of the project; what stands there stays as it is written.

    Args:
        project: beside which the record lies.
        practice: the vocabulary.
        decision: on a submittal or a substitution request in the project's folder or below.

    Returns:
        The record.

    Raises:
        InputError: the paper is none, is for another project, or was accepted before; or the record cannot be
            continued. Nothing was written.
        OutputError: the record cannot be written.
    """
    folder = Path(project.path).parent
    path = folder / FILE_NAME
    kind, number = _paper(decision.paper, practice)
    if number and number != project.info.word("number"):
        what = f"the paper is for project `{number}`, this is project `{project.info.word('number')}`"
        raise refused(decision.paper, what, "accept it on its own project, or correct the number")
    with locked(folder):  # another run may enter a decision of its own
        before = present_bytes(path, LARGEST)
        text = (
            in_utf8(before, path) if before is not None else f"format: {current('acceptance')}\naccepted:\n"
        )
        whole, indent = _continued(text, path)
        whole += _entry(decision, kind, _inside(folder, decision.paper), indent)
        problems = accepted_in(whole, path, practice)
        refuse(problems)
        write_together({path: whole.encode("utf-8")})
    return path


def _paper(paper: Path, practice: Practice) -> tuple[str, str]:
    """Whether a paper is a submittal or a substitution request, and the number of its project; it is read in full."""
    root = read_yaml(paper)
    kind = kind_of_tree(root)
    if kind == "request":
        return SUBSTITUTION, load_request(paper, practice).info.word("project") or ""
    return SUBMITTAL, load_submission(paper, practice).info.word("project") or ""


def _inside(folder: Path, paper: Path) -> str:
    try:
        return paper.resolve().relative_to(folder.resolve()).as_posix()
    except ValueError:
        fix = "put the file beside the project file, or in a folder below it"
        raise refused(paper, "it does not lie in the project's folder", fix) from None


def _continued(text: str, path: Path) -> tuple[str, int]:
    """The record as it stands, open for another entry at its end, and by how many spaces its entries are indented."""
    root = read_yaml_text(text, str(path), want=dict)
    items = root.get("accepted")
    last = next(reversed(root), "")
    written = (
        isinstance(items, MarkedList) and items and "- " in text.splitlines()[items.items_at[0].line - 1]
    )
    if last != "accepted" or (items is not None and not written):
        fix = "let `accepted:` be the last key, with lines below it that start with `-`"
        raise refused(path, "another entry cannot be put at its end", fix)
    indent = items.items_at[0].column - 3 if isinstance(items, MarkedList) and items else 2
    return text if text.endswith("\n") else f"{text}\n", indent


def _entry(decision: Decision, kind: str, file: str, indent: int) -> str:
    values = {
        kind: file,
        "date": decision.day.isoformat(),
        "by": decision.by,
        "result": decision.result,
        "note": decision.note,
    }
    lines = [f"{key}: {words if key == 'date' else scalar(words)}" for key, words in values.items() if words]
    pad = " " * indent
    return f"{pad}- " + f"\n{pad}  ".join(lines) + "\n"
