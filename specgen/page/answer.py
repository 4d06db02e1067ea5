"""How the page answers: whole views, the pieces of a live change, and errors in plain words."""

from __future__ import annotations

import logging
from collections.abc import Awaitable, Callable, Mapping, Sequence
from contextlib import AbstractContextManager, nullcontext
from functools import wraps
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from specgen.files.faults import Fault, OutputError
from specgen.files.marks import InputError, problem_lines
from specgen.model.folded import OPEN_WORDS, summary
from specgen.page.desk import ChangedError, Desk, NothingOpenError
from specgen.render.differing_lines import differing_lines
from specgen.render.page import page_template

MOST_FIELDS = 2_000
MOST_FILES = 20
LARGEST_FIELD = 200_000  # bytes
LIMITS = {"max_files": MOST_FILES, "max_fields": MOST_FIELDS, "max_part_size": LARGEST_FIELD}
UNUSABLE, CHANGED = 422, 409
_LOG = logging.getLogger(__name__)
Endpoint = Callable[[Request], Awaitable[Response]]


class Form:
    """What was posted: words by the names of fields, and files."""

    def __init__(self, data: FormData) -> None:
        self._data = data

    def __getitem__(self, name: str) -> str:
        """The words of a field, "" where it was not sent; the last where it was sent twice."""
        found = [one for one in self._data.getlist(name) if isinstance(one, str)]
        return found[-1].replace("\r\n", "\n").strip() if found else ""

    def every(self, name: str) -> tuple[str, ...]:
        """The words of each field of a name."""
        return tuple(one for one in self._data.getlist(name) if isinstance(one, str))

    def names(self) -> tuple[str, ...]:
        """The names of all fields, each once."""
        return tuple(dict.fromkeys(name for name, _ in self._data.multi_items()))

    def files(self, name: str) -> tuple[UploadFile, ...]:
        """The files of a field that have a name; each is read by `file.file.read()`."""
        return tuple(one for one in self._data.getlist(name) if isinstance(one, UploadFile) and one.filename)


def desk_of(request: Request) -> Desk:
    """The desk that the page works at."""
    desk: Desk = request.app.state.desk
    return desk


def live(request: Request) -> bool:
    """Whether a script of the page asks, and wants pieces of it."""
    return request.headers.get("hx-request") == "true"


def shown(view: Callable[[Request, Desk], Response]) -> Endpoint:
    """An endpoint for GET: the view is made in a thread, with the desk held."""

    @wraps(view)
    async def endpoint(request: Request) -> Response:
        return await run_in_threadpool(_answered, request, lambda desk: view(request, desk))

    return endpoint


def posted(view: Callable[[Request, Desk, Form], Response]) -> Endpoint:
    """An endpoint for POST: the form is read within limits, the view made in a thread, with the desk held."""

    @wraps(view)
    async def endpoint(request: Request) -> Response:
        async with request.form(**LIMITS) as data:
            return await run_in_threadpool(_answered, request, lambda desk: view(request, desk, Form(data)))

    return endpoint


def shown_apart(view: Callable[[Request, Desk], Response]) -> Endpoint:
    """As :func:`shown`, with the desk not held: for what waits for a process that reads files of other people."""

    @wraps(view)
    async def endpoint(request: Request) -> Response:
        return await run_in_threadpool(_answered, request, lambda desk: view(request, desk), nullcontext())

    return endpoint


def posted_apart(view: Callable[[Request, Desk, Form], Response]) -> Endpoint:
    """As :func:`posted`, with the desk not held; the view holds it where it reads what is shown."""

    @wraps(view)
    async def endpoint(request: Request) -> Response:
        async with request.form(**LIMITS) as data:
            form = Form(data)
            return await run_in_threadpool(
                _answered, request, lambda desk: view(request, desk, form), nullcontext()
            )

    return endpoint


def _answered(
    request: Request, make: Callable[[Desk], Response], held: AbstractContextManager[object] | None = None
) -> Response:
    desk = desk_of(request)
    with held or desk.lock:
        try:
            return make(desk)
        except NothingOpenError:
            return back(request, "")
        except ChangedError as error:
            return _changed(request, error)
        except InputError as error:
            return refused(request, list(problem_lines(error.problems)))
        except (KeyError, IndexError):
            raise  # a fault of the program, though a LookupError: never told as something that is not there
        except (OutputError, PermissionError, LookupError) as error:
            return refused(request, [str(error.args[0] if error.args else error)])
        except Fault as error:
            _LOG.exception("fault")
            return refused(request, [f"Fault of the program: {error}"], 500)


