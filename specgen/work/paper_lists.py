"""What of submittals, requests and papers lies with a project, in lines of a list."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from specgen.files.marks import InputError
from specgen.files.withdrawn import REGISTER
from specgen.intake.submittal import submission_of
from specgen.intake.substitution import load_request
from specgen.model.project import Project
from specgen.practice.entries import Practice
from specgen.register.merge import Row
from specgen.work.confirming import products_of, text_of
from specgen.work.filed import papers_of, requests_of, submittals_of
from specgen.work.register_run import read_copy
from specgen.work.registering import register_folder

_UNITS = ("bytes", "kB", "MB")


@dataclass(frozen=True)
class SubmittalLine:
    """One submittal of a list; ``wrong`` is why it cannot be read, if so."""

    name: str
    number: str = ""
    round: int = 1
    sender: str = ""
    day: str = ""
    products: tuple[str, ...] = ()
    papers: tuple[str, ...] = ()
    to_confirm: int = 0
    result: str = ""  # of the register
    by: str = ""
    wrong: str = ""


@dataclass(frozen=True)
class RequestLine:
    """One substitution request of a list."""

    name: str
    number: str = ""
    sender: str = ""
    day: str = ""
    reason: str = ""
    result: str = ""
    by: str = ""
    wrong: str = ""


@dataclass(frozen=True)
class ListedPaper:
    """One paper of a list, and the submittals that values were read from it for."""

    name: str
    size: str
    submittals: tuple[str, ...]


@dataclass(frozen=True)
class PaperLists:
    """Everything that was handed in on a project."""

    submittals: tuple[SubmittalLine, ...]
    requests: tuple[RequestLine, ...]
    papers: tuple[ListedPaper, ...]


def paper_lists(project: Project, practice: Practice) -> PaperLists:
    """The lists of a project; a file that cannot be read stands in them with the reason.

    Args:
        project: in whose folder they lie.
        practice: the vocabulary.
    """
    folder = Path(project.path).parent
    results = _results(project)
    submittals = tuple(_submittal(path, practice, results) for path in submittals_of(folder))
    requests = tuple(_request(path, practice, results) for path in requests_of(folder))
    papers = tuple(
        ListedPaper(
            path.name,
            size_words(path.stat().st_size),
            tuple(one.name for one in submittals if path.name in one.papers),
        )
        for path in papers_of(folder)
    )
    return PaperLists(submittals, requests, papers)


def size_words(count: int) -> str:
    """A size of a file as a person reads it.

    >>> size_words(900), size_words(1_234_567)
    ('900 bytes', '1.2 MB')
    """
    size = float(count)
    for unit in _UNITS[:-1]:
        if size < 1000:
            return f"{size:.0f} {unit}"
        size /= 1000
    return f"{size:.1f} {_UNITS[-1]}"


def _results(project: Project) -> Mapping[tuple[str, str], Row]:
    """The rows of the register that hold a result, by number and round of their submittal."""
    path = register_folder(project) / f"{REGISTER}.xlsx"
    try:
        register = read_copy(path).register if path.exists() else None
    except InputError:
        return {}
    rows = [*register.history, *register.rows.values()] if register else []
    return {
        (str(row["submittal"]), str(row["round"])): row
        for row in rows
        if row.get("submittal") and row.get("result")
    }


def _submittal(path: Path, practice: Practice, results: Mapping[tuple[str, str], Row]) -> SubmittalLine:
    try:
        text = text_of(path)
        one = submission_of(text, path, practice)
        products = products_of(text, path, practice)
    except InputError as error:
        return SubmittalLine(path.stem, wrong=str(error.problems[0].message))
    number = one.info.word("number") or ""
    row = results.get((number, str(one.round)), {})
    return SubmittalLine(
        path.stem,
        number,
        one.round,
        one.info.word("from") or "",
        str(one.info.values.get("date") or ""),
        tuple(f"{each.title}: {each.name}" for each in products),
        tuple(dict.fromkeys(paper for each in products for paper in each.papers)),
        sum(value.open for each in products for value in each.values),
        str(row.get("result") or ""),
        str(row.get("by") or ""),
    )


def _request(path: Path, practice: Practice, results: Mapping[tuple[str, str], Row]) -> RequestLine:
    try:
        one = load_request(path, practice)
    except InputError as error:
        return RequestLine(path.stem, wrong=str(error.problems[0].message))
    row = next((row for (number, _), row in results.items() if number == one.number), {})
    return RequestLine(
        path.stem,
        one.number,
        one.info.word("from") or "",
        str(one.info.values.get("date") or ""),
        one.info.word("reason") or "",
        str(row.get("result") or ""),
        str(row.get("by") or ""),
    )
