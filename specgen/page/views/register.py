"""The submittal register as a table with dates: what is due, what is late, and what people enter in its rows."""

from __future__ import annotations

from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.files.foreign import foreign_bytes, refused
from specgen.files.safe_names import safe_name
from specgen.files.withdrawn import REGISTER
from specgen.intake.workbook import LIMITS
from specgen.page.answer import Form, back, page, posted, shown
from specgen.page.desk import Desk
from specgen.page.handed import results, saved, today
from specgen.register.columns import FILLED, ID, ITEM, ROUND, TITLES
from specgen.register.merge import Register, Row
from specgen.register.rounds import FIRST_ROUND
from specgen.work.deciding import entered, sources_of
from specgen.work.register_run import Done
from specgen.work.register_run import shown as as_it_stands
from specgen.work.registering import Wanted, register_folder, schedule_beside, typed_row, wanted

SHOWN = ("submit", "needed", ROUND, "received", "returned", "recommended", "result", "by", "late")
KINDS = {"agreed": "date", "received": "date", "returned": "date", "result": "result"}
WAS = "was_"


def _asked(desk: Desk) -> Wanted:
    """What is due in this state; the schedule is read anew, for it may have changed."""
    path = schedule_beside(desk.inputs.project)
    key = ("due", foreign_bytes(path, 1_000_000) if path else b"")
    return desk.once(key, lambda: wanted(desk.specification(), path))


@shown
def register(request: Request, desk: Desk) -> Response:
    """The register as it stands today; nothing is written by looking at it."""
    asked = _asked(desk)
    sources = sources_of(desk.inputs, desk.inputs.practice)
    done = as_it_stands(sources, asked.due, asked.dates, today())
    only = request.query_params.get("only", "")
    rows = [row for row in done.register.rows.values() if _passes(row, only)]
    return page(
        request,
        "live/register.html",
        rows=[_row(row) for row in rows],
        all=len(done.register.rows),
        late=sum(bool(row.get("late")) for row in done.register.rows.values()),
        inside=sum(_passes(row, "review") for row in done.register.rows.values()),
        history=_history(done.register),
        only=only,
        chosen=request.query_params.get("row", ""),
        kept=sources.book.exists(),
        file=sources.book.relative_to(desk.folder).as_posix(),
        number=done.number,
        counted=bool(asked.dates.begins),
        problems=[str(one) for one in done.problems],
        notes=[*done.notes, *(f"{one.message} {one.fix}" for one in asked.stated.asked)],
        too_near=len(asked.too_near),
        titles=TITLES,
        shown=SHOWN,
        results=results(),
        today=today().isoformat(),
    )


def _passes(row: Row, only: str) -> bool:
    match only:
        case "late":
            return bool(row.get("late"))
        case "review":
            return row.get("received") is not None and row.get("returned") is None
        case "entered":
            return any(row.get(key) is not None for key in ("received", "returned", "result"))
        case _:
            return True


def _row(row: Row) -> dict[str, Any]:
    cells = {key: "" if row.get(key) is None else str(row[key]) for key in TITLES}
    cells[ROUND] = cells[ROUND] or FIRST_ROUND
    fields = [
        {"key": key, "title": TITLES[key], "kind": KINDS.get(key, "text"), "value": cells[key]}
        for key in FILLED
    ]
    return {"cells": cells, "fields": fields, "late": bool(row.get("late"))}


def _history(register: Register) -> list[dict[str, str]]:
    keys = (ITEM, ROUND, "submittal", "received", "returned", "result", "by")
    return [{key: "" if row.get(key) is None else str(row[key]) for key in keys} for row in register.history]


@posted
def typed(request: Request, desk: Desk, form: Form) -> Response:
    """Cells of one row as a person typed them. What somebody else entered meanwhile stands, and is told."""
    name = form[ID]
    was = {key: form[f"{WAS}{key}"] for key in FILLED}
    now = {key: form[key] for key in FILLED}
    one = typed_row(name, was, now, f"{REGISTER}.xlsx")
    done = entered(desk.inputs, desk.specification(), today(), (one,))
    return back(request, f"register#{quote(form['at'])}", _in_words(done, f"Entered: {form['item']}."))


@posted
def keep(request: Request, desk: Desk, form: Form) -> Response:
    """Write the register, or bring it up to date."""
    done = entered(desk.inputs, desk.specification(), today())
    return back(request, "register", _in_words(done, f"The register is kept, state {done.number}."))


@posted
def merged(request: Request, desk: Desk, form: Form) -> Response:
    """Copies of the register that other people filled, merged into it."""
    files = form.files("copies")
    if not files:
        raise refused("register", "no copy was chosen", "choose a workbook that was made from this register")
    with TemporaryDirectory(prefix="specgen-") as place:
        paths: list[Path] = []
        for one in files:
            data = one.file.read(LIMITS.file + 1)
            paths.append(
                Path(place) / safe_name(one.filename or "", ".xlsx", [path.name for path in paths], "copy")
            )
            paths[-1].write_bytes(data)
        done = entered(desk.inputs, desk.specification(), today(), copies=tuple(paths))
    return back(
        request,
        "register",
        _in_words(done, f"{len(files)} {'copy' if len(files) == 1 else 'copies'} merged."),
    )


def _in_words(done: Done, words: str) -> str:
    """What a run did, with what it could not do, in one line for the foot of the view."""
    parts = [words]
    for one in done.register.conflicts:
        parts.append(
            f"Somebody else filled {one.column} of {one.row}: {one.kept or 'blank'} stands, "
            f"{one.other or 'blank'} is listed among the conflicts in the workbook."
        )
    parts += [f"{note}." for note in done.notes]
    parts += [f"Not read: {one.message}." for one in done.problems]
    return " ".join(parts)


@shown
def workbook(request: Request, desk: Desk) -> Response:
    """The workbook of the register, to be saved and opened in a spreadsheet."""
    path = register_folder(desk.inputs.project) / f"{REGISTER}.xlsx"
    if not path.exists():
        raise refused(path.name, "there is no register yet", "keep it first")
    return saved(path.name, foreign_bytes(path, LIMITS.file))


ROUTES = (
    Route("/register", register),
    Route("/register", typed, methods=["POST"]),
    Route("/register/keep", keep, methods=["POST"]),
    Route("/register/merge", merged, methods=["POST"]),
    Route("/register/file", workbook),
)
