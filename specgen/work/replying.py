"""Submittals and requests answered: judged against the project, and the letters and their data written."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from specgen.files.writing import Written
from specgen.model.submission import ProductReview, Submission
from specgen.model.substitution import Request
from specgen.render.replies import add_letters, add_review, add_substitution
from specgen.render.word_template import Template
from specgen.review.package import Reviewed, review_package
from specgen.review.substitution import Substitution
from specgen.specification import Specification
from specgen.work.inputs import Inputs
from specgen.work.papers import papers_folder
from specgen.work.requests import Hours, load_requests, substitutions
from specgen.work.submittals import load_submittals


@dataclass(frozen=True)
class Answer:
    """One reviewed submittal with the name of its letter."""

    submission: Submission
    reviews: tuple[ProductReview, ...]
    letter: str


@dataclass(frozen=True)
class Replies:
    """What was written: names of letters or forms in the order of the papers, and what became of their folder."""

    names: tuple[str, ...]
    written: Written


@dataclass(frozen=True)
class Sending:
    """How papers are written: the office's template, over files that were edited, into the folder of another project."""

    template: Template | None = None
    force: bool = False
    other_project: bool = False


def judged(paths: Sequence[Path], inputs: Inputs, spec: Specification) -> tuple[Reviewed, ...]:
    """Submittals against the requirements, in the wall, and along with each other.

    Args:
        paths: submittal files, judged as one package.
        inputs: what was read of the project.
        spec: the project as written.

    Raises:
        InputError: a file cannot be used, or is for another project.
    """
    return review_package(load_submittals(tuple(paths), inputs.project, inputs.practice), spec)


def write_reviews(
    output: Path,
    reviewed: Sequence[Reviewed],
    inputs: Inputs,
    spec: Specification,
    sending: Sending | None = None,
) -> tuple[tuple[Answer, ...], Written]:
    """Write a letter (Word) and its data (JSON) for each submittal.

    Args:
        output: the folder; with the data of the round before, comments keep their numbers.
        reviewed: of :func:`judged`.
        inputs: what was read of the project.
        spec: the project as written.
        sending: how they are written.

    Raises:
        InputError: the project lacks what its papers bear.
        OutputError: a file cannot be written.
    """
    how = sending or Sending()
    folder = papers_folder(output, inputs.project, inputs.practice, other_project=how.other_project)
    titles = {one.number: one.title for one in spec.sections}
    done = [
        Answer(one, reviews, add_review(folder, spec.assessment, one, reviews, how.template, titles)[0])
        for one, reviews in reviewed
    ]
    return tuple(done), folder.commit(force=how.force)


def write_letters(
    output: Path,
    reviewed: tuple[Reviewed, ...],
    inputs: Inputs,
    spec: Specification,
    day: date | None = None,
    sending: Sending | None = None,
) -> Replies:
    """Write the letters that a project and its submittals call for; raises as :func:`write_reviews`.

    Args:
        output: the folder with the numbers of earlier letters.
        reviewed: of :func:`judged`.
        inputs: what was read of the project.
        spec: the project as written.
        day: on which they go out; None: they have a line for it.
        sending: how they are written.
    """
    how = sending or Sending()
    folder = papers_folder(output, inputs.project, inputs.practice, other_project=how.other_project)
    names = add_letters(folder, spec.assessment, reviewed, how.template, day)
    return Replies(names, folder.commit(force=how.force))


def weighed(
    paths: Sequence[Path], inputs: Inputs, spec: Specification, hours: Hours | None = None
) -> tuple[Substitution, ...]:
    """Substitution requests put into the project, alone and together.

    Args:
        paths: request files.
        inputs: what was read of the project.
        spec: the project as written.
        hours: runs the hours of walls whose kept result a request ends; None: that it ends is said alone.

    Raises:
        InputError: a file cannot be used, or is for another project.
    """
    requests: list[Request] = load_requests(paths, inputs)
    return substitutions(spec, requests, hours)


def write_forms(
    output: Path,
    found: Sequence[Substitution],
    inputs: Inputs,
    spec: Specification,
    sending: Sending | None = None,
) -> Replies:
    """Write a form (Word) and its data (JSON) for each request; raises as :func:`write_reviews`."""
    how = sending or Sending()
    folder = papers_folder(output, inputs.project, inputs.practice, other_project=how.other_project)
    names = tuple(add_substitution(folder, spec.assessment, one, how.template) for one in found)
    return Replies(names, folder.commit(force=how.force))
