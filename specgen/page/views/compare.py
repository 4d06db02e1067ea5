"""This project against another state of it: a step that was made on the page, or a project in a folder below."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.intake.project import FILE_NAME, project_of
from specgen.page.answer import below, count_in, page, shown
from specgen.page.desk import Desk
from specgen.page.finding_rows import MARKS, plain_words
from specgen.specification import Specification, specify
from specgen.work.compared import Compared, by_parapets, compared
from specgen.work.inputs import read_inputs
from specgen.work.steps import Step

MOST_FOLDERS = 40
DEEPEST = 3


@shown
def compare(request: Request, desk: Desk) -> Response:
    """What differs between another state and this one; without a choice the state before the last step."""
    steps, at = desk.steps.all()
    asked = request.query_params
    context: dict[str, Any] = {
        "listed": [*enumerate(steps)][::-1],
        "at": at,
        "folders": tuple(_folders(desk)),
        "step": "",
        "folder": asked.get("folder", ""),
        "against": "",
        "found": None,
    }
    if asked.get("folder"):
        other = _of_folder(desk, asked["folder"])
        context |= {"against": f"the project in {asked['folder']}", "found": _held(desk, other)}
    elif steps:
        number = _number(asked.get("step", ""), at, len(steps))
        context |= {"step": number, "against": _words(steps[number], number, at)}
        step = steps[number]
        context["found"] = desk.once(("compared", step.text), lambda: _held(desk, _of_step(desk, step)))
    return page(
        request, "live/compare.html", **context, looks=MARKS, plain=plain_words(desk), by_parapets=by_parapets
    )


def _number(words: str, at: int, count: int) -> int:
    """The step that is asked for; the one before the state of the file where none is.

    Raises:
        LookupError: there is no such step.
    """
    if not words:
        return max(at - 1, 0)
    number = count_in(words)
    if number is None or number >= count:
        raise LookupError("There is no such step.")
    return number


def _words(step: Step, number: int, at: int) -> str:
    time = step.time.replace("T", " ")
    return (
        f"the file before the last step ({time})"
        if number == at - 1
        else f"the file at “{step.what}” ({time})"
    )


def _of_step(desk: Desk, step: Step) -> Specification:
    """The project as it was at a step, made once a state."""

    def made() -> Specification:
        text = desk.steps.text(step).decode("utf-8")
        project = project_of(text, desk.path, desk.inputs.practice, desk.options.weather)
        return specify(desk.assessment.again(project))

    return desk.once(("at a step", step.text), made)


def keep_before(desk: Desk, before: Specification) -> None:
    """Keep what was written of the state before the last step, which is looked at next.

    Args:
        desk: after the step.
        before: the project as specified before it.
    """
    steps, at = desk.steps.all()
    if at > 0:
        desk.once(("at a step", steps[at - 1].text), lambda: before)


def _of_folder(desk: Desk, name: str) -> Specification:
    """The project of a folder below.

    Raises:
        InputError: it cannot be read.
        PermissionError: it does not lie below.
    """
    one = desk.options
    inputs = read_inputs(below(desk, name), one.office, one.allow_code, one.weather, one.clauses)
    return specify(inputs.assessed())


def _held(desk: Desk, before: Specification) -> Compared:
    return compared(before, desk.specification())


def _folders(desk: Desk) -> Iterator[str]:
    """Folders below with a project file, a few levels deep; none whose name begins with a point."""
    waiting, found = [(desk.folder, 0)], 0
    while waiting and found < MOST_FOLDERS:
        folder, depth = waiting.pop(0)
        for one in _within(folder):
            if (one / FILE_NAME).is_file():
                found += 1
                yield one.relative_to(desk.folder).as_posix()
            if depth + 1 < DEEPEST:
                waiting.append((one, depth + 1))


def _within(folder: Path) -> list[Path]:
    try:
        inside = sorted(folder.iterdir())
    except OSError:
        return []
    return [one for one in inside if not one.name.startswith(".") and one.is_dir() and not one.is_symlink()]


ROUTES = (Route("/compare", compare),)
