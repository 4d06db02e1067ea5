"""Files replaced whole: every new content stands on the disk under a name of its own before the first is moved."""

from __future__ import annotations

import contextlib
import os
import secrets
import shutil
from collections.abc import Callable, Mapping
from contextlib import ExitStack
from pathlib import Path
from types import TracebackType

from specgen.files.faults import OutputError
from specgen.files.lock import locked, make_folder, remove_empty
from specgen.files.names import too_long_for_windows

_PART = ".specgen-{}.part"
_LONGEST_NAME = len(_PART.format("")) + 16  # of a part
_NEW = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)


class Batch:
    """New contents and moves, done together in the order given.

    ``write`` and ``move`` prepare and ``place`` does. What fails before ``place`` leaves nothing behind, folders
    included; what fails within it leaves each file old or new and whole, and the error says how far it came.
    """

    def __init__(self, parts: Path | None = None) -> None:
        """Begin a batch.

        Args:
            parts: where new contents wait; by default beside the file that each is for.
        """
        self._parts = parts
        self._waiting: set[Path] = set()  # parts
        self._steps: list[tuple[Path, Path, Callable[[], object]]] = []  # path, folder changed, what to do
        self._made: list[Path] = []

    def __enter__(self) -> Batch:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        for part in self._waiting:
            with contextlib.suppress(OSError):
                part.unlink(missing_ok=True)
        remove_empty(self._made)

    def write(self, path: Path, data: bytes) -> None:
        """Prepare a file's new content.

        Raises:
            OutputError: it cannot be written.
        """
        part = (self._parts or path.parent) / _PART.format(secrets.token_hex(8))
        try:
            self._made += make_folder(path.parent)
            self._waiting.add(part)
            _write(part, data)
            if path.exists():
                shutil.copymode(path, part)
        except OSError as error:
            raise _cannot_write(path, error) from None
        self._steps.append((path, path.parent, lambda: self._replace(part, path)))

    def _replace(self, part: Path, path: Path) -> None:
        part.replace(path)
        self._waiting.discard(part)

    def move(self, path: Path, target: Path) -> None:
        """Prepare the move of a file to a place where none is, in a folder that is made if absent.

        Raises:
            OutputError: the folder cannot be made.
        """
        try:
            self._made += make_folder(target.parent)
        except OSError as error:
            raise _cannot_write(target, error) from None
        self._steps.append((path, target.parent, lambda: path.replace(target)))

    def place(self) -> None:
        """Do it all, in the order given.

        Raises:
            OutputError: a file cannot be replaced; those before it are new, and it and those behind it as they were.
        """
        for done, (path, folder, step) in enumerate(self._steps):
            try:
                step()
            except OSError as error:
                raise _cannot_write(path, error, self._standing(done)) from None
            _sync_folder(folder)

    def _standing(self, done: int) -> str:
        if not done:
            return "nothing was written"
        behind = {path for path, _, _ in self._steps[done:]}  # a journal is written first and replaced last
        new = [path.name for path, _, _ in self._steps[:done] if path not in behind]
        names = f"{', '.join(new[:3])}{f' and {len(new) - 3} more' if len(new) > 3 else ''}"
        state = f"already done: {names}; all others are as they were" if new else "every paper is as it was"
        return f"{state}; run this again to finish"


def write_together(files: Mapping[Path, bytes]) -> None:
    """Write files, all or none, each of their folders held against other runs.

    Raises:
        OutputError: a file cannot be written, or a folder is in use.
    """
    with ExitStack() as stack:
        for folder in sorted({path.parent for path in files}):
            stack.enter_context(locked(folder))
            sweep(folder)
        batch = stack.enter_context(Batch())
        for path, data in files.items():
            batch.write(path, data)
        batch.place()


def sweep(folder: Path) -> None:
    """Remove the parts of files that a killed run left in a folder; the caller holds it."""
    with contextlib.suppress(OSError):
        for path in folder.glob(_PART.format("*")):
            with contextlib.suppress(OSError):
                path.unlink()


def _write(path: Path, data: bytes) -> None:
    handle = os.open(path, _NEW, 0o666)
    try:
        rest = memoryview(data)
        while rest:
            rest = rest[os.write(handle, rest) :]
        os.fsync(handle)
    finally:
        os.close(handle)


def _cannot_write(path: Path, error: OSError, standing: str = "nothing was written") -> OutputError:
    hint = "; close it if another program has it open" if isinstance(error, PermissionError) else ""
    if os.name == "nt" and (long := too_long_for_windows(path.absolute(), _LONGEST_NAME)):
        hint = f"; {long}"
    return OutputError(f"cannot write {path}: {error.strerror or error}{hint}; {standing}")


def _sync_folder(folder: Path) -> None:
    # Windows cannot open a folder, and some network disks cannot sync one; the file itself is safe by then.
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
