"""One run at a time in a folder: a lock that tells who holds it, and that falls with its process."""

from __future__ import annotations

import contextlib
import getpass
import os
import socket
import stat
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import datetime
from pathlib import Path

from specgen.files.faults import OutputError

LOCK = ".specgen-lock"
WAIT = 20.0  # s; a run holds the lock while it writes, not while it calculates
_PAUSE = 0.05  # s
_LOCKED_BYTE = 1 << 30  # far behind the words, which stay readable on Windows
_LONGEST = 300  # bytes of a holder's words that are shown
_HELD: ContextVar[frozenset[Path]] = ContextVar("held", default=frozenset())  # folders, by this thread


@contextmanager
def locked(folder: Path) -> Iterator[None]:
    """Hold a folder, made if absent, against other runs of the program on this or another machine.

    The lock is the operating system's, on a file of the folder that names its holder. It falls when its process
    ends, however it ends; the file is removed, and so is a folder that was made for it and is still empty. Within
    it, the same thread may hold the folder again.

    Args:
        folder: the folder to hold. Another run that holds it is waited for, ``WAIT`` at most.

    Raises:
        OutputError: another run holds it for longer, and the message says whose; or the folder cannot be locked.
    """
    place = folder.resolve()
    if place in _HELD.get():
        yield
        return
    made: list[Path] = []
    try:
        handle = _waited_for(folder, made)
        token = _HELD.set(_HELD.get() | {place})
        try:
            with contextlib.suppress(
                OSError
            ):  # the name of the holder is for others to read; the lock holds without
                os.truncate(handle, 0)
                os.write(handle, _myself().encode())
            yield
        finally:
            _HELD.reset(token)
            _let_go(handle, folder / LOCK)
    finally:
        remove_empty(made)


def _waited_for(folder: Path, made: list[Path]) -> int:
    """The handle of the lock, once it is this run's. Folders that were made for it are added to ``made``."""
    path = folder / LOCK
    until = time.monotonic() + WAIT
    while True:
        try:
            made += make_folder(folder)
            handle = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o666)
        except FileNotFoundError:  # another run that wrote nothing has just removed the folder that it made
            handle = -1
        except (FileExistsError, NotADirectoryError):
            raise OutputError(f"cannot use {folder}: it is not a folder; nothing was written") from None
        except OSError as error:
            at = path if os.path.lexists(path) else folder
            raise OutputError(f"cannot use {at}: {error.strerror or error}; nothing was written") from None
        if handle >= 0 and not stat.S_ISREG(os.fstat(handle).st_mode):
            os.close(handle)
            raise OutputError(f"{path} is not a regular file; nothing was written; move it away")
        if handle >= 0 and _taken(handle, path):
            return handle
        holder = _holder(handle) if handle >= 0 else ""
        if handle >= 0:
            os.close(handle)
        if time.monotonic() > until:
            raise OutputError(
                f"{folder} is in use by {holder or 'another run'}; nothing was written; "
                "run this again when that run has ended"
            )
        time.sleep(_PAUSE)


def _let_go(handle: int, path: Path) -> None:
    if os.name == "nt":  # an open file cannot be removed there
        os.close(handle)
    with contextlib.suppress(OSError):
        path.unlink()
    if os.name != "nt":
        os.close(handle)


def make_folder(folder: Path) -> list[Path]:
    """Make a folder and those above it. Returns those that were made, the uppermost first.

    Raises:
        OSError: it cannot be made.
    """
    missing: list[Path] = []
    at = folder
    while not at.exists() and at != at.parent:
        missing.insert(0, at)
        at = at.parent
    folder.mkdir(parents=True, exist_ok=True)
    return missing


def remove_empty(folders: Iterable[Path]) -> None:
    """Remove folders, the last first, as far as they are empty."""
    for folder in reversed(list(folders)):
        with contextlib.suppress(OSError):
            folder.rmdir()


def take(handle: int) -> bool:
    """Take the lock of an open file, which falls when the file is closed or its process ends.

    Returns:
        Whether it is ours now; False where another run has it.

    Raises:
        OSError: the disk has no locks.
    """
    try:
        if os.name == "nt":
            import msvcrt

            os.lseek(handle, _LOCKED_BYTE, os.SEEK_SET)
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined, unused-ignore]
            os.lseek(handle, 0, os.SEEK_SET)
        else:
            import fcntl

            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (BlockingIOError, PermissionError):
        return False
    return True


def _taken(handle: int, path: Path) -> bool:
    """Whether the file is locked now and still the one that bears the name: its last holder removes it."""
    try:
        # An open file keeps its name on Windows; elsewhere its last holder may have removed it meanwhile.
        return take(handle) and (os.name == "nt" or path.stat().st_ino == os.fstat(handle).st_ino)
    except FileNotFoundError:
        return False
    except OSError as error:
        _let_go(handle, path)
        raise OutputError(
            f"cannot lock {path.parent}: {error.strerror or error}; nothing was written; use a folder of a local disk"
        ) from None


def _myself() -> str:
    try:
        name = getpass.getuser()
    except (OSError, KeyError, ImportError):  # the last on Windows, where the environment has no name
        name = "somebody"
    since = datetime.now().astimezone().strftime("%Y-%m-%d %H:%M")
    return f"{name} on {socket.gethostname()} (process {os.getpid()}) since {since}"


def _holder(handle: int) -> str:
    """The words of a lock file that another run holds."""
    try:
        os.lseek(handle, 0, os.SEEK_SET)
        words = os.read(handle, _LONGEST).decode("utf-8", "replace")
    except OSError:
        words = ""
    return " ".join("".join(sign if sign.isprintable() else " " for sign in words).split())
