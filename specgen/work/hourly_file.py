"""The kept results beside a project: what a run adds stays with what stood there."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from pathlib import Path

from specgen.files.atomic import write_together
from specgen.files.lock import locked
from specgen.intake.hourly import FILE_NAME, Kept, load_hourly
from specgen.model.hourly import HourlyResult
from specgen.render.files import json_bytes
from specgen.work.hourly import RAN, Studied


def kept(folder: Path, found: Iterable[Studied]) -> Iterator[Studied]:
    """Studies as they come, each result that was run now kept beside the project before the next is waited for."""
    for one in found:
        if one.state == RAN and one.result is not None:
            keep(folder, [one.result])
        yield one


def keep(
    folder: Path, new: Collection[HourlyResult] = (), dropped: Collection[str] = ()
) -> Mapping[str, HourlyResult]:
    """Put results into the file beside a project; the same results give the same bytes.

    The file is read again under the lock of its folder, so that what another run wrote meanwhile stays.

    Args:
        folder: of the project file.
        new: each in place of the result of its parapet, if one stood there.
        dropped: names of parapets whose results are taken out.

    Returns:
        What the file now holds.

    Raises:
        InputError: what stands there cannot be read; nothing was written.
        OutputError: the file cannot be written.
    """
    with locked(folder):
        before = load_hourly(folder)
        held = {name: one for name, one in before.items() if name not in dropped}
        held |= {one.parapet: one for one in new}
        if held != before:
            write_together({folder / FILE_NAME: json_bytes(Kept(tuple(held[name] for name in sorted(held))))})
    return held
