"""specgen review: submitted products against the requirements; a letter and its data."""

from __future__ import annotations

from pathlib import Path

import click

from specgen.assessment import assess
from specgen.commands.common import (
    CLEAN,
    FAILED,
    FORCE,
    FORMAT,
    OUTPUT,
    PROJECT,
    beside_lines,
    echo_json,
    exits,
    told,
)
from specgen.files.marks import InputError, InputProblem
from specgen.files.writing import OutputFolder
from specgen.intake.project import load_project
from specgen.intake.submittal import load_submission, nearest_parapet
from specgen.model.project import Project
from specgen.model.submission import ProductReview, Recommendation, Submission
from specgen.practice.entries import Practice
from specgen.practice.load import load_practice

GOOD = (Recommendation.NO_EXCEPTIONS, Recommendation.CORRECTIONS)


@click.command()
@PROJECT
@click.argument("submittals", nargs=-1, required=True, type=click.Path(path_type=Path))
@OUTPUT
@FORCE
@FORMAT
@exits
def command(project: Path, submittals: tuple[Path, ...], output: Path, force: bool, form: str) -> int:
    """Review each SUBMITTAL against PROJECT: verdicts by attribute, a letter (Word) and its data (JSON).

    Exit status: 0 nothing worse than corrections, 1 a product to resubmit or rejected, 2 unusable input.
    """
    from specgen.render.outputs import add_review
    from specgen.review.judge import review
    from specgen.review.letter import review_json
    from specgen.sections.build import build_sections

    practice = load_practice()
    described = load_project(project, practice)
    submissions = load_all(submittals, described, practice)
    assessment = assess(described, practice)
    sections = build_sections(described, assessment.requirements, practice)
    stated = {key: ref for section in sections for key, ref in section.paragraphs.items()}
    folder = OutputFolder(output)
    done: list[tuple[Submission, tuple[ProductReview, ...], str]] = []
    for submission in submissions:
        reviews = review(submission, assessment.requirements, stated, practice, assessment.system)
        name, _letter = add_review(folder, assessment, submission, reviews)
        done.append((submission, reviews, name))
    written = folder.commit(force=force)
    if form == "json":
        echo_json(
            {
                "project": described.title,
                "reviews": [
                    review_json(one, reviews, practice, assessment.system) for one, reviews, _ in done
                ],
                **told(written),
            }
        )
    else:
        for submission, reviews, name in done:
            click.echo(f"{submission.info.word('number')}: {output / name}")
            for one in reviews:
                click.echo(f"    {one.product.name}: {one.recommendation.value} ({one.why})")
        for line in beside_lines(written):
            click.echo(line)
        click.echo("These are recommendations. A person decides and signs.")
    everything = [one for _, reviews, _ in done for one in reviews]
    return CLEAN if all(one.recommendation in GOOD for one in everything) else FAILED


def load_all(paths: tuple[Path, ...], project: Project, practice: Practice) -> list[Submission]:
    """Every submittal file, checked against the project's parapet names; all problems of all files in one run."""
    problems: list[InputProblem] = []
    submissions: list[Submission] = []
    known = tuple(parapet.name for parapet in project.parapets)
    numbers: dict[str, str] = {}
    for path in paths:
        try:
            submission = load_submission(path, practice)
        except InputError as error:
            problems.extend(error.problems)
            continue
        for product in submission.products:
            problems.extend(
                InputProblem(
                    product.mark, f"no parapet `{name}` in the project", nearest_parapet(name, known)
                )
                for name in product.parapets
                if name not in known
            )
        number = submission.info.word("number") or ""
        if number in numbers:
            where = submission.info.at("number")
            problems.append(
                InputProblem(
                    where, f"submittal number `{number}` is also in {numbers[number]}", "number it anew"
                )
            )
        numbers.setdefault(number, submission.path)
        submissions.append(submission)
    if problems:
        raise InputError(problems)
    return submissions
