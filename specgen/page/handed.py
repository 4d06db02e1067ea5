"""What the views of decisions share: the submittal of an address, who signs, and files that are saved."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import TypeVar
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import Response

from specgen.files.foreign import refused
from specgen.files.writing import OutputFolder
from specgen.page.answer import Form
from specgen.page.desk import Desk
from specgen.register.results import RESULTS
from specgen.sections.words import sentence
from specgen.work.accepting import Decision
from specgen.work.deciding import Recorded
from specgen.work.filed import named, requests_of, submittals_of
from specgen.work.papers import papers_folder
from specgen.work.registering import register_folder

KEPT = 8  # verdicts of one state
T = TypeVar("T")
UNSIGNED = "Say who signs: type your name, or set it at the foot of the page."


def judged_once(desk: Desk, key: object, make: Callable[[], T]) -> T:
    """A verdict that was made of this state before, else made now; the last few of a state are kept."""
    kept: dict[object, T] = desk.once("verdicts", dict)
    if key not in kept:
        kept[key] = make()
        while len(kept) > KEPT:
            del kept[next(iter(kept))]
    return kept[key]


def submittal_path(request: Request, desk: Desk) -> Path:
    """The submittal that the address names.

    Raises:
        InputError: there is none.
    """
    return named(submittals_of(desk.folder), request.path_params["name"], "submittal")


def request_path(request: Request, desk: Desk) -> Path:
    """The substitution request that the address names; raises as :func:`submittal_path`."""
    return named(requests_of(desk.folder), request.path_params["name"], "request")


def signed(desk: Desk, form: Form) -> str:
    """Who signs: the name of the form, else the one that the person works under."""
    return form["by"] or desk.person


def today() -> date:
    """The day of the system."""
    return date.today()


def day_of(words: str, name: str) -> date | None:
    """A day as a form sends it; None where none was chosen.

    Raises:
        InputError: it is no day.
    """
    try:
        return date.fromisoformat(words) if words else None
    except ValueError:
        raise refused(name, f"`{words[:40]}` is no date", "write 2027-03-01") from None


def results() -> tuple[str, ...]:
    """The results that an office writes, in the trade's words."""
    return RESULTS


def entered(done: Recorded, decision: Decision, paper: str) -> str:
    """What was recorded of a decision, in sentences; ``paper`` is what was written of it: letter, form."""
    where = "accepted.yaml and the register" if done.record else "the register"
    says = sentence(f"Entered in {where}: {decision.result}, {decision.by}")
    says += f" {paper}: {done.paper.parent.name}/{done.paper.name}."
    return says + "".join(f" {sentence(note)}" for note in done.notes)


def register_papers(desk: Desk) -> OutputFolder:
    """The folder that letters and forms stand in with the register; for what is saved, and not written there."""
    project, practice = desk.inputs.project, desk.inputs.practice
    return papers_folder(register_folder(project), project, practice, other_project=True)


def saved(name: str, data: bytes) -> Response:
    """A file that the browser saves, and never shows as a page."""
    heads = {"content-disposition": f"attachment; filename*=UTF-8''{quote(name)}"}
    return Response(data, media_type="application/octet-stream", headers=heads)
