"""What a project's line hangs on: every file that was read for it, and the program."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from functools import lru_cache
from pathlib import Path

import specgen
from specgen.files.foreign import foreign_bytes
from specgen.files.inside import inside
from specgen.files.marks import InputError

MOST_BYTES = 100_000_000  # of one file; no reader takes a larger one
_READ = (".py", ".yaml", ".csv")


@lru_cache(maxsize=1)
def program() -> str:
    """The program's version and a hash of its sources and its practice folder."""
    folder = Path(specgen.__file__).parent
    found = hashlib.sha256()
    for path in sorted(folder.rglob("*")):
        if path.suffix in _READ and path.is_file():
            found.update(path.relative_to(folder).as_posix().encode() + b"\0" + path.read_bytes() + b"\0")
    return f"{specgen.__version__} {found.hexdigest()[:16]}"


def digest(path: Path | None) -> str:
    """A hash of a file; why it cannot be read; "" where there is none."""
    if path is None or not path.is_file():
        return ""
    try:
        return hashlib.sha256(foreign_bytes(path, MOST_BYTES)).hexdigest()
    except InputError as error:
        return str(error)  # and a project that names the file is read again when the reason is another


def digests(folder: Path, names: Iterable[str]) -> dict[str, str]:
    """The hash of each file of a project by its name."""
    return {name: digest(inside(folder, name)) for name in names}


def key_of(inputs: Mapping[str, str], program_id: str, office: str) -> str:
    """One key for all that a project's line hangs on.

    Args:
        inputs: hash of each file by its name.
        program_id: of :func:`program`.
        office: hash of an office file for all projects; "" if none was named.
    """
    written = json.dumps([sorted(inputs.items()), program_id, office])
    return hashlib.sha256(written.encode("utf-8", "surrogatepass")).hexdigest()[:32]
