"""One submittal: values beside the pictures of their places, the verdict by row and in the wall, the decision."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import Any
from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.files.foreign import refused
from specgen.files.marks import InputError, problem_lines
from specgen.page.answer import Form, back, count_in, live, page, pieces, posted, shown, shown_apart
from specgen.page.desk import Desk
from specgen.page.handed import (
    UNSIGNED,
    entered,
    judged_once,
    register_papers,
    results,
    saved,
    signed,
    submittal_path,
    today,
)
from specgen.page.verdict_rows import product_rows
from specgen.render.replies import add_review, review_data
from specgen.review.comments import without_place
from specgen.review.package import Reviewed
from specgen.sections.words import capital, sentence
from specgen.work.confirming import (
    BLANK,
    CORRECTED,
    NOT_THERE,
    OPEN,
    STATED,
    TAKEN,
    Confirmation,
    SubmittedProduct,
    SubmittedValue,
    confirm,
    products_of,
    text_of,
)
from specgen.work.deciding import decide_submittal, decision_of
from specgen.work.evidence_places import picture_of, place_of
from specgen.work.filed import papers_of, submittals_of
from specgen.work.handed_in import head_of, set_head
from specgen.work.packages import Asked, asked_of
from specgen.work.registering import register_folder
from specgen.work.replying import judged

LOOKS = {TAKEN: "good", CORRECTED: "good", NOT_THERE: "ask", OPEN: "doubt", STATED: "", BLANK: "ask"}
STANDINGS = {STATED: "stated, not compared", BLANK: "not found"}


def _products(desk: Desk, path: Path) -> tuple[SubmittedProduct, ...]:
    return products_of(text_of(path), path, desk.inputs.practice)


@shown
def values(request: Request, desk: Desk) -> Response:
    """Every value of a submittal beside the picture of the place that it was read from."""
    path = submittal_path(request, desk)
    text = text_of(path)
    products = products_of(text, path, desk.inputs.practice)
    kept = {one.name for one in papers_of(desk.folder)}
    asked = desk.once("asked of products", lambda: asked_of(desk.assessment))
    rows = [(product, *_parted(path, product, kept, asked)) for product in products]
    open_ = sum(value.open for product in products for value in product.values)
    return page(
        request,
        "live/values.html",
        name=path.stem,
        rows=rows,
        open=open_,
        head=head_of(text, path),
        today=today().isoformat(),
    )


def _parted(
    path: Path, product: SubmittedProduct, kept: set[str], asked: Asked
) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    """The rows of a product: what is left to confirm first, then what stands; and apart what was not found."""
    wanted = asked.get(product.role, frozenset())
    rows = [{**_row(path, product.number, one, kept), "asked": one.key in wanted} for one in product.values]
    blank = [row for row in rows if row["value"].standing == BLANK]
    read = [row for row in rows if row["value"].standing != BLANK]
    return (
        sorted(read, key=lambda row: not row["value"].open),
        sorted(blank, key=lambda row: not row["asked"] and row["value"].key != "kind"),
    )


def _row(path: Path, product: int, value: SubmittedValue, kept: set[str]) -> dict[str, Any]:
    """What the template of one value reads."""
    shots = []
    for number, evidence in enumerate(value.evidence):
        place = place_of(evidence)
        there = place is not None and place.file in kept
        shots.append(
            {
                "words": without_place(evidence),
                "number": number,
                "pictured": there,
                "lost": place is not None and not there,
            }
        )
    findings = [(TAKEN, "Taken as read")] if value.value else []
    findings += [
        (CORRECTED, "Corrected" if value.value else "Typed from the sheet"),
        (NOT_THERE, "Not in the sheet"),
    ]
    findings += [(OPEN, "Left to confirm")] if value.value else []
    return {
        "name": path.stem,
        "product": product,
        "value": value,
        "shots": shots,
        "look": LOOKS.get(value.standing, ""),
        "standing": STANDINGS.get(value.standing, value.standing),
        "findings": findings,
        "id": f"v-{product}-{value.key}",
        "asked": False,
    }


@posted
def compared(request: Request, desk: Desk, form: Form) -> Response:
    """What a person found on one value."""
    path = submittal_path(request, desk)
    key, product = form["key"], -1 if (number := count_in(form["product"])) is None else number
    by = signed(desk, form)
    if not by:
        raise refused(path.name, UNSIGNED)
    given = Confirmation(form["found"], by, today(), form["value"], form["method"])
    _refuse_typed_for_nothing(desk, path, product, key, given)
    words = confirm(path, desk.inputs.practice, product, key, given, form["state"])
    says = sentence(f"{capital(words)}, {by}")
    if not live(request):
        return back(request, f"submittals/{quote(path.stem)}/values#v-{product}-{quote(key)}", says)
    products = _products(desk, path)
    value = next(one for one in products[product].values if one.key == key)
    row = _row(path, product, value, {one.name for one in papers_of(desk.folder)})
    asked = desk.once("asked of products", lambda: asked_of(desk.assessment))
    row["asked"] = key in asked.get(products[product].role, frozenset())
    open_ = sum(one.open for each in products for one in each.values)
    counted = {"open": open_, "apart": True, "name": path.stem}
    return pieces(request, [("live/value_row.html", {"row": row}), ("live/values_open.html", counted)], says)


def _refuse_typed_for_nothing(desk: Desk, path: Path, product: int, key: str, given: Confirmation) -> None:
    """Stop where a value or a method was typed, and what was found keeps neither."""
    if given.found == CORRECTED:
        return
    found = (one for each in _products(desk, path)[product : product + 1] for one in each.values)
    one = next((each for each in found if each.key == key), None)
    typed = one and any(
        words and words != stands for words, stands in ((given.value, one.value), (given.method, one.method))
    )
    if one and typed:
        what = f"`{one.title}`: a value or a method was typed, and `{given.found}` keeps neither"
        raise refused(path.name, what, f"choose `{CORRECTED}`, or leave them as they stand")


@posted
def headed(request: Request, desk: Desk, form: Form) -> Response:
    """Number, project, date received, sender and round of a submittal."""
    path = submittal_path(request, desk)
    names = [one for one in form.names() if not one.startswith("was_")]
    was = {one: form[f"was_{one}"] for one in names}
    changed = set_head(path, desk.inputs.practice, was, {one: form[one] for one in names})
    says = f"Set: {', '.join(changed)}." if changed else "Nothing changed."
    return back(request, f"submittals/{quote(path.stem)}/values", says)


@shown_apart
def place(request: Request, desk: Desk) -> Response:
    """The picture of the place that a value was read from."""
    path = submittal_path(request, desk)
    with desk.lock:
        products = _products(desk, path)
    product, key, number = (request.path_params[one] for one in ("product", "key", "number"))
    places = {
        (one.number, value.key, at): found
        for one in products
        for value in one.values
        for at, evidence in enumerate(value.evidence)
        if (found := place_of(evidence))
    }
    wanted = places.get((product, key, number))
    picture = picture_of(desk.folder, wanted, [*places.values()]) if wanted else None
    if picture is None:
        return Response(status_code=404)
    return Response(picture, media_type="image/png")


def reviewed(desk: Desk, path: Path, together: bool) -> tuple[Reviewed, ...]:
    """A submittal as it is judged in this state, alone or along with all others; the first is the one asked for."""
    paths = [path, *(one for one in submittals_of(desk.folder) if together and one != path)]
    contents = hashlib.sha256(b"\0".join(one.read_bytes() for one in paths)).hexdigest()
    spec = desk.specification()
    key = ("judged", tuple(paths), contents)
    return judged_once(desk, key, lambda: judged(paths, desk.inputs, spec))


@shown
def verdict(request: Request, desk: Desk) -> Response:
    """The verdict on a submittal, row by row and in the wall, and the form of the decision."""
    path = submittal_path(request, desk)
    together = "together" in request.query_params
    try:
        found = reviewed(desk, path, together)
    except InputError as error:
        lines = list(problem_lines(error.problems))
        return page(request, "live/verdict_wrong.html", 422, name=path.stem, lines=lines)
    submission, reviews = found[0]
    data = review_data(register_folder(desk.inputs.project), desk.assessment, submission, reviews)
    info = submission.info
    return page(
        request,
        "live/verdict.html",
        name=path.stem,
        number=info.word("number") or path.stem,
        round=submission.round,
        facts=[
            (key, info.values.get(name))
            for key, name in (("From", "from"), ("Received", "date"))
            if info.has(name)
        ],
        products=[product_rows(desk, number, one) for number, one in enumerate(reviews)],
        comments=data.comments,
        deviations=submission.deviations,
        together=together,
        others=len(submittals_of(desk.folder)) - 1,
        results=results(),
        recommended=max((one.recommendation for one in reviews), key=lambda one: one.strictness).value
        if reviews
        else "",
        today=today().isoformat(),
    )


@posted
def decided(request: Request, desk: Desk, form: Form) -> Response:
    """The decision of a person on a submittal."""
    path = submittal_path(request, desk)
    decision = decision_of(path, form["result"], signed(desk, form), form["day"], form["note"])
    found = reviewed(desk, path, bool(form["together"]))
    done = decide_submittal(decision, found, desk.inputs, desk.specification(), today())
    return back(request, f"submittals/{quote(path.stem)}", entered(done, decision, "Letter"))


@shown
def letter(request: Request, desk: Desk) -> Response:
    """The letter of a review as it stands now, to be saved; nothing is written into the project."""
    path = submittal_path(request, desk)
    found = reviewed(desk, path, "together" in request.query_params)
    spec = desk.specification()
    folder = register_papers(desk)
    titles = {one.number: one.title for one in spec.sections}
    name = add_review(folder, spec.assessment, *found[0], None, titles)[0]
    return saved(name, folder.contents[name])


ROUTES = (
    Route("/submittals/{name}", verdict),
    Route("/submittals/{name}/values", values),
    Route("/submittals/{name}/values", compared, methods=["POST"]),
    Route("/submittals/{name}/head", headed, methods=["POST"]),
    Route("/submittals/{name}/places/{product:int}/{key}/{number:int}.png", place),
    Route("/submittals/{name}/decide", decided, methods=["POST"]),
    Route("/submittals/{name}/letter", letter),
)
