"""Substitution requests: written from a form, held against the project and everything that hangs on it, decided."""

from __future__ import annotations

import hashlib
from pathlib import Path
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.files.marks import InputError, problem_lines
from specgen.page.answer import Form, back, page, posted, shown
from specgen.page.desk import Desk
from specgen.page.handed import (
    entered,
    judged_once,
    register_papers,
    request_path,
    results,
    saved,
    signed,
    today,
)
from specgen.page.verdict_rows import point_rows, product_rows
from specgen.render.replies import add_substitution
from specgen.review.substitution import Substitution
from specgen.work.deciding import decide_request, decision_of
from specgen.work.filed import named, requests_of, submittals_of
from specgen.work.paper_lists import paper_lists
from specgen.work.replying import weighed
from specgen.work.requesting import MOST_CHANGES, next_number, places_of, write_request

FACTS = (
    ("Received", "date"),
    ("From", "from"),
    ("Reason", "reason"),
    ("Effect on cost", "cost"),
    ("Effect on time", "time"),
)
OFFERED_ROWS = 4
_LISTS = (
    ("affected", "Trades that it touches"),
    ("to_show", "What the requester has to show"),
    ("unstated", "What the request does not say"),
    ("costs", "Costs that it brings"),
)


@shown
def new(request: Request, desk: Desk) -> Response:
    """The form of a request."""
    return page(
        request,
        "live/request_new.html",
        number=next_number(desk.folder, desk.inputs),
        today=today().isoformat(),
        places=places_of(desk.inputs.project),
        submittals=[
            one for one in paper_lists(desk.inputs.project, desk.inputs.practice).submittals if not one.wrong
        ],
        rows=range(1, OFFERED_ROWS + 1),
    )


@posted
def write(request: Request, desk: Desk, form: Form) -> Response:
    """A request written as a file of the project."""
    info = {key: form[key] for key in ("number", "date", "from", "reason", "cost", "time")}
    changes = [(form[f"set-{n}"], form[f"to-{n}"]) for n in range(1, MOST_CHANGES + 1)]
    product = named(submittals_of(desk.folder), form["product"], "submittal") if form["product"] else None
    path = write_request(desk.folder, desk.inputs, info, changes, product)
    return back(request, f"substitutions/{quote(path.stem)}", f"Request {form['number']} is written.")


def found_of(desk: Desk, path: Path, together: bool) -> Substitution:
    """A request as it is weighed in this state, alone or along with all others."""
    paths = [path, *(one for one in requests_of(desk.folder) if together and one != path)]
    contents = hashlib.sha256(b"\0".join(one.read_bytes() for one in paths)).hexdigest()
    spec = desk.specification()
    key = ("weighed", tuple(paths), contents)
    return judged_once(desk, key, lambda: weighed(paths, desk.inputs, spec))[0]


@shown
def one(request: Request, desk: Desk) -> Response:
    """What a request changes: point by point, in the wall, in papers, trades and order; and the form of the decision."""
    path = request_path(request, desk)
    together = "together" in request.query_params
    try:
        found = found_of(desk, path, together)
    except InputError as error:
        lines = list(problem_lines(error.problems))
        return page(request, "live/verdict_wrong.html", 422, name=path.stem, lines=lines)
    info = found.request.info
    difference = found.difference
    return page(
        request,
        "live/request.html",
        name=path.stem,
        one=found,
        facts=[(title, info.values.get(key)) for title, key in FACTS if info.has(key)],
        products=[
            {**product_rows(desk, number, each), "points": None} for number, each in enumerate(found.products)
        ],
        points=point_rows(desk, found.points),
        closed=point_rows(desk, found.closed),
        lists=[(title, getattr(found, key)) for key, title in _LISTS],
        changed=[
            ("Paths of the control layers", difference.paths),
            ("Paragraphs", difference.paragraphs),
            ("Submittals", difference.submittals),
            ("Order of work", difference.order),
        ],
        together=together,
        others=len(requests_of(desk.folder)) - 1,
        results=results(),
        recommended=found.recommendation.value,
        today=today().isoformat(),
    )


@posted
def decided(request: Request, desk: Desk, form: Form) -> Response:
    """The decision of a person on a request."""
    path = request_path(request, desk)
    decision = decision_of(path, form["result"], signed(desk, form), form["day"], form["note"])
    found = found_of(desk, path, bool(form["together"]))
    done = decide_request(decision, found, desk.inputs, desk.specification(), today())
    return back(request, f"substitutions/{quote(path.stem)}", entered(done, decision, "Form"))


@shown
def form_of(request: Request, desk: Desk) -> Response:
    """The form of a request as it stands now, to be saved; nothing is written into the project."""
    path = request_path(request, desk)
    folder = register_papers(desk)
    name = add_substitution(folder, desk.assessment, found_of(desk, path, "together" in request.query_params))
    return saved(name, folder.contents[name])


ROUTES = (
    Route("/substitutions/new", new),
    Route("/substitutions", write, methods=["POST"]),
    Route("/substitutions/{name}", one),
    Route("/substitutions/{name}/decide", decided, methods=["POST"]),
    Route("/substitutions/{name}/form", form_of),
)
