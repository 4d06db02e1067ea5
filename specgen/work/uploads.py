"""Files that somebody drops onto a project: judged by what they hold, read apart, kept whole or not at all."""

from __future__ import annotations

import threading
from collections.abc import Collection, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory

from specgen.files.foreign import refused
from specgen.files.marks import InputError
from specgen.files.other_files import other_kind
from specgen.files.safe_names import safe_name
from specgen.files.yaml_reader import read_yaml_text
from specgen.intake.datasheet.limits import MOST_BYTES, MOST_FILES, MOST_PARTS
from specgen.intake.datasheet.piles import UNREAD, Opened, opened
from specgen.intake.submittal import load_submission
from specgen.intake.substitution import load_request
from specgen.intake.wrong_file import kind_of_tree
from specgen.practice.entries import Practice
from specgen.work.filed import (
    PAPERS,
    SUBMITTALS,
    SUBSTITUTIONS,
    numbers_of,
    papers_of,
    requests_of,
    submittals_of,
    write_new,
)
from specgen.work.packages import Asked, PaperAside, ProductPapers, Taken, read_opened

SHEET, SUBMITTAL, REQUEST = "data sheet", "submittal", "request"
MOST_KEPT = 500  # papers of a project
MOST_WHYS = 5  # problems of one file
AT_ONCE = 2  # files read at one time
_ENDINGS = {
    "a PDF document": ".pdf",
    "an Excel workbook (.xlsx)": ".xlsx",
    "a Word document (.docx)": ".docx",
}
_WANTED = "drop data sheets (PDF, Word, Excel, CSV), or submittals and requests (YAML)"
_LISTED = b"PK\x01\x02"  # begins each entry in the list of a zip archive
_SEPARATORS = ",;\t|"
SLOTS = threading.BoundedSemaphore(AT_ONCE)
NAMING = threading.Lock()  # names and numbers are given to one drop after the other


@dataclass(frozen=True)
class Dropped:
    """One file as it came."""

    name: str  # whatever was sent
    data: bytes


@dataclass(frozen=True)
class Refused:
    """One file of which nothing was kept, and why."""

    name: str
    why: str


@dataclass(frozen=True)
class Accepted:
    """What became of a drop: products read, papers of no product, submittals and requests, and what was refused."""

    products: tuple[ProductPapers, ...] = ()
    aside: tuple[PaperAside, ...] = ()
    files: tuple[Path, ...] = ()  # submittals and requests that were dropped as such
    refused: tuple[Refused, ...] = ()


@dataclass(frozen=True)
class _Judged:
    kind: str
    name: str  # safe, with the ending of its content
    data: bytes


def take_in(
    folder: Path,
    dropped: Sequence[Dropped],
    practice: Practice,
    asked: Asked | None,
    recognize: bool = False,
) -> Accepted:
    """Take files into a project: papers sorted by product and each product read, submittals and requests as they are.

    Papers land in ``submittals/papers``, what was read of them in ``submittals``, requests in ``substitutions``. Nothing
    that stands there is written over; of what is refused nothing stays.

    Args:
        folder: of the project.
        dropped: the files.
        practice: the vocabulary.
        asked: what the project asks of products, to tell what is missing; None where it is not known.
        recognize: whether pages that are pictures are read by character recognition.

    Raises:
        InputError: there are too many files.
        OutputError: they cannot be written.
    """
    if len(dropped) > MOST_FILES:
        raise refused(
            "the drop", f"it holds {len(dropped)} files, at most {MOST_FILES}", "drop fewer at once"
        )
    judged: list[_Judged] = []
    wrong: list[Refused] = []
    for one in dropped:
        try:
            judged.append(_judged(one, [each.name for each in judged]))
        except InputError as error:
            wrong.append(Refused(shown_as(one.name), _why(error)))
    with TemporaryDirectory(prefix="specgen-") as place:
        apart = Path(place)
        for each in judged:
            (apart / each.name).write_bytes(each.data)
        sheets = [apart / each.name for each in judged if each.kind == SHEET]
        papers = _opened(sheets, apart, practice, recognize)
        with NAMING:
            return _kept(folder, apart, judged, papers, practice, asked, wrong)


def shown_as(name: str) -> str:
    """The name that was sent, as a message may show it.

    >>> shown_as("../a\\u202eb.pdf")
    'ab'
    """
    return safe_name(name, "")


def _why(error: InputError) -> str:
    lines = (f"line {one.mark.line}: " if one.mark.line > 1 else "" for one in error.problems)
    words = (f"{one.message} ({one.fix})" if one.fix else one.message for one in error.problems)
    shown = [f"{line}{text}" for line, text in zip(lines, words, strict=True)]
    more = f"; and {len(shown) - MOST_WHYS} more" if len(shown) > MOST_WHYS else ""
    return "; ".join(shown[:MOST_WHYS]) + more


