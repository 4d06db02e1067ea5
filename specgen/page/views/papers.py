"""What is handed in: files dropped onto the project, submittals read from them, requests, and the papers."""

from __future__ import annotations

from urllib.parse import quote

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.files.foreign import foreign_bytes
from specgen.intake.datasheet.limits import MOST_BYTES, MOST_FILES, MOST_PAGES
from specgen.page.answer import Form, back, count_in, page, posted, posted_apart, shown, shown_apart
from specgen.page.desk import Desk
from specgen.page.guard import LARGEST_UPLOAD
from specgen.page.handed import day_of, saved, today
from specgen.units.counted import many
from specgen.work.filed import letters_of, named, papers_of, submittals_of
from specgen.work.handed_in import read_chosen, read_once_more
from specgen.work.packages import asked_of
from specgen.work.paper_lists import paper_lists
from specgen.work.registering import register_folder
from specgen.work.replying import judged, write_letters
from specgen.work.uploads import Accepted, Dropped, take_in

LIMITS_IN_WORDS = (
    f"PDF, Word, Excel, and CSV, or submittals and requests in YAML; at most {MOST_FILES} files and "
    f"{LARGEST_UPLOAD // 1_000_000} MB at a time, {MOST_BYTES // 1_000_000} MB a file, {MOST_PAGES} pages."
)


def _index(request: Request, desk: Desk, found: Accepted | None = None, status: int = 200) -> Response:
    lists = paper_lists(desk.inputs.project, desk.inputs.practice)
    roles = {name: role.title for name, role in desk.inputs.practice.vocabulary.roles.items()}
    return page(
        request,
        "live/papers.html",
        status,
        lists=lists,
        found=found,
        roles=sorted(roles.items(), key=lambda one: one[1]),
        limits=LIMITS_IN_WORDS,
        letters=[one.name for one in letters_of(register_folder(desk.inputs.project))],
        today=today().isoformat(),
    )


@shown
def papers(request: Request, desk: Desk) -> Response:
    """Submittals, requests and papers of the project, and where files are dropped."""
    return _index(request, desk)


@posted_apart
def dropped(request: Request, desk: Desk, form: Form) -> Response:
    """Files that were dropped. They are judged and read while the page answers others."""
    files = [Dropped(one.filename or "", one.file.read()) for one in form.files("files")]
    if not files:
        return back(request, "papers", "No file was chosen.")
    with desk.lock:
        folder, practice = desk.folder, desk.inputs.practice
        asked = desk.once("asked of products", lambda: asked_of(desk.assessment))
    found = take_in(folder, files, practice, asked, bool(form["recognize"]))
    with desk.lock:
        kept = bool(found.products or found.aside or found.files)
        return _index(request, desk, found, 200 if kept else 422)


@posted_apart
def read(request: Request, desk: Desk, form: Form) -> Response:
    """Chosen papers read as those of one product: a new submittal, or blanks of one that is there."""
    with desk.lock:
        folder, practice = desk.folder, desk.inputs.practice
    names, into = form.every("paper"), form["into"]
    if not into:
        recognize = bool(form["recognize"])
        path = read_chosen(folder, names, practice, form["role"], form["product"], recognize)
        return back(
            request, f"submittals/{quote(path.stem)}/values", "Read. Compare each value with its place."
        )
    path = named(submittals_of(folder), into, "submittal")
    product = (count_in(form["product_number"]) or 1) - 1
    filled, differing = read_once_more(folder, path, product, names, practice)
    says = (
        f"{many(len(filled), 'blank value')} filled: {', '.join(filled)}."
        if filled
        else "No blank was filled."
    )
    says += f" What stands was left: {'; '.join(differing)}." if differing else ""
    return back(request, f"submittals/{quote(path.stem)}/values", says)


@shown_apart
def paper(request: Request, desk: Desk) -> Response:
    """One paper, to be saved and opened by the program that the person has for it."""
    path = named(papers_of(desk.folder), request.path_params["name"], "paper")
    return saved(path.name, foreign_bytes(path, MOST_BYTES))


@posted
def letters(request: Request, desk: Desk, form: Form) -> Response:
    """Draft the letters that the project and its submittals call for, into the folder of the register."""
    day = day_of(form["day"], "letters")
    paths = submittals_of(desk.folder)
    reviewed = judged(paths, desk.inputs, desk.specification())
    folder = register_folder(desk.inputs.project)
    done = write_letters(folder, reviewed, desk.inputs, desk.specification(), day)
    says = f"Drafted in {folder.name}: {', '.join(done.names)}. A person reads and signs."
    for kept, new in done.written.beside:
        says += f" {kept} was edited by hand and kept; the new text is in {new}."
    return back(request, "papers#letters", says)


@shown
def letter(request: Request, desk: Desk) -> Response:
    """One letter or form as it lies in the folder of the register, to be saved."""
    path = named(letters_of(register_folder(desk.inputs.project)), request.path_params["name"], "letter")
    return saved(path.name, foreign_bytes(path, MOST_BYTES))


ROUTES = (
    Route("/papers", papers),
    Route("/papers", dropped, methods=["POST"]),
    Route("/papers/read", read, methods=["POST"]),
    Route("/papers/file/{name}", paper),
    Route("/papers/letters", letters, methods=["POST"]),
    Route("/papers/letters/{name}", letter),
)
