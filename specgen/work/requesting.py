"""A substitution request written from a form, as a file that the commands read."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path

from specgen.files.foreign import refused
from specgen.files.marks import InputError, refuse
from specgen.files.safe_names import safe_name
from specgen.files.yaml_reader import read_yaml_text
from specgen.intake.formats import FORMAT, current
from specgen.intake.start import scalar
from specgen.intake.substitution import load_request, request_of
from specgen.model.project import Project
from specgen.work.confirming import text_of
from specgen.work.filed import SUBSTITUTIONS, requests_of, write_new
from specgen.work.inputs import Inputs
from specgen.work.requests import misfits

MOST_CHANGES = 12  # of one form
LONGEST = 2000  # characters of a text
_NUMBERED = re.compile(r"S-([0-9]{1,6})")


def next_number(folder: Path, inputs: Inputs) -> str:
    """The number that the next request of a project gets: S-1, S-2 …"""
    taken = [int(found[1]) for one in _numbers(folder, inputs) if (found := _NUMBERED.fullmatch(one))]
    return f"S-{max(taken, default=0) + 1}"


def _numbers(folder: Path, inputs: Inputs) -> list[str]:
    found = []
    for path in requests_of(folder):
        try:
            found.append(load_request(path, inputs.practice).number)
        except InputError:
            continue
    return found


def places_of(project: Project) -> tuple[str, ...]:
    """The places that a change may name: the values stated of each part, everywhere and at one parapet."""
    found: dict[str, None] = {}
    for parapet in project.parapets:
        for part in parapet.components():
            for name in ("kind", *(key for key in part.written if key not in ("kind", "role"))):
                found.setdefault(f"{part.role}.{name}")
    for parapet in project.parapets if len(project.parapets) > 1 else ():
        found.update(dict.fromkeys(f"{parapet.name}.{part.id}.kind" for part in parapet.components()))
    return tuple(found)


def write_request(
    folder: Path,
    inputs: Inputs,
    info: Mapping[str, str],
    changes: Sequence[tuple[str, str]],
    products_of: Path | None = None,
) -> Path:
    """Write a request into the folder of a project.

    Args:
        folder: of the project.
        inputs: what was read of it.
        info: number, date, from, reason, cost and time; what is blank is left out.
        changes: place and new value of each; pairs that are blank are left out.
        products_of: a submittal whose products are proposed; None: the request changes values alone.

    Raises:
        InputError: the request proposes nothing, or does not fit the project; nothing was written.
        OutputError: the file cannot be written.
    """
    practice = inputs.practice
    fields = practice.vocabulary.records["request"].fields
    number = inputs.project.info.word("number") or ""
    lines = [f"{FORMAT}: {current('request')}", "request:"]
    for key in fields:
        words = number if key == "project" else " ".join(info.get(key, "").split())
        if len(words) > LONGEST:
            raise refused("request", f"`{key}` is longer than {LONGEST} characters", "shorten it")
        if words:
            lines.append(f"  {key}: {_day(words) if key == 'date' else scalar(words)}")
    if products_of is not None:
        lines += _products(products_of)
    wanted = [(place.strip(), to.strip()) for place, to in changes if place.strip() or to.strip()]
    lines += ["changes:"] if wanted else []
    lines += [
        f"  - {{set: {scalar(place)}, to: {scalar(to) if to else '~'}}}"
        for place, to in wanted[:MOST_CHANGES]
    ]
    text = "\n".join(lines) + "\n"
    name = safe_name(
        info.get("number", "") or "request", ".yaml", [one.name for one in requests_of(folder)], "request"
    )
    path = folder / SUBSTITUTIONS / name
    request = request_of(text, Path(name), practice)
    if request.number in _numbers(folder, inputs):
        raise refused(name, f"request number `{request.number}` is given twice", "number it anew")
    refuse(misfits(request, inputs))
    write_new(folder, {path: text.encode("utf-8")})
    return path


def _day(words: str) -> str:
    try:
        return date.fromisoformat(words).isoformat()
    except ValueError:
        raise refused("request", f"`{words[:40]}` is no date", "write 2027-03-01") from None


def _products(path: Path) -> list[str]:
    """The lines of a submittal that hold its products, as they are written there."""
    text = text_of(path)
    root = read_yaml_text(text, str(path), want=dict)
    start = root.keys_at["products"].line
    end = min((mark.line for mark in root.keys_at.values() if mark.line > start), default=None)
    lines = text.splitlines()
    return lines[start - 1 : end - 1 if end else None]
