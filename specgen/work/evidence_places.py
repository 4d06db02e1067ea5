"""The pictures of places that values were read from, cut out of the papers again where a submittal names them."""

from __future__ import annotations

import base64
import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from threading import BoundedSemaphore

from specgen.files.foreign import foreign_bytes
from specgen.files.marks import InputError
from specgen.intake.datasheet.child import ask
from specgen.intake.datasheet.limits import MOST_BYTES
from specgen.work.filed import papers_of

MOST_PLACES = 200  # of one paper
KEPT = 24  # papers whose pictures are kept
_PLACE = re.compile(
    r"(?:^|; )(?P<file>[^;:]{1,80}), page (?P<page>[0-9]{1,4}), box (?P<box>-?[0-9]{1,6}(?: -?[0-9]{1,6}){3})(?=:|$|;)"
)
_slots = BoundedSemaphore(2)  # papers that are cut at one time


@dataclass(frozen=True)
class Place:
    """Where on a page of a paper a value was read."""

    file: str
    page: int
    box: tuple[float, float, float, float]


def place_of(evidence: str) -> Place | None:
    """The place that an evidence names, if it is one on a page.

    >>> place_of("sheet.pdf, page 1, box 72 233 454 244: Vapor permeance | 14 perms")
    Place(file='sheet.pdf', page=1, box=(72.0, 233.0, 454.0, 244.0))
    >>> place_of("test report, page 4") is None
    True
    """
    found = _PLACE.search(evidence)
    if found is None:
        return None
    left, top, right, bottom = map(float, found["box"].split())
    return Place(found["file"].strip(), int(found["page"]), (left, top, right, bottom))


def picture_of(folder: Path, place: Place, others: Sequence[Place] = ()) -> bytes | None:
    """The picture of a place, or None where its paper does not lie with the project or cannot be shown.

    Args:
        folder: of the project.
        place: of which the picture is wanted.
        others: places whose pictures will be wanted as well: those of one paper are cut out together.
    """
    path = next((one for one in papers_of(folder) if one.name == place.file), None)
    if path is None or path.suffix != ".pdf" or place.box[2] <= place.box[0] or place.box[3] <= place.box[1]:
        return None
    wanted = [one for one in dict.fromkeys((place, *others)) if one.file == place.file][:MOST_PLACES]
    status = path.stat()
    regions = tuple(sorted((one.page, one.box) for one in wanted))
    with _slots:
        found = _cut(str(path), status.st_mtime_ns, status.st_size, regions)
    return found.get((place.page, place.box))


@lru_cache(maxsize=KEPT)
def _cut(
    path: str, _changed: int, _size: int, regions: tuple[tuple[int, tuple[float, float, float, float]], ...]
) -> dict[tuple[int, tuple[float, float, float, float]], bytes]:
    """The pictures of one paper; none where its reader fails, which is not tried again."""
    try:
        data = foreign_bytes(path, MOST_BYTES)
        drawn = ask(path, "crops", data, {"regions": [(page, box, box) for page, box in regions]})["crops"]
    except InputError:
        return {}
    pairs = zip(regions, drawn, strict=True)
    return {region: base64.b64decode(one["picture"]) for region, one in pairs if one["picture"]}
