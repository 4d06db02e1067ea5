"""What of Windows can be put in place here: the name of the system, and its locks."""

from __future__ import annotations

import os
from types import ModuleType
from typing import Any


class Windows:
    """The module ``os`` of a system whose name is ``nt``; for those who ask the name."""

    name = "nt"

    def __getattr__(self, name: str) -> Any:
        return getattr(os, name)


def locks() -> ModuleType:
    """The module ``msvcrt`` as far as locks go: a byte of a file is held by one handle."""
    import fcntl

    made = ModuleType("msvcrt")

    def locking(handle: int, _mode: int, _count: int) -> None:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            raise PermissionError(13, "Permission denied") from None

    made.LK_NBLCK, made.locking = 2, locking  # type: ignore[attr-defined]
    return made
