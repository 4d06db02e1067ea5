"""specgen substitute: a request to build something else, held against the project and everything that hangs on it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

import click

from specgen.commands.clauses import CLAUSES
from specgen.commands.common import (
    FORCE,
    FORMAT,
    OUTPUT,
    PROJECT,
    beside_lines,
    echo_json,
    exits,
    status,
)
from specgen.commands.inputs import ALLOW_CODE, OFFICE, WEATHER, Inputs, read_inputs
from specgen.commands.template import TEMPLATE, template_of
from specgen.commands.trial import value_for
from specgen.files.marks import InputError, InputProblem
from specgen.files.writing import OutputFolder, Written
from specgen.intake.submittal import nearest_parapet
from specgen.intake.substitution import load_request
from specgen.intake.values import UnusableValueError
from specgen.model.project import Project
from specgen.model.substitution import Request
from specgen.practice.entries import Practice
from specgen.units.quantity import QuantityError
from specgen.wall.edit import PRACTICE, PathError, with_value

if TYPE_CHECKING:
    from specgen.review.substitution import Substitution


@dataclass(frozen=True)
class SubstitutionRun:
    """What is printed as data of substitution requests."""

    project: str
    requests: tuple[Substitution, ...]
    files: Written


@click.command()
@PROJECT
@click.argument("requests", nargs=-1, required=True, type=click.Path(path_type=Path))
@OUTPUT
@OFFICE
@ALLOW_CODE
@WEATHER
@CLAUSES
@TEMPLATE
@FORCE
@FORMAT
@exits
def command(
    project: Path,
    requests: tuple[Path, ...],
    output: Path,
    office: Path | None,
    allow_code: bool,
    weather: Path | None,
    clauses: Path | None,
    template: Path | None,
    force: bool,
    form: str,
) -> int:
    """Put each substitution REQUEST into PROJECT and tell what it changes: a form (Word) and its data (JSON).

    Several requests are weighed one by one and together: the least sets that break the wall only together are told.

    Exit status: 0 nothing worse than corrections and nothing unknown, 1 a request to resubmit or that breaks the wall,
    2 unusable input, 3 nothing to resubmit, but what a request does to the wall is unknown.
    """
    from specgen.drawing.sheets import sheets
    from specgen.explain.bench import Bench
    from specgen.render.replies import add_substitution
    from specgen.review.substitution import Proposal, combined, substitution
    from specgen.specification import specify

    look = template_of(template)
    inputs = read_inputs(project, office, allow_code, weather, clauses)
    assessment = inputs.assessed()
    practice = assessment.practice
    read = load_all(requests, inputs)
    proposals = [Proposal(one, partial(proposed, practice=practice, request=one)) for one in read]
    before = specify(assessment)
    bench, drawn = Bench(assessment), sheets(before)
    together = combined(proposals, bench) if len(proposals) > 1 else ()
    folder = OutputFolder(output)
    done = []
    for proposal in proposals:
        one = substitution(proposal, bench, before, before.again(proposal.made(inputs.project)), drawn)
        one = replace(one, together=tuple(each for each in together if one.request.number in each.changes))
        done.append((one, add_substitution(folder, assessment, one, look)))
    written = folder.commit(force=force)
    if form == "json":
        echo_json(SubstitutionRun(inputs.project.title, tuple(one for one, _ in done), written))
    else:
        for one, name in done:
            click.echo(f"{one.request.number}: {output / name}")
            click.echo(f"    {one.recommendation.value} ({one.why})")
        for each in together:
            names = " and ".join(each.changes)
            click.echo(
                f"only together: {names}: {each.finding.code} at {each.parapet}: {each.finding.message}"
            )
        for line in beside_lines(written):
            click.echo(line)
        click.echo("These are recommendations. A person decides and signs.")
    return status([one for one, _ in done], failed=bool(together))


def load_all(paths: Iterable[Path], inputs: Inputs) -> list[Request]:
    """Every request file, checked against the project: its numbers, parapets and places; all problems in one run."""
    problems: list[InputProblem] = []
    found: list[Request] = []
    for path in paths:
        try:
            request = load_request(path, inputs.practice)
        except InputError as error:
            problems.extend(error.problems)
            continue
        problems.extend(_strange(request, inputs.project, found))
        try:
            proposed(inputs.project, inputs.effective(), request)
        except InputError as error:
            problems.extend(error.problems)
        found.append(request)
    if problems:
        raise InputError(problems)
    return found


def _strange(request: Request, project: Project, earlier: Iterable[Request]) -> Iterable[InputProblem]:
    from specgen.render.replies import substitution_stem

    known = tuple(parapet.name for parapet in project.parapets)
    meant = request.info.word("project")
    if meant and meant != project.info.word("number"):
        what = f"the request is for project `{meant}`, this is project `{project.info.word('number')}`"
        yield InputProblem(
            request.info.at("project"), what, "review it against its own project, or correct the number"
        )
    stem = substitution_stem(request.number)
    if stem == substitution_stem(""):
        what = f"request number `{request.number}` has no letter or digit from which to name its form"
        yield InputProblem(request.info.at("number"), what, "number it as S-1")
    if any(substitution_stem(one.number) == stem for one in earlier):
        yield InputProblem(
            request.info.at("number"), f"request number `{request.number}` is given twice", "number it anew"
        )
    for product in request.products:
        for name in product.parapets:
            if name not in known:
                yield InputProblem(
                    product.mark, f"no parapet `{name}` in the project", nearest_parapet(name, known)
                )


def proposed(project: Project, practice: Practice, request: Request) -> Project:
    """The project with a request in it.

    Raises:
        InputError: a change names no place of the project, or a value that cannot stand there.
    """
    from specgen.wall.products import not_placed, with_products

    problems = [
        InputProblem(
            one.product.mark, one.why, "name a role that the wall has, or change the assembly with `changes:`"
        )
        for one in not_placed(project, request.products)
    ]
    project = with_products(project, request.products, practice)
    for change in request.changes:
        try:
            if change.path.startswith(f"{PRACTICE}."):
                raise PathError("a number of the trade is not for a request to change")
            project = with_value(
                project, practice, change.path, value_for(project, practice, change.path, change.written)
            )
        except PathError as error:
            problems.append(
                InputProblem(change.mark, str(error), "name a place as `P-1.drainage layer.kind`")
            )
        except (UnusableValueError, QuantityError) as error:
            problems.append(InputProblem(change.mark, error.message, error.fix))
    if problems:
        raise InputError(problems)
    return project
