"""Files that a file names: they may not lie outside its folder."""

from __future__ import annotations

from pathlib import Path, PurePosixPath, PureWindowsPath


def inside(folder: Path, named: str) -> Path | None:
    """The named file with links followed, or None if it does not lie in the folder.

    Args:
        folder: the folder that may not be left.
        named: a relative path as a person wrote it.

    >>> inside(Path("/a"), "../b"), inside(Path("/a"), "/etc/b"), inside(Path("/a"), "C:b")
    (None, None, None)
    """
    windows = PureWindowsPath(named)
    if windows.drive or windows.root or PurePosixPath(named).is_absolute() or "\0" in named:
        return None
    try:
        path = (folder / named).resolve()
        return path if path.is_relative_to(folder.resolve()) else None
    except (OSError, RuntimeError):  # a loop of links
        return None
