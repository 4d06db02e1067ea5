"""A disk that fails: every system call below one folder is numbered, and one of them goes wrong."""

from __future__ import annotations

import errno
import io
import os
import traceback
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

KILLED = 9  # status of a child that was killed
FAULTS = {
    "full": errno.ENOSPC,
    "broken": errno.EIO,
    "interrupted": errno.EINTR,
    "refused": errno.EACCES,  # as of a file that another program has open
}
KINDS = ("short", *FAULTS, "kill", "torn")
_CALLS = ("open", "write", "fsync", "replace", "unlink", "mkdir", "rmdir", "truncate", "ftruncate", "chmod")


class Disk:
    """The calls of one process below a folder; the one of the given number fails in the given way.

    A short write writes half of what it is given and says so. A kill ends the process before the call, with nothing
    cleaned up; a torn one does half of a writing first. Number 0 fails nothing and counts.
    """

    def __init__(self, root: Path, number: int = 0, kind: str = "") -> None:
        self.root, self.number, self.kind = os.path.realpath(root), number, kind
        self.calls: list[str] = []
        self._open: set[int] = set()

    def install(self) -> None:
        """Take the place of the operating system; for a process that ends after it."""
        for name in _CALLS:
            setattr(os, name, self._counted(name, getattr(os, name)))
        fdopen, disk = os.fdopen, self

        def watched(handle: int, mode: str = "r", *rest: Any, **more: Any) -> Any:
            if handle not in disk._open or mode != "r+b":
                return fdopen(handle, mode, *rest, **more)

            class Raw(io.FileIO):
                def write(self, data: Any) -> int:
                    return os.write(self.fileno(), data)

            return io.BufferedRandom(Raw(handle, mode))

        os.fdopen = watched

    def _counted(self, name: str, call: Callable[..., Any]) -> Callable[..., Any]:
        def counted(*given: Any, **more: Any) -> Any:
            if not self._below(given[0]):
                return call(*given, **more)
            self.calls.append(name)
            if len(self.calls) == self.number:
                if name == "write" and self.kind in ("short", "torn"):
                    half = call(given[0], bytes(given[1])[: (len(given[1]) + 1) // 2])
                    if self.kind == "short":
                        return half
                if self.kind in ("kill", "torn"):
                    os._exit(KILLED)
                if self.kind in FAULTS:
                    raise OSError(FAULTS[self.kind], os.strerror(FAULTS[self.kind]), str(given[0]))
            found = call(*given, **more)
            if name == "open":
                self._open.add(found)
            return found

        return counted

    def _below(self, what: Any) -> bool:
        if isinstance(what, int):
            return what in self._open
        path = str(Path(what).absolute())
        return path == self.root or path.startswith(self.root + os.sep)


@dataclass(frozen=True)
class Ended:
    """How a child ended: its status, what it said, and the calls it made."""

    status: int
    err: str
    calls: tuple[str, ...]


def _no_pool_of_the_parent() -> None:
    """A forked process has none of the servers that an earlier test began for its own pools."""
    from multiprocessing import forkserver, resource_tracker

    for server, names in (
        (forkserver._forkserver, ("_forkserver_pid", "_forkserver_address", "_forkserver_alive_fd")),
        (resource_tracker._resource_tracker, ("_fd", "_pid")),
    ):
        for name in names:
            setattr(server, name, None)


def in_child(root: Path, act: Callable[[], tuple[int, str]], number: int = 0, kind: str = "") -> Ended:
    """Do something in a process of its own, on a disk of which one call fails. An uncaught error is status 1000."""
    reader, writer = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reader)
        _no_pool_of_the_parent()
        with os.fdopen(writer, "w") as report:
            disk = Disk(root, number, kind)
            try:
                disk.install()
                status, err = act()
            except BaseException:
                status, err = 1000, traceback.format_exc()
            report.write(f"{status}\n{' '.join(disk.calls)}\n{err}")
        os._exit(0)
    os.close(writer)
    with os.fdopen(reader) as report:
        text = report.read()
    left = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
    if left:
        assert left == KILLED, left
        return Ended(KILLED, "", ())
    status, calls, err = text.split("\n", 2)
    return Ended(int(status), err, tuple(calls.split()))
