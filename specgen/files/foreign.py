"""The one way to open a file that somebody else made: a regular file, no larger than stated."""

from __future__ import annotations

import os
import stat
from pathlib import Path

from specgen.files.marks import InputError, InputProblem, Mark

_KINDS = (
    (stat.S_ISDIR, "a folder"),
    (stat.S_ISFIFO, "a pipe"),
    (stat.S_ISCHR, "a device"),
    (stat.S_ISBLK, "a device"),
    (stat.S_ISSOCK, "a socket"),
)


def refused(path: Path, what: str, fix: str) -> InputError:
    """The error of a file that cannot be used, placed at its beginning."""
    return InputError([InputProblem(Mark(str(path), 1, 1), what, fix)])


def foreign_bytes(path: Path, most: int, fix: str = "name the right file") -> bytes:
    """What a file holds. Nothing is read of a pipe, a device or a folder, nor beyond the limit.

    Args:
        path: of the file; a link is followed to what it leads to.
        most: the largest file that is read [bytes].
        fix: what to do about one that is larger.

    Raises:
        InputError: it is no regular file, is too large, or cannot be read.
    """
    flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    try:
        handle = os.open(path, flags)  # with O_NONBLOCK a pipe that nobody writes to opens at once
    except OSError as error:
        raise refused(path, f"cannot read it: {error.strerror or error}", "check the path") from None
    except ValueError:
        raise refused(path, "its name holds a sign that no file name can hold", "check the path") from None
    with os.fdopen(handle, "rb") as file:
        status = os.fstat(handle)
        if not stat.S_ISREG(status.st_mode):
            kind = next((word for test, word in _KINDS if test(status.st_mode)), "no regular file")
            raise refused(path, f"it is {kind}, not a file", "name a file")
        try:
            data = file.read(most + 1)
        except OSError as error:
            raise refused(path, f"cannot read it: {error.strerror or error}", "check the path") from None
    if len(data) > most:
        raise refused(path, f"{max(status.st_size, len(data)):,} bytes, at most {most:,}", fix)
    return data
