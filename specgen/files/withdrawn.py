"""What leaves an output folder and is kept: papers that an issue no longer holds, and those of another project."""

from __future__ import annotations

import json
import re
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from specgen.files.foreign import present_bytes
from specgen.files.names import check_name

WITHDRAWN = "withdrawn"
OWNER = "project"  # key of the manifest
RECORD = "issue.json"
REGISTER = "submittal-register"  # stem of the workbook and its folder of states, which no manifest records
MOST_OF_RECORD = 200_000_000  # bytes


@dataclass(frozen=True, slots=True)
class Owner:
    """The project that a folder's papers are of. Its number tells it from others; its name may change."""

    number: str
    name: str
    formerly: str = ""  # a number under which the same project was issued before

    @property
    def title(self) -> str:
        """Number and name."""
        return f"{self.number} {self.name}".strip()

    def same_as(self, other: Owner) -> bool:
        """Whether an owner that was recorded is this project; one without a number was recorded by its title."""
        if not other.number:
            return other.name == self.title
        return _plain(other.number) in {_plain(self.number), _plain(self.formerly)}


def _plain(number: str) -> str:
    return " ".join(number.split()).casefold()


@dataclass(frozen=True, slots=True)
class Withdrawn:
    """One paper that left: its name, where it lies in the folder now, and whether somebody had edited it."""

    name: str
    place: str
    edited: bool


def owner_of(manifest: Mapping[str, Any], folder: Path) -> Owner | None:
    """The project of a folder, as recorded or by the title of the issue in it; None if neither is known.

    Raises:
        InputError: the record of the issue is no file, or cannot be read.
    """
    try:
        found = manifest.get(OWNER) or {}
        if found:
            return Owner(str(found["number"]), str(found["name"]))
        held = present_bytes(folder / RECORD, MOST_OF_RECORD, "a record of an issue")
        return Owner("", str(json.loads(held)["current"]["project"])) if held else None
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return None


def places(folder: Path, label: str, names: Collection[str]) -> dict[str, str]:
    """Where each paper goes, all below one folder of ``withdrawn``, so that nothing withdrawn earlier lies there.

    Args:
        folder: the output folder.
        label: the date of the issue that withdraws them, or the number of the other project.
        names: of the papers, all safe.
    """
    stem = re.sub(r"[^a-z0-9]+", "-", label.lower()).strip("-")[:80] or "papers"
    number = 1
    while True:
        below = f"{WITHDRAWN}/{stem}" + (f"-{number}" if number > 1 else "")
        found = {name: f"{below}/{name}" for name in names}
        if not any((folder / place).exists() or (folder / place).is_symlink() for place in found.values()):
            return found
        number += 1


def register_files(folder: Path) -> set[str]:
    """The register of a project, its workbook and every state kept of it: they leave with the project."""
    found = [folder / f"{REGISTER}.xlsx", *(folder / f"{REGISTER}-states").glob("*")]
    return {path.relative_to(folder).as_posix() for path in found if path.is_file()}


def is_safe(name: str) -> bool:
    """Whether a recorded name is one of a file in the folder that is not withdrawn yet."""
    try:
        check_name(name)
    except ValueError:
        return False
    return not name.startswith(f"{WITHDRAWN}/")