def _changed(request: Request, error: ChangedError) -> Response:
    """Somebody else changed the file: to the view that shows the difference, and refuses until it is read again."""
    where = f"{base_of(request)}changed"
    if live(request):
        return Response(status_code=CHANGED, headers={"HX-Redirect": where})
    rows = differing_lines(error.known, error.found)
    return page(request, "live/changed.html", CHANGED, rows=rows, gone=not error.found)


def page(request: Request, template: str, status: int = 200, **context: Any) -> HTMLResponse:
    """A whole view.

    Args:
        request: that asks for it.
        template: under ``templates``; it extends ``live/frame.html``.
        status: of the answer.
        context: what the template reads beside the frame.
    """
    return HTMLResponse(page_template(template).render(**frame(request), **context), status)


def pieces(
    request: Request, parts: Sequence[tuple[str, Mapping[str, Any]]], says: str = "", status: int = 200
) -> HTMLResponse:
    """The pieces of a view that a live change replaces.

    Args:
        request: that asks for them.
        parts: template and context of each; the first replaces what the script aimed at, others those of their ids.
        says: read out by a screen reader, and shown at the foot of the view.
        status: of the answer.
    """
    base = frame(request)
    out = [page_template(template).render(**base, **context) for template, context in parts]
    out.append(page_template("live/says.html").render(**{**base, "says": says, "apart": True}))
    return HTMLResponse("\n".join(out), status)


def piece(request: Request, template: str, **context: Any) -> HTMLResponse:
    """One piece of a view that is looked at again by itself: nothing is read out, and the frame is left alone."""
    return HTMLResponse(page_template(template).render(base=base_of(request), **context))


def back(request: Request, to: str, says: str = "") -> RedirectResponse:
    """The answer to a post without script: look at another view, which shows the words once."""
    if says:
        request.app.state.says = says
    return RedirectResponse(base_of(request) + to, 303)


def refused(request: Request, lines: Sequence[str], status: int = UNUSABLE) -> HTMLResponse:
    """What cannot be done, and why, line by line; nothing was written."""
    if live(request):  # whatever the form aimed at stays as it is
        words = page_template("live/says.html").render(
            **frame(request) | {"says": "Not done. " + " ".join(lines)}
        )
        aim = {"HX-Retarget": "#says", "HX-Reselect": "#says", "HX-Reswap": "outerHTML"}
        return HTMLResponse(words, status, aim)
    return page(request, "live/refused.html", status, lines=[*lines])


def count_in(words: str) -> int | None:
    """A whole number as an address or a form gives it, of at most nine digits; None for anything else.

    >>> count_in("12"), count_in("-1"), count_in("9" * 5000), count_in("²")
    (12, None, None, None)
    """
    return int(words) if words.isascii() and words.isdecimal() and len(words) < 10 else None


def base_of(request: Request) -> str:
    """The start of every address of the page, with the secret."""
    return str(request.app.state.base)


def frame(request: Request) -> dict[str, Any]:
    """What the frame of every view reads."""
    desk, state = desk_of(request), request.app.state
    says, state.says = getattr(state, "says", ""), ""
    words: dict[str, Any] = {
        "base": base_of(request),
        "desk": desk,
        "is_open": desk.is_open,
        "person": desk.person,
        "says": says,
        "here": here_of(request),
        "end_with_tab": bool(getattr(state, "end_with_tab", False)),
    }
    if desk.is_open:
        counts = desk.once("counts", lambda: summary(desk.assessment.findings))
        steps, at = desk.once("steps", desk.steps.all)
        words |= {
            "project": desk.assessment.project,
            "counts": [(counts[word], word) for word in OPEN_WORDS if counts[word]],
            "undo": steps[at].what if at > 0 else "",
            "redo": steps[at + 1].what if 0 <= at < len(steps) - 1 else "",
            "file_name": desk.path.name,
        }
    return words


def here_of(request: Request) -> str:
    """The view that is looked at, without the start of its address; of a post the one that it came from."""
    url = urlsplit(str(request.url) if request.method != "POST" else came_from(request))
    path = url.path.removeprefix(base_of(request)) if url.path.startswith(base_of(request)) else ""
    return path + (f"?{url.query}" if path and url.query else "")


def came_from(request: Request) -> str:
    """The address of the view that a form came from."""
    return request.headers.get("hx-current-url") or request.headers.get("referer") or ""


def below(desk: Desk, name: str) -> Path:
    """A file below the project folder, by the words of an address.

    Raises:
        PermissionError: it does not lie there.
    """
    path = (desk.folder / name).resolve()
    if not path.is_relative_to(desk.folder.resolve()):
        raise PermissionError("That file does not lie in the project folder.")
    return path