def _judged(one: Dropped, taken: Sequence[str]) -> _Judged:
    """What a file is by what it holds; its name counts for nothing but the words of its own name."""
    name, data = shown_as(one.name), one.data
    if not data.strip(b" \t\r\n\0"):
        raise refused(name, "the file is empty", "ask for it again")
    if len(data) > MOST_BYTES:
        raise refused(
            name, f"the file has {len(data):,} bytes, at most {MOST_BYTES:,}", "send the data sheet alone"
        )
    if b"%PDF-" in data[:1024]:
        return _Judged(SHEET, safe_name(one.name, ".pdf", taken), data)
    if data.startswith(b"PK") and data.count(_LISTED) > MOST_PARTS:
        raise refused(name, f"the archive holds more than {MOST_PARTS} parts", _WANTED)
    what = other_kind(data)
    if what in _ENDINGS:
        return _Judged(SHEET, safe_name(one.name, _ENDINGS[what], taken), data)
    if what:
        raise refused(name, f"this is {what}", _WANTED)
    return _text(one, taken)


def _text(one: Dropped, taken: Sequence[str]) -> _Judged:
    name = shown_as(one.name)
    try:
        text = one.data.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = one.data.decode("cp1252", errors="replace")
    if "\0" in text:
        raise refused(name, "this is no file of a kind that is read here", _WANTED)
    if text.lstrip().startswith("<"):
        raise refused(name, "this is a web page or a file of tags", _WANTED)
    try:
        root = read_yaml_text(text, name)
    except InputError:
        if one.name.lower().endswith((".yaml", ".yml")):
            raise
        root = None
    kind = kind_of_tree(root)
    if kind in (SUBMITTAL, REQUEST):
        return _Judged(kind, safe_name(one.name, ".yaml", taken, kind), one.data)
    if kind:
        raise refused(name, f"this is a {kind} file", _WANTED)
    lines = [line for line in text.splitlines()[:50] if line.strip()]
    if sum(any(mark in line for mark in _SEPARATORS) for line in lines) >= max(2, len(lines) // 2):
        return _Judged(SHEET, safe_name(one.name, ".csv", taken), one.data)
    raise refused(name, "this is no file of a kind that is read here", _WANTED)


def _opened(paths: Sequence[Path], folder: Path, practice: Practice, recognize: bool) -> list[Opened]:
    """Each paper as its own process read it; no more than a few of all drops at one time."""

    def one(path: Path) -> Opened:
        with SLOTS:
            return opened(path, folder, practice, recognize)

    with ThreadPoolExecutor(AT_ONCE) as pool:
        return list(pool.map(one, paths))


def _kept(
    folder: Path,
    apart: Path,
    judged: Sequence[_Judged],
    papers: Sequence[Opened],
    practice: Practice,
    asked: Asked | None,
    wrong: Sequence[Refused],
) -> Accepted:
    out = list(wrong)
    files: dict[Path, bytes] = {}
    fresh = list(_fresh(folder, papers, files, out))
    names = [path.stem for path in submittals_of(folder)]
    taken = Taken(names, numbers_of(folder, practice))
    found = read_opened(fresh, folder / SUBMITTALS, practice, wanted=asked, taken=taken, jobs=AT_ONCE)
    files |= found.files
    whole: list[Path] = []
    for each in (one for one in judged if one.kind != SHEET):
        try:
            path = _whole(folder, apart / each.name, each.kind, files, practice)
        except InputError as error:
            out.append(Refused(each.name, _why(error)))
            continue
        files[path] = each.data
        whole.append(path)
    write_new(folder, files)
    return Accepted(found.products, found.aside, tuple(whole), tuple(out))


def _fresh(
    folder: Path, papers: Sequence[Opened], files: dict[Path, bytes], out: list[Refused]
) -> Iterator[Opened]:
    """The papers that can be read and are not here yet, under the names that they are kept by."""
    here = papers_of(folder)
    if len(here) + len(papers) > MOST_KEPT:
        raise refused(folder / PAPERS, f"the project has {MOST_KEPT} papers or more", "move some away")
    seen: dict[str, str] = {}
    for one in papers:
        if one.kind == UNREAD and not _pictured(one):
            out.append(Refused(one.file, one.why))
            continue
        data = one.path.read_bytes()
        twin = next((path.name for path in here if _same(path, data)), seen.get(one.digest))
        if twin:
            out.append(
                Refused(one.file, f"it says the same as {twin}, which is here; nothing was read again")
            )
            continue
        names = [path.name for path in (*here, *files)]
        seen[one.digest] = name = safe_name(one.path.name, one.path.suffix, names)
        files[folder / PAPERS / name] = data
        sheet = replace(one.sheet, file=name) if one.sheet else None
        yield replace(one, file=name, sheet=sheet)


def _pictured(one: Opened) -> bool:
    """Whether a paper that holds no text is one of pictures: a person can still read it, and type what it says."""
    return one.sheet is not None and any(page.figures for page in one.sheet.pages)


def _same(path: Path, data: bytes) -> bool:
    return path.stat().st_size == len(data) and path.read_bytes() == data


def _whole(folder: Path, path: Path, kind: str, files: Collection[Path], practice: Practice) -> Path:
    """Where a submittal or a request that was dropped as such is kept; it is read in full first."""
    if kind == REQUEST:
        load_request(path, practice)
        place, here = SUBSTITUTIONS, requests_of(folder)
    else:
        load_submission(path, practice)
        place, here = SUBMITTALS, submittals_of(folder)
    name = safe_name(path.name, ".yaml", [one.name for one in (*here, *files)])
    return folder / place / name
