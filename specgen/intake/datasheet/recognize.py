"""Pages that are pictures, read by character recognition: tesseract, where it is installed. Runs in the child process."""

from __future__ import annotations

import io
import os
import shutil
import statistics
import subprocess
from typing import Any

from specgen.intake.datasheet.limits import MOST_RECOGNIZED, RECOGNIZE_SECONDS

PROGRAM = "tesseract"
DOTS = 200  # an inch
POINTS = 72
LEAST_CONFIDENCE = 40  # of 100, by the program's own measure: less is no word
UNSURE = 80  # a word of less is shown with a sign that no grammar knows
MOST_PIXELS = 12_000_000
COLUMNS = 12  # of the program's table of words


def available() -> str | None:
    """The path of the program, None where it is not installed."""
    return shutil.which(PROGRAM)


def recognized(page: Any, done: int) -> tuple[list[list[Any]], str]:
    """The words of a page that is a picture, as :mod:`specgen.intake.datasheet.pdf` gives words.

    Args:
        page: of pypdfium2.
        done: how many pages of the file were recognized before.

    Returns:
        The words, and why there are none.
    """
    program = available()
    if program is None:
        return [], "the page is a picture, and tesseract is not installed"
    if done >= MOST_RECOGNIZED:
        return [], f"the page is a picture; at most {MOST_RECOGNIZED} are recognized in a file"
    width, height = page.get_size()
    scale = min(DOTS / POINTS, (MOST_PIXELS / (width * height)) ** 0.5)
    picture = io.BytesIO()
    page.render(scale=scale).to_pil().convert("L").save(picture, "PNG")
    command = [program, "-", "-", "--psm", "6", "-l", "eng", "tsv"]
    try:
        found = subprocess.run(  # noqa: S603 - a program of the user's own system, no shell
            command,
            input=picture.getvalue(),
            capture_output=True,
            timeout=RECOGNIZE_SECONDS,
            check=True,
            env={**os.environ, "OMP_THREAD_LIMIT": "1"},
        )
    except (OSError, subprocess.SubprocessError):
        return [], "the page is a picture that tesseract could not read"
    words = words_of(found.stdout.decode("utf-8", "replace"), scale)
    return words, "" if words else "the page is a picture in which no words were recognized"


def words_of(table: str, scale: float) -> list[list[Any]]:
    """The words of tesseract's table, in points; the words of a line share its baseline.

    Args:
        table: tab-separated: level, page, block, paragraph, line, word, left, top, width, height, confidence, text.
        scale: pixels a point.
    """
    lines: dict[tuple[str, ...], list[tuple[str, float, float, float, float]]] = {}
    for row in table.splitlines()[1:]:
        cells = row.split("\t")
        if (
            len(cells) != COLUMNS
            or cells[0] != "5"
            or not cells[11].strip()
            or float(cells[10]) < LEAST_CONFIDENCE
        ):
            continue
        left, top, wide, high = (float(cell) / scale for cell in cells[6:10])
        text = cells[11].strip() + ("□" if float(cells[10]) < UNSURE else "")
        lines.setdefault(tuple(cells[1:5]), []).append((text, left, top, left + wide, top + high))
    words = []
    for line in lines.values():
        base = statistics.median(bottom for *_, bottom in line)
        size = max(statistics.median(bottom - top for _, _, top, _, bottom in line) * 1.3, 2.0)
        for text, left, top, right, bottom in line:
            words.append([text, left, top, right, bottom, size, False, 0, base, False, False])
    return words
