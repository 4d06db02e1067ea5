"""Submittals of papers that lie with a project: chosen papers read as one product, or read once more, and the head."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path

from specgen.files.atomic import write_together
from specgen.files.foreign import refused
from specgen.files.lock import locked
from specgen.files.safe_names import safe_name
from specgen.files.yaml_edit import remove, set_value
from specgen.files.yaml_reader import MarkedMap, read_yaml_text
from specgen.intake.datasheet.read import load_sheets, read_product
from specgen.intake.start import scalar
from specgen.intake.submittal import submission_of
from specgen.model.datasheet import DataSheet
from specgen.practice.entries import Practice
from specgen.work.confirming import fill_blanks, products_of, text_of
from specgen.work.datasheets import product_read
from specgen.work.filed import SUBMITTALS, named, numbers_of, papers_of, submittals_of, write_new
from specgen.work.packages import next_number
from specgen.work.uploads import NAMING, SLOTS

HEAD = ("number", "project", "date", "from", "round")  # of a submittal, as a person fills it
LONGEST = 200  # characters


def read_chosen(
    folder: Path,
    names: Sequence[str],
    practice: Practice,
    role: str,
    product: str = "",
    recognize: bool = False,
) -> Path:
    """Read papers of a project as those of one product, into a new submittal.

    Args:
        folder: of the project.
        names: of the papers.
        practice: the vocabulary.
        role: what the product does in the wall; "" to take the one that the papers name.
        product: its name; "" to take it from the papers.
        recognize: whether pages that are pictures are read by character recognition.

    Returns:
        The submittal file.

    Raises:
        InputError: a paper is not there or cannot be used, or no single role is named.
        OutputError: the file cannot be written.
    """
    sheets, pictured = _sheets(folder, names, recognize)
    with NAMING:
        name = " ".join(product.split())[:LONGEST]
        seen = read_product(sheets, role or None, practice, name)
        section = practice.vocabulary.roles[seen.role].section
        number = next_number(section, numbers_of(folder, practice))
        made = product_read(sheets, pictured, seen.role, practice, name, number)
        words = f"{made.reading.role} {made.reading.name}".lower().replace(" ", "-")
        file = safe_name(words, ".yaml", [path.name for path in submittals_of(folder)], "product")
        path = folder / SUBMITTALS / file
        write_new(folder, {path: made.submittal, path.with_name(f"{path.stem}-evidence.html"): made.evidence})
    return path


def read_once_more(
    folder: Path, path: Path, product: int, names: Sequence[str], practice: Practice
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Read papers for a product that has a submittal already: blanks are filled, and what stands there stays.

    Returns:
        The titles of the values that were filled, and what the papers say otherwise than the file.

    Raises:
        InputError: a paper is not there or cannot be used, or is of another role.
        OutputError: the file cannot be written.
    """
    sheets, _pictured = _sheets(folder, names)
    products = products_of(text_of(path), path, practice)
    if not 0 <= product < len(products):
        raise refused(path, f"there is no product {product + 1} in it", "look at the submittal again")
    return fill_blanks(path, practice, product, read_product(sheets, products[product].role, practice))


def _sheets(
    folder: Path, names: Sequence[str], recognize: bool = False
) -> tuple[tuple[DataSheet, ...], dict[str, bytes]]:
    if not names:
        raise refused("papers", "no paper is chosen", "choose the papers of one product")
    paths = [named(papers_of(folder), name, "paper") for name in dict.fromkeys(names)]
    with SLOTS:
        return load_sheets(paths, recognize)


def head_of(text: str, path: Path) -> dict[str, str]:
    """What stands in the head of a submittal, by the names of the vocabulary."""
    info = read_yaml_text(text, str(path), want=dict).get("submittal")
    held = info if isinstance(info, MarkedMap) else {}
    return {key: "" if held.get(key) is None else str(held[key]) for key in HEAD}


def set_head(
    path: Path, practice: Practice, was: Mapping[str, str], now: Mapping[str, str]
) -> tuple[str, ...]:
    """Write the head of a submittal; everything else stays as it is written.

    Args:
        path: of the submittal file.
        practice: the vocabulary.
        was: the head as a form showed it.
        now: as it was sent; a blank is taken out.

    Returns:
        The names of what changed.

    Raises:
        InputError: the file cannot be used with it, or somebody changed it meanwhile; nothing was written.
        OutputError: the file cannot be written.
    """
    with locked(path.parent):
        text = text_of(path)
        there, new = head_of(text, path), text
        changed = [key for key in HEAD if key in now and " ".join(now[key].split()) != was.get(key, "")]
        for key in changed:
            words = " ".join(now[key].split())
            if there[key] != was.get(key, ""):
                what = f"`{key}` was changed by somebody else meanwhile: it is {there[key] or 'blank'} now"
                raise refused(path, what, "look at it again; nothing was written")
            if len(words) > LONGEST:
                raise refused(path, f"`{key}` is longer than {LONGEST} characters", "shorten it")
            at = ("submittal", key)
            if words:
                new = set_value(new, at, _words(key, words), path.name)
            elif there[key]:
                new = remove(new, at, path.name)
        submission_of(new, path, practice)
        if new != text:
            write_together({path: new.encode("utf-8")})
    return tuple(changed)


def _words(key: str, words: str) -> str:
    if key == "date":
        try:
            return date.fromisoformat(words).isoformat()
        except ValueError:
            raise refused("date received", f"`{words[:40]}` is no date", "write 2027-03-01") from None
    if key == "round" and words.isdecimal() and len(words) < 5:
        return words
    return scalar(words)
