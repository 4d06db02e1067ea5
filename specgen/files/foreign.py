"""The one way to open a file that somebody else made: a regular file, no larger than stated."""

from __future__ import annotations

import os
import stat
from pathlib import Path

from specgen.files.marks import InputError, near, of_file
from specgen.files.standard_input import held


def refused(path: object, what: str, fix: str = "") -> InputError:
    """The error of a file that cannot be used, placed at its beginning."""
    return InputError([of_file(path, what, fix)])


def foreign_bytes(
    name: str | Path, most: int, wanted: str = "a file", too_large: str = "", shown: str = ""
) -> bytes:
    """What a file holds. Nothing is read of a pipe, a device or a folder, nor beyond the limit.

    Args:
        name: the path of the file as it was given; a link is followed to what it leads to.
        most: the largest file that is read [bytes].
        wanted: what to name instead of something that is no file.
        too_large: what to do about a larger one.
        shown: how messages name the file, where not by its path.

    Raises:
        InputError: it is no regular file, is too large, or cannot be read.
    """
    placed = shown or name
    if (given := held(name)) is not None:
        if len(given) > most:
            raise refused(placed, f"standard input has more than {most} bytes", too_large)
        return given
    flags = os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)
    try:
        if Path(name).is_dir():  # which some systems do not open at all
            raise refused(placed, "this is a folder, not a file", "name a file in it")
        handle = os.open(name, flags)  # with O_NONBLOCK a pipe that nobody writes to opens at once
        with os.fdopen(handle, "rb") as file:
            status = os.fstat(handle)
            if not stat.S_ISREG(status.st_mode):
                raise refused(placed, "this is not a regular file", f"name {wanted}")
            if status.st_size > most:
                raise refused(placed, f"the file has {status.st_size} bytes, limit {most}", too_large)
            data = file.read(most + 1)  # it may grow
            if data is None:  # as some files of the kernel's own, of which nothing can be read now
                raise refused(placed, "the file gives nothing to read", f"name {wanted}")
    except FileNotFoundError:
        raise refused(
            placed, "there is no such file", _neighbour(Path(name)) or "name a file that is there"
        ) from None
    except PermissionError:
        raise refused(
            placed, "the file cannot be read: permission denied", "close it if another program has it open"
        ) from None
    except (OSError, ValueError) as error:
        reason = (error.strerror if isinstance(error, OSError) else None) or str(error)
        raise refused(placed, f"the file cannot be read: {reason}") from None
    if len(data) > most:
        raise refused(placed, f"the file has {len(data)} bytes or more, limit {most}", too_large)
    return data


def foreign_text(path: Path, most: int, wanted: str = "a file") -> str:
    """The text of a file in UTF-8, with its line ends and its byte order mark.

    Raises:
        InputError: as :func:`foreign_bytes` does, or the file is in another encoding.
    """
    return in_utf8(foreign_bytes(path, most, wanted), path)


def in_utf8(data: bytes, path: Path) -> str:
    """The text of bytes that were read from a file.

    Raises:
        InputError: they are not UTF-8.
    """
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        raise refused(path, "the file is not in UTF-8", "save the file as UTF-8") from None


def present_bytes(path: Path, most: int, wanted: str = "a file") -> bytes | None:
    """As :func:`foreign_bytes`; None where nothing of that name is there."""
    return foreign_bytes(path, most, wanted) if os.path.lexists(path) else None


def _neighbour(path: Path) -> str:
    """A hint at a file of nearly the same name in the same folder, or ""."""
    try:
        found = near(path.name, sorted(entry.name for entry in path.parent.iterdir()))
    except OSError:
        return ""
    return f"did you mean '{path.parent / found}'?" if found else ""
