"""Substitution requests read, held against the project that they are for, and put into its walls."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path

from specgen.assessment import Assessment
from specgen.design.progress import in_turn
from specgen.drawing.sheets import sheets
from specgen.explain.bench import Bench
from specgen.files.marks import InputError, InputProblem
from specgen.intake.submittal import nearest_parapet
from specgen.intake.substitution import load_request
from specgen.intake.values import UnusableValueError
from specgen.model.project import Project
from specgen.model.substitution import Request
from specgen.practice.entries import Practice
from specgen.render.replies import substitution_stem
from specgen.review.hours import lost_hours
from specgen.review.substitution import Proposal, Substitution, combined, substitution
from specgen.specification import Specification
from specgen.units.quantity import QuantityError
from specgen.wall.edit import PRACTICE, PathError, with_value
from specgen.wall.products import not_placed, with_products
from specgen.work.hourly import Studied
from specgen.work.inputs import Inputs
from specgen.work.papers import wanted_to_issue
from specgen.work.values import value_for

Hours = Callable[[Assessment, tuple[str, ...]], Iterable[Studied]]  # of an assessed project, at some parapets


def substitutions(
    before: Specification, requests: Iterable[Request], hours: Hours | None = None
) -> tuple[Substitution, ...]:
    """Each request put into the project and weighed, alone and together with the others.

    Args:
        before: the project as specified.
        requests: of :func:`load_requests`.
        hours: runs the hours of walls whose kept result a request ends; None: that it ends is told alone.

    Returns:
        One a request, in the order given; ``together`` holds the sets that break the wall only together.
    """
    one = before.assessment
    proposals = [_with_hours(one, each, hours) for each in requests]
    bench, drawn = Bench(one, stated_only=True), sheets(before)
    together = combined(proposals, bench) if len(proposals) > 1 else ()
    return tuple(
        replace(
            substitution(each, bench, before, before.again(each.made(one.project)), drawn),
            together=tuple(least for least in together if each.request.number in least.changes),
        )
        for each in in_turn(proposals)
    )


def _with_hours(one: Assessment, request: Request, hours: Hours | None) -> Proposal:
    """A request with what becomes of the kept hourly results; what was run for it is kept in the proposed wall alone."""
    made = partial(proposed, practice=one.practice, request=request)
    after = one.again(made(one.project)) if one.project.hourly else one
    lost = lost_hours(one, after)
    if not lost or hours is None:
        return Proposal(request, made, lost)
    ran = {each.parapet: each for each in hours(after, tuple(each.parapet for each in lost))}
    lost = tuple(
        replace(each, after=ran[each.parapet].result, why=ran[each.parapet].why)
        for each in lost
        if each.parapet in ran
    )
    results = {each.parapet: each.after for each in lost if each.after is not None}

    def with_results(project: Project) -> Project:
        changed = made(project)
        return replace(changed, hourly={**changed.hourly, **results})

    return Proposal(request, with_results, lost)


def load_requests(paths: Iterable[Path], inputs: Inputs) -> list[Request]:
    """Every request file, checked against the project: its numbers, parapets and places; all problems in one run."""
    problems: list[InputProblem] = []
    found: list[Request] = []
    for path in paths:
        try:
            request = load_request(path, inputs.practice)
        except InputError as error:
            problems.extend(error.problems)
            continue
        problems.extend(misfits(request, inputs, found))
        found.append(request)
    if problems:
        raise InputError(problems)
    return found


def misfits(request: Request, inputs: Inputs, earlier: Iterable[Request] = ()) -> Iterator[InputProblem]:
    """What of a request does not fit the project that it is for: number, parapets, places and values."""
    yield from _strange(request, inputs.project, inputs.practice, earlier)
    try:
        proposed(inputs.project, inputs.effective(), request)
    except InputError as error:
        yield from error.problems


def _strange(
    request: Request, project: Project, practice: Practice, earlier: Iterable[Request]
) -> Iterable[InputProblem]:
    known = tuple(parapet.name for parapet in project.parapets)
    meant = request.info.word("project")
    if meant and not project.info.has("number"):
        yield from wanted_to_issue(project, practice, "number")
    elif meant and meant != project.info.word("number"):
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
            value = value_for(project, practice, change.path, change.written)
            project = with_value(project, practice, change.path, value, meant=change.meant)
        except PathError as error:
            problems.append(
                InputProblem(change.mark, str(error), "name a place as `P-1.drainage layer.kind`")
            )
        except (UnusableValueError, QuantityError) as error:
            problems.append(InputProblem(change.mark, error.message, error.fix))
    if problems:
        raise InputError(problems)
    return project
