"""specgen review: submitted products against the requirements; a letter and its data."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

import click

from specgen.commands.common import echo_json, exits, folder_lines, status
from specgen.commands.options import (
    ALLOW_CODE,
    CLAUSES,
    FORCE,
    FORMAT,
    OFFICE,
    OTHER_PROJECT,
    OUTPUT,
    PROJECT_FIRST,
    TEMPLATE,
    WEATHER,
)
from specgen.commands.reading import ReadPath
from specgen.commands.template import template_of
from specgen.commands.terminal import print_text
from specgen.design.progress import part, tell
from specgen.files.foreign import refused
from specgen.files.marks import InputError
from specgen.files.writing import Written
from specgen.model.submission import SubmittalReview
from specgen.work.inputs import read_inputs
from specgen.work.submittals import doubtful_dates, load_submittals

SUBMITTAL = "submittal"
DATA_SHEETS = (".pdf", ".docx", ".xlsx", ".csv")
MOST_FILES = 2000
_READ, _ASSESSED, _JUDGED = 0.2, 0.5, 0.8  # shares of the time [-]


@dataclass(frozen=True)
class ReviewRun:
    """What is printed as data of a review."""

    project: str
    reviews: tuple[SubmittalReview, ...]
    files: Written


@click.command()
@PROJECT_FIRST
@click.argument("submittals", nargs=-1, required=True, type=ReadPath())
@OUTPUT
@OFFICE
@ALLOW_CODE
@WEATHER
@CLAUSES
@TEMPLATE
@FORCE
@OTHER_PROJECT
@FORMAT
@exits
def command(
    project: Path,
    submittals: tuple[Path, ...],
    output: Path,
    office: Path | None,
    allow_code: bool,
    weather: Path | None,
    clauses: Path | None,
    template: Path | None,
    force: bool,
    other_project: bool,
    form: str,
) -> int:
    """Review each SUBMITTAL against PROJECT: verdicts by attribute, a letter (Word) and its data (JSON).

    A folder stands for the submittal files in it; what else lies in it is left aside and named.

    Exit status: 0 nothing worse than corrections and nothing unknown, 1 a product to resubmit or rejected, 2 unusable
    input, 3 nothing to resubmit, but a value is to be confirmed, or what a product does to the wall is unknown.
    """
    from specgen.render.replies import review_data
    from specgen.review.package import review_package
    from specgen.specification import specify
    from specgen.work.papers import refuse_unready
    from specgen.work.replying import Sending, write_reviews

    look = template_of(template)
    inputs = read_inputs(project, office, allow_code, weather, clauses)
    refuse_unready(inputs.project, inputs.practice)
    described = inputs.project
    submittals, aside = sorted_paper(submittals)
    for line in aside:
        print_text(line, err=True)
    submissions = load_submittals(submittals, described, inputs.practice)
    for submission in submissions:
        for line in doubtful_dates(submission, described, date.today()):
            print_text(f"note: {line}", err=True)
    tell(_READ)
    spec = specify(inputs.assessed())
    with part(_ASSESSED, _JUDGED):
        reviewed = review_package(submissions, spec)
    done, written = write_reviews(output, reviewed, inputs, spec, Sending(look, force, other_project))
    tell(1.0)
    if form == "json":
        found = tuple(review_data(output, spec.assessment, one.submission, one.reviews) for one in done)
        echo_json(ReviewRun(described.title, found, written))
    else:
        for answer in done:
            print_text(f"{answer.submission.info.word('number')}: {output / answer.letter}")
            for one in answer.reviews:
                print_text(f"    {one.product.name}: {one.recommendation.value} ({one.why})")
                for place in one.places:
                    at = ", ".join(place.parapets)
                    print_text(f"        at {at}: {place.recommendation.value} ({place.why})")
                for note in one.notes:
                    print_text(f"        note: {note}")
                if one.alternatives:
                    print_text(f"        for the same place as {', '.join(one.alternatives)}: choose one")
        for line in folder_lines(written):
            print_text(line)
        print_text("These are recommendations. A person decides and signs.")
    return status(one for answer in done for one in answer.reviews)


def sorted_paper(paths: tuple[Path, ...]) -> tuple[tuple[Path, ...], tuple[str, ...]]:
    """The submittal files among the given paths, and a line for what a folder holds besides them.

    A file that is named is taken as it is; of a folder, the files whose keys say that they are submittals.

    Raises:
        InputError: a folder holds no submittal file, or too many files.
    """
    files: list[Path] = []
    aside: list[str] = []
    for path in paths:
        if not path.is_dir():
            files.append(path)
            continue
        inside = sorted(one for one in path.iterdir() if not one.is_dir())
        if len(inside) > MOST_FILES:
            what = f"the folder holds {len(inside)} files, at most {MOST_FILES}"
            raise refused(path, what, "name the submittals")
        kinds = {one: _kind_of_file(one) for one in inside}
        files += [one for one, kind in kinds.items() if kind == SUBMITTAL]
        aside += [f"left aside: {one} ({kind})" for one, kind in kinds.items() if kind != SUBMITTAL]
        if SUBMITTAL not in kinds.values():
            what = "the folder holds no submittal file"
            raise refused(path, what, "name a folder with submittal files (YAML)")
    return tuple(files), tuple(aside)


def _kind_of_file(path: Path) -> str:
    """``submittal``, or what else a file of a folder is."""
    from specgen.files.yaml_reader import read_yaml
    from specgen.intake.wrong_file import kind_of_tree

    if path.suffix.lower() in DATA_SHEETS:
        return "a data sheet: specgen read"
    if path.suffix.lower() not in (".yaml", ".yml"):
        return "no submittal file"
    try:
        root = read_yaml(path)
    except InputError:
        return SUBMITTAL  # read as one, so that its mistake is told with its line
    kind = kind_of_tree(root)
    return SUBMITTAL if kind in ("", SUBMITTAL) else f"a {kind} file"
