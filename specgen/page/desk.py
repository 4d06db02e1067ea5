"""One project open on the page: its file as it was last read, what follows from it, and the steps back."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from threading import RLock
from typing import TypeVar, cast

from specgen.assessment import Assessment
from specgen.explain.bench import Bench
from specgen.files.atomic import sweep, write_together
from specgen.files.foreign import foreign_bytes
from specgen.files.lock import locked
from specgen.files.yaml_reader import Limits, MarkedMap
from specgen.intake.formats import read_file_text
from specgen.intake.project import project_file, project_of
from specgen.specification import Specification, specify
from specgen.work.inputs import Inputs, read_inputs
from specgen.work.steps import Step, Steps

T = TypeVar("T")


class NothingOpenError(Exception):
    """No project is open yet."""


class ChangedError(Exception):
    """Somebody else changed the file since it was read; nothing was written."""

    def __init__(self, path: Path, known: str, found: str) -> None:
        super().__init__(f"{path.name} was changed by somebody else")
        self.path, self.known, self.found = path, known, found


@dataclass(frozen=True)
class Options:
    """What the command line said of the office and the weather; as the commands take it."""

    office: Path | None = None
    allow_code: bool = False
    weather: Path | None = None
    clauses: Path | None = None


@dataclass(frozen=True)
class StateChange:
    """A change as it was made: what it was, and the assessments before and after."""

    what: str
    before: Assessment
    after: Assessment


@dataclass(frozen=True)
class OpenState:
    """A project file as it was last read, and what follows from it."""

    data: bytes
    inputs: Inputs
    assessment: Assessment


class Desk:
    """What the page has open. ``lock`` is held by whoever reads or changes it.

    Args:
        root: the folder that the page was started in; nothing outside it is opened or written.
        options: of the command line.
        person: who works at the page, as comments and decisions name them.
    """

    def __init__(self, root: Path, options: Options | None = None, person: str = "") -> None:
        self.root = root.resolve()
        self.options = options or Options()
        self.person = person
        self.lock = RLock()
        self.number = 0  # rises with each state
        self._path: Path | None = None
        self._standing: OpenState | None = None
        self._made: dict[object, object] = {}

    @property
    def is_open(self) -> bool:
        """Whether a project is open."""
        return self._standing is not None

    @property
    def path(self) -> Path:
        """The project file.

        Raises:
            NothingOpenError: no project is open.
        """
        if self._path is None:
            raise NothingOpenError
        return self._path

    @property
    def folder(self) -> Path:
        """The folder of the project file."""
        return self.path.parent

    @property
    def standing(self) -> OpenState:
        """The state that is shown."""
        if self._standing is None:
            raise NothingOpenError
        return self._standing

    @property
    def text(self) -> str:
        """The project file as it was last read, with its line ends."""
        return self.standing.data.decode("utf-8")

    @property
    def inputs(self) -> Inputs:
        """What was read."""
        return self.standing.inputs

    @property
    def assessment(self) -> Assessment:
        """What follows from it."""
        return self.standing.assessment

    @property
    def digest(self) -> str:
        """The state that is shown, as a form names it."""
        return hashlib.sha256(self.standing.data).hexdigest()[:16]

    @property
    def steps(self) -> Steps:
        """The steps back and forth."""
        return Steps(self.folder)

    def open(self, place: Path) -> None:
        """Open a project below the root.

        Args:
            place: the project folder or its file.

        Raises:
            InputError: it cannot be read; what was open stays open.
            PermissionError: it does not lie below the folder that the page was started in.
        """
        path = project_file(place)
        if not path.resolve().is_relative_to(self.root):
            raise PermissionError(f"{place} does not lie below {self.root}")
        standing = self._read(path)
        self._path = path
        self._take(standing)

    def _read(self, path: Path) -> OpenState:
        one = self.options
        data = foreign_bytes(path, Limits().bytes, "a project file")
        inputs = read_inputs(path, one.office, one.allow_code, one.weather, one.clauses)
        if foreign_bytes(path, Limits().bytes) != data:  # written while it was read
            data = foreign_bytes(path, Limits().bytes)
            inputs = read_inputs(path, one.office, one.allow_code, one.weather, one.clauses)
        return OpenState(data, inputs, inputs.assessed())

    def _take(self, standing: OpenState) -> None:
        self._standing = standing
        self._made = {}
        self.number += 1

    def read_again(self) -> None:
        """Read the files as they are now.

        Raises:
            InputError: they cannot be read; what is shown stays as it is.
        """
        self._take(self._read(self.path))

    def found(self) -> bytes | None:
        """What the file holds now, where that is not what is shown; b"" where it is gone."""
        now = foreign_bytes(self.path, Limits().bytes) if self.path.exists() else b""
        return None if now == self.standing.data else now

    def change(self, edit: Callable[[str], str], what: str) -> StateChange:
        """Change the project file, and assess it again.

        Args:
            edit: makes the new text of the old; raises InputError where that cannot be.
            what: the change in words, for the list of steps.

        Returns:
            What was done. A text that is the same is not written.

        Raises:
            InputError: the new text cannot be read as a project; nothing was written.
            ChangedError: somebody else changed the file meanwhile; nothing was written.
            OutputError: the file cannot be written.
        """
        return self._written(edit, what, lambda steps, data: steps.taken(data, what, self.person))

    def undo(self) -> StateChange:
        """Go one step back.

        Raises:
            ChangedError, InputError, OutputError: as `change` does.
            LookupError: there is no step to go back.
        """
        return self._moved(-1)

    def redo(self) -> StateChange:
        """Go one step forth again; raises as `undo` does."""
        return self._moved(+1)

    def _moved(self, by: int) -> StateChange:
        step, text = self.steps.beside(self.standing.data, by)
        what = ("Taken back: " if by < 0 else "Done again: ") + step.what
        return self._written(lambda _: text.decode("utf-8"), what, lambda steps, _: steps.moved(by))

    def _written(
        self, edit: Callable[[str], str], what: str, kept: Callable[[Steps, bytes], dict[Path, bytes]]
    ) -> StateChange:
        before = self.standing
        with locked(self.folder):
            sweep(self.folder)
            found = self.found()
            if found is not None:
                raise ChangedError(self.path, self.text, found.decode("utf-8", "replace"))
            text = edit(self.text)
            if text == self.text:
                return StateChange(what, before.assessment, before.assessment)
            project = project_of(text, self.path, before.inputs.practice, self.options.weather)
            data = text.encode("utf-8")
            write_together({**kept(self.steps.with_first(before.data), data), self.path: data})
        inputs = replace(before.inputs, project=project)
        self._take(OpenState(data, inputs, before.assessment.again(project)))
        return StateChange(what, before.assessment, self.assessment)

    def once(self, key: object, make: Callable[[], T]) -> T:
        """What was made of this state before, else made now and kept as long as the state stands."""
        if key not in self._made:
            self._made[key] = make()
        return cast("T", self._made[key])

    def specification(self) -> Specification:
        """The sections of this state, made once."""
        return self.once("specification", lambda: specify(self.assessment))

    def tree(self) -> MarkedMap:
        """The project file as it is written, key by key."""
        return self.once(
            "tree", lambda: read_file_text(self.text.removeprefix("\ufeff"), self.path, "project")
        )

    def types(self) -> Mapping[str, str]:
        """The type of each parapet that has one, by the name of the parapet."""
        listed = self.tree().get("parapets") or ()
        return {str(one["name"]): str(one["type"]) for one in listed if "type" in one and "name" in one}

    def scopes(self, parapet: str) -> Mapping[str, str]:
        """For how much a change at a parapet may hold, in words; none where it has no type."""
        types = self.types()
        kind = types.get(parapet)
        if kind is None:
            return {}
        alike = [name for name, of in types.items() if of == kind]
        every = ", ".join(alike[:6]) + (f" and {len(alike) - 6} more" if len(alike) > 6 else "")
        return {"type": f"every {kind} ({every})", "own": f"{parapet} alone"}

    def bench(self) -> Bench:
        """Where remedies and kinds are tried on copies of this state."""
        return self.once("bench", lambda: Bench(self.assessment))


__all__ = ["ChangedError", "Desk", "NothingOpenError", "OpenState", "Options", "StateChange", "Step"]
