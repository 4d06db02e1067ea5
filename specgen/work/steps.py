"""The earlier states of a project file that is changed on the page: kept beside it, so that nothing typed is lost."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from specgen.files.foreign import present_bytes
from specgen.files.json_text import json_text
from specgen.model.plain import plain

FOLDER = ".specgen-steps"
LIST = "steps.json"
MOST = 300  # steps that are kept; the oldest go first
LARGEST = 5_000_000  # bytes of the list
_LENGTH = 24  # letters of a sum


@dataclass(frozen=True)
class Step:
    """One state that the file was in: what made it, who, when, and under which name its text is kept."""

    what: str
    by: str
    time: str
    text: str  # the sum of its bytes


@dataclass(frozen=True)
class _Kept:
    steps: tuple[Step, ...]
    at: int  # the step that the file is at
    format: int = 1


class Steps:
    """The steps of one project, oldest first; the first is the file as it was before any change on the page.

    Args:
        folder: of the project file.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder / FOLDER
        self._first: bytes | None = None

    def with_first(self, data: bytes) -> Steps:
        """The steps, with what the file holds now, should nothing be kept of it yet."""
        self._first = data
        return self

    def all(self) -> tuple[Sequence[Step], int]:
        """The steps and which of them the file is at; none where nothing was changed on the page."""
        kept = self._kept()
        return kept.steps, kept.at

    def taken(self, data: bytes, what: str, by: str) -> dict[Path, bytes]:
        """The files to write when the project file becomes ``data``: whatever lay ahead of the step is dropped.

        Args:
            data: the new content.
            what: the change in words.
            by: who makes it.
        """
        kept = self._at_first()
        steps = (*kept.steps[: kept.at + 1], Step(what, by, _now(), _sum(data)))[-MOST:]
        files = {self.folder / f"{_sum(data)}.yaml": data}
        return files | self._first_file() | self._list(_Kept(steps, len(steps) - 1))

    def moved(self, by: int) -> dict[Path, bytes]:
        """The files to write when the project file goes one step back or forth."""
        kept = self._at_first()
        return self._first_file() | self._list(_Kept(kept.steps, kept.at + by))

    def beside(self, data: bytes, by: int) -> tuple[Step, bytes]:
        """The step that is taken back or done again, and the text that the file then has.

        Args:
            data: what the file holds.
            by: -1 back, 1 forth.

        Raises:
            LookupError: there is no such step, or its text is gone.
        """
        kept = self._kept()
        if not kept.steps or kept.steps[kept.at].text != _sum(data):
            raise LookupError("the file was changed outside the page since the last step")
        if not 0 <= kept.at + by < len(kept.steps):
            raise LookupError("there is no further step")
        text = self._text(kept.steps[kept.at + by].text)
        return kept.steps[kept.at if by < 0 else kept.at + 1], text

    def text(self, step: Step) -> bytes:
        """What the file held at a step.

        Raises:
            LookupError: its text is gone.
        """
        return self._text(step.text)

    def _text(self, name: str) -> bytes:
        data = present_bytes(self.folder / f"{name}.yaml", LARGEST)
        if data is None or _sum(data) != name:
            raise LookupError("the earlier text is not there any more")
        return data

    def _at_first(self) -> _Kept:
        """The steps, where the file is at one of them; else begun anew with what the file holds now."""
        kept, first = self._kept(), self._first or b""
        if kept.steps and kept.steps[kept.at].text == _sum(first):
            return kept
        found = Step("as it was found", "", _now(), _sum(first))
        steps = (*kept.steps[: kept.at + 1], found)[-MOST:]
        return _Kept(steps, len(steps) - 1)

    def _first_file(self) -> dict[Path, bytes]:
        path = self.folder / f"{_sum(self._first or b'')}.yaml"
        return {} if path.exists() else {path: self._first or b""}

    def _list(self, kept: _Kept) -> dict[Path, bytes]:
        return {self.folder / LIST: json_text(plain(kept)).encode()}

    def _kept(self) -> _Kept:
        """What is kept; nothing where the list is not what was written. No text of it is lost by that."""
        data = present_bytes(self.folder / LIST, LARGEST)
        try:
            root: Any = json.loads(data or b"{}")
            steps = tuple(
                Step(**{key: str(one[key]) for key in Step.__annotations__}) for one in root["steps"]
            )
            at = int(root["at"])
        except (ValueError, TypeError, KeyError, RecursionError):
            return _Kept((), -1)
        named = all(len(one.text) == _LENGTH and one.text.isalnum() for one in steps)
        return _Kept(steps, at) if named and 0 <= at < len(steps) else _Kept((), -1)


def _sum(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()[:_LENGTH]


def _now() -> str:
    return datetime.now().astimezone().isoformat(timespec="seconds")
