"""One run at a time in a folder: a lock that tells who holds it, and that falls with its process."""

from __future__ import annotations

import contextlib
import getpass
import os
import socket
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from specgen.files.writing import OutputError

LOCK = ".specgen-lock"
WAIT = 20.0  # s; a run holds the lock while it writes, not while it calculates
_PAUSE = 0.05  # s
_LOCKED_BYTE = 1 << 30  # far behind the words, which stay readable on Windows
_LONGEST = 300  # bytes of a holder's words that are shown


@contextmanager
def locked(folder: Path, wait: float = WAIT) -> Iterator[None]:
    """Hold a folder, made if absent, against other runs of the program on this or another machine.

    The lock is the operating system's, on a file of the folder that names its holder. It falls when its process
    ends, however it ends; the file is removed.

    Args:
        folder: the folder to hold.
        wait: how long to wait for another run [s].

    Raises:
        OutputError: another run holds it for longer, and the message says whose; or the folder cannot be locked.
    """
    path = folder / LOCK
    until = time.monotonic() + wait
    while True:
        try:
            folder.mkdir(parents=True, exist_ok=True)
            handle = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o666)
        except OSError as error:
            raise OutputError(f"cannot use {folder}: {error.strerror or error}") from None
        if _taken(handle, path):
            break
        os.close(handle)
        if time.monotonic() > until:
            raise OutputError(
                f"{folder} is in use by {_holder(path)}; nothing was written; run this again when that run has ended"
            )
        time.sleep(_PAUSE)
    try:
        os.truncate(handle, 0)
        os.write(handle, _myself().encode())
        yield
    finally:
        if os.name == "nt":  # an open file cannot be removed there
            os.close(handle)
            with contextlib.suppress(OSError):
                path.unlink()
        else:
            with contextlib.suppress(OSError):
                path.unlink()
            os.close(handle)


def _taken(handle: int, path: Path) -> bool:
    """Whether the file is locked now and still the one that bears the name: its last holder removes it."""
    try:
        if os.name == "nt":
            import msvcrt

            os.lseek(handle, _LOCKED_BYTE, os.SEEK_SET)
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)  # type: ignore[attr-defined, unused-ignore]
            os.lseek(handle, 0, os.SEEK_SET)
            return True
        import fcntl

        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        return path.stat().st_ino == os.fstat(handle).st_ino
    except (BlockingIOError, PermissionError, FileNotFoundError):
        return False
    except OSError as error:
        os.close(handle)
        raise OutputError(
            f"cannot lock {path.parent}: {error.strerror or error}; use a folder of a local disk"
        ) from None


def _myself() -> str:
    try:
        name = getpass.getuser()
    except (OSError, KeyError):
        name = "somebody"
    since = datetime.now().astimezone().strftime("%Y-%m-%d %H:%M")
    return f"{name} on {socket.gethostname()} (process {os.getpid()}) since {since}"


def _holder(path: Path) -> str:
    try:
        words = path.read_bytes()[:_LONGEST].decode("utf-8", "replace")
    except OSError:
        words = ""
    return " ".join("".join(sign if sign.isprintable() else " " for sign in words).split()) or "another run"
