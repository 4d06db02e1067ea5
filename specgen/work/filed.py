"""The papers of a project that lie in its folder: submittals, requests, and what they were read from."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

from specgen.files.atomic import write_together
from specgen.files.faults import OutputError
from specgen.files.foreign import refused
from specgen.files.lock import locked
from specgen.files.marks import InputError
from specgen.files.yaml_reader import MarkedMap, read_yaml
from specgen.intake.submittal import load_submission
from specgen.practice.entries import Practice

SUBMITTALS, PAPERS, SUBSTITUTIONS = "submittals", "submittals/papers", "substitutions"
ENDINGS = (".yaml", ".yml")
MOST_LISTED = 2000


def submittals_of(folder: Path) -> tuple[Path, ...]:
    """The submittal files of a project, by name."""
    return _listed(folder / SUBMITTALS, ENDINGS)


def requests_of(folder: Path) -> tuple[Path, ...]:
    """The substitution requests of a project, by name."""
    return _listed(folder / SUBSTITUTIONS, ENDINGS)


def papers_of(folder: Path) -> tuple[Path, ...]:
    """The papers that submittals were read from, by name."""
    return _listed(folder / PAPERS)


def letters_of(folder: Path) -> tuple[Path, ...]:
    """The letters and forms (Word) of a folder of replies, by name."""
    return _listed(folder, (".docx",))


def _listed(place: Path, endings: tuple[str, ...] = ()) -> tuple[Path, ...]:
    try:
        found = [one for one in place.iterdir() if one.is_file() and not one.is_symlink()]
    except OSError:
        return ()
    kept = (one for one in found if not one.name.startswith(".") and (not endings or one.suffix in endings))
    return tuple(sorted(kept))[:MOST_LISTED]


def named(paths: tuple[Path, ...], name: str, what: str) -> Path:
    """The file of a listing whose name without ending, or with it, is the given one.

    Raises:
        InputError: there is none; nothing outside the listing is ever opened.
    """
    found = next((one for one in paths if name in (one.stem, one.name)), None)
    if found is None:
        raise refused(what, f"there is no {what} of that name", "choose one of the list")
    return found


def numbers_of(folder: Path, practice: Practice) -> tuple[str, ...]:
    """The numbers that the submittals of a project have; one that cannot be read gives what its text says."""
    return tuple(filter(None, (_number(path, practice) for path in submittals_of(folder))))


def _number(path: Path, practice: Practice) -> str:
    try:
        return load_submission(path, practice).info.word("number") or ""
    except InputError:
        pass
    try:
        root = read_yaml(path)
    except InputError:
        return ""
    info = root.get("submittal") if isinstance(root, MarkedMap) else None
    return str(info.get("number") or "") if isinstance(info, MarkedMap) else ""


def write_new(folder: Path, files: dict[Path, bytes]) -> None:
    """Write files that are not there yet, all or none.

    Args:
        folder: of the project; nothing is written outside it.
        files: by path.

    Raises:
        OutputError: a name was taken meanwhile, a link leads out of the folder, or a file cannot be written.
    """
    if not files:
        return
    with ExitStack() as stack:
        for place in sorted({path.parent for path in files}):
            if not place.resolve().is_relative_to(folder.resolve()):
                raise OutputError(
                    f"cannot write into {place}: a link leads out of {folder}; nothing was written"
                )
            stack.enter_context(locked(place))
        for path in _standing(files):
            raise OutputError(f"{path.name} was made meanwhile; nothing was written; do it again")
        write_together(files)


def _standing(files: dict[Path, bytes]) -> Iterator[Path]:
    return (path for path in files if path.exists() or path.is_symlink())
