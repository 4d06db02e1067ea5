"""The state file of an audit: a line for each project that is done, appended as it is done.

A run that was stopped at any moment goes on from it: a last line that was cut short is taken off, and what it
would have said is made again. The last line of a project counts.
"""

from __future__ import annotations

import contextlib
import json
import os
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from types import TracebackType
from typing import IO, Any

from specgen.files.faults import OutputError
from specgen.files.lock import take

NAME = "audit-state.jsonl"
HEAD = b'{"specgen audit state": 1}\n'
_LONGEST_LINE = 64_000_000


class State:
    """The state file, open for one run. In memory it keeps where each project's line stands, and nothing of it."""

    def __init__(self, folder: Path) -> None:
        self.path = folder / NAME
        self.repaired = 0  # bytes of a line cut short
        self._at: dict[str, int] = {}  # project to the place of its line
        self._file: IO[bytes]

    def __enter__(self) -> State:
        try:
            self.path.parent.mkdir(parents=True, exist_ok=True)
            flags = os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)
            self._file = os.fdopen(os.open(self.path, flags, 0o644), "r+b")
        except OSError as error:
            raise OutputError(f"cannot use {self.path}: {error.strerror or error}") from None
        try:
            self._lock()
            self._read()
        except BaseException:
            self._file.close()
            raise
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        with contextlib.suppress(OSError):
            os.fsync(self._file.fileno())
        self._file.close()

    def _lock(self) -> None:
        try:
            taken = take(self._file.fileno())
        except OSError as error:
            raise OutputError(f"cannot lock {self.path}: {error.strerror or error}") from None
        if not taken:
            raise OutputError(f"another audit writes into {self.path.parent}; wait for it, or end it")

    def _read(self) -> None:
        head = self._file.readline(len(HEAD) + 1)
        if head != HEAD:
            if not HEAD.startswith(head):
                raise OutputError(f"{self.path} is not the state of an audit; name another output folder")
            self.repaired = len(head)
            self._cut(0)
            self._append(HEAD)
        while True:
            place = self._file.tell()
            line = self._file.readline(_LONGEST_LINE)
            if not line:
                return
            if not line.endswith(b"\n"):
                self.repaired += len(line)
                self._cut(place)
                return
            path = _path_of(line)
            if path is not None:
                self._at[path] = place

    def _cut(self, place: int) -> None:
        self._file.truncate(place)
        self._file.seek(place)

    def _append(self, data: bytes) -> int:
        place = self._file.seek(0, os.SEEK_END)
        self._file.write(data)
        self._file.flush()  # into the system's hands: a killed process loses nothing of it
        return place

    def add(self, path: str, line: str) -> None:
        """Append one project's line.

        Raises:
            OutputError: the disk is full, or the file cannot be written.
        """
        try:
            self._at[path] = self._append(line.encode("ascii") + b"\n")
        except OSError as error:
            raise OutputError(f"cannot write {self.path}: {error.strerror or error}") from None

    def __contains__(self, path: str) -> bool:
        return path in self._at

    @property
    def paths(self) -> tuple[str, ...]:
        """The projects that have a line."""
        return tuple(self._at)

    def line(self, path: str) -> str:
        """The line of a project, read from the file."""
        self._file.seek(self._at[path])
        return self._file.readline().decode("ascii").rstrip("\n")

    def record(self, path: str) -> Mapping[str, Any]:
        """The line of a project as plain data."""
        content: Mapping[str, Any] = json.loads(self.line(path))
        return content

    def records(self, paths: Iterable[str]) -> Iterator[Mapping[str, Any]]:
        """The lines of these projects, one at a time."""
        for path in paths:
            yield self.record(path)


def _path_of(line: bytes) -> str | None:
    """The project of a line; None where the line is not whole, as after a crash of the disk."""
    try:
        content = json.loads(line)
        return str(content["path"]) if isinstance(content["inputs"], dict) else None
    except (ValueError, KeyError, TypeError, RecursionError):
        return None


def line_of(content: Mapping[str, Any]) -> str:
    """Plain data as one line of ASCII, the same for the same data."""
    return json.dumps(content, ensure_ascii=True, separators=(",", ":"))
