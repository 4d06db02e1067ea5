"""Files out: whole or not at all, never over somebody's own edits, the same bytes for the same input."""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import stat
from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Any

from specgen.files.atomic import Batch, sweep
from specgen.files.faults import OutputError
from specgen.files.foreign import present_bytes
from specgen.files.lock import locked
from specgen.files.marks import InputError
from specgen.files.names import beside, check_name, edited_paper, is_beside, same_on_disk
from specgen.files.withdrawn import (
    OWNER,
    RECORD,
    WITHDRAWN,
    Owner,
    Withdrawn,
    is_safe,
    owner_of,
    places,
    register_files,
)

MANIFEST = "manifest.json"
_ISSUE = "issue"  # the names of the papers that the last issue made
_RECORDS = frozenset({"files", "pending", "earlier"})
_OWN_KEYS = _RECORDS | {OWNER, _ISSUE}
_NO_FILE = "not a file"
_TOO_LARGE = "larger than any paper"  # and so none of ours
_MOST_BYTES = 100_000_000  # of a manifest
_MOST_HASHED = 2_000_000_000  # bytes of a paper


@dataclass(frozen=True, slots=True)
class Written:
    """What a commit did, by file name, each in the order of the names.

    `beside` pairs a file that was edited by hand with the name under which the new one landed. `left` are
    files of an earlier run that this run no longer makes, `withdrawn` those that were moved out of the way.
    """

    folder: Path
    written: tuple[str, ...]
    unchanged: tuple[str, ...]
    beside: tuple[tuple[str, str], ...]
    left: tuple[str, ...]
    withdrawn: tuple[Withdrawn, ...] = ()


@dataclass(frozen=True, slots=True)
class _Plan:
    """Decided before the first byte is written: the contents by name, and the hashes to record.

    `files` are those of this run, `earlier` those it leaves alone, `now` all of ours as they are before it.
    """

    writes: dict[str, bytes]
    files: dict[str, str]
    earlier: dict[str, str]
    now: dict[str, str]
    issue: list[str]
    owner: Owner | None
    result: Written


class OutputFolder:
    """Collects the files of one run in memory and writes them together, the folder held against other runs.

    What follows of files that lie in the folder is to be read within `locked(folder)`, and committed there.

    `manifest.json` records the hash of each file written. A file whose content is neither recorded nor equal
    to the new one was edited, or came from elsewhere: it stays, and the new one lands beside it as
    `name.new.ext`. The folder is of one project. What has to leave it is moved to `withdrawn/`, and never deleted.
    """

    def __init__(self, folder: Path, owner: Owner | None = None, *, other_project: bool = False) -> None:
        """Collect files for a folder.

        Args:
            folder: made if absent.
            owner: the project; None for files that are of no project.
            other_project: the folder may be of another project, whose papers are withdrawn.
        """
        self.folder, self.owner, self._other_project = folder, owner, other_project
        self._stays: Callable[[str], bool] | None = None
        self._label = ""
        self._contents: dict[str, bytes] = {}
        self._taken: dict[str, str] = {}

    def add(self, name: str, data: bytes) -> None:
        """Collect one file; `name` is a path in the folder, with forward slashes.

        Raises:
            ValueError: if the name is unsafe, kept for the folder's own use, or given before.
        """
        key = same_on_disk(check_name(name))
        own = key == MANIFEST or key.startswith(f"{WITHDRAWN}/")
        if own or is_beside(name) or name.rpartition("/")[2].startswith(".specgen-"):
            raise ValueError(f"file name {name!r} is refused: the output folder uses it itself")
        parts = key.split("/")
        clash = self._taken.get(key) or next(
            (self._taken[k] for k in ("/".join(parts[:n]) for n in range(1, len(parts))) if k in self._taken),
            None,
        )
        clash = clash or next((other for k, other in self._taken.items() if k.startswith(f"{key}/")), None)
        if clash:
            raise ValueError(f"file name {name!r} is refused: {clash!r} is in its place")
        self._taken[key] = name
        self._contents[name] = data

    @property
    def contents(self) -> Mapping[str, bytes]:
        """The collected files by name."""
        return MappingProxyType(self._contents)

    def whole_issue(self, date: str, stays: Callable[[str], bool]) -> None:
        """The files of this run are a whole issue: papers of the one before that are not among them are withdrawn.

        Args:
            date: of the issue.
            stays: whether a paper is a record of an earlier issue and stays.
        """
        self._label, self._stays = date, stays

    def former_owner(self) -> Owner | None:
        """Another project that the folder is of and whose papers a commit will withdraw, if any.

        Raises:
            OutputError: the folder is of another project, and it was not said that it may be; or it cannot be read.
        """
        return self._former_owner(_read_manifest(self.folder, force=True))

    def _former_owner(self, old: Mapping[str, Any]) -> Owner | None:
        found = owner_of(old, self.folder)
        if self.owner is None or found is None or self.owner.same_as(found):
            return None
        if self._other_project:
            return found
        raise OutputError(
            f"{self.folder} holds the papers of {found.title}, and this is {self.owner.title}; name another folder, or "
            f"give the folder to this project with --other-project: what it holds moves to {WITHDRAWN}/"
        )

    def edited(self) -> tuple[str, ...]:
        """The collected files that somebody edited on disk, so that a commit would keep them and write beside.

        Raises:
            OutputError: if the folder cannot be read.
        """
        old = _read_manifest(self.folder, force=True)
        ours = _ours(old)
        gone = self._leaving(old, ours, self._former_owner(old))
        hashes = {name: {hashlib.sha256(data).hexdigest()} for name, data in sorted(self._contents.items())}
        return tuple(
            name for name, new in hashes.items() if self._target(name, ours | new, False, gone)[0] != name
        )

    def commit(self, *, force: bool = False, manifest_extra: Mapping[str, object] | None = None) -> Written:
        """Write the collected files, each whole, the manifest last; files already right are not touched.

        All contents stand on the disk before the first file is replaced, so that a full disk changes nothing. A first
        manifest names what is about to be written, so that after a kill nothing of ours looks edited.

        Parameters:
            force: overwrite edited files too.
            manifest_extra: further keys of the manifest, of values that JSON can hold; None: those of before stay, as
                what a whole issue says of the files it read.

        Raises:
            OutputError: if the folder is in use by another run, or it or a file cannot be written.
            ValueError: if `manifest_extra` uses a key of the manifest's own, or holds a NaN.
        """
        extra = dict(manifest_extra or {})
        if _OWN_KEYS & extra.keys():
            raise ValueError(f"manifest keys {sorted(_OWN_KEYS & extra.keys())} belong to the output folder")
        with locked(self.folder):
            return self._commit(None if manifest_extra is None else extra, force)

    def _commit(self, extra: Mapping[str, object] | None, force: bool) -> Written:
        old = _read_manifest(self.folder, force)
        plan = self._plan(old, force)
        if extra is None:
            kept = {} if self._former_owner(old) else old
            extra = {key: value for key, value in kept.items() if key not in _OWN_KEYS}
        own = {
            "files": plan.files,
            "earlier": plan.earlier,
            _ISSUE: plan.issue,
            OWNER: {"number": plan.owner.number, "name": plan.owner.name} if plan.owner else {},
        }
        final = _json({**extra, **{key: value for key, value in own.items() if value or key == "files"}})
        manifest = self.folder / MANIFEST
        self._sweep({name for key in _RECORDS for name in old.get(key, {})})
        changes = bool(plan.writes or plan.result.withdrawn)
        with Batch(self.folder) as batch:
            if changes:
                journal = {
                    **old,
                    "files": plan.now,
                    "pending": {name: plan.files[name] for name in plan.writes},
                }
                if self._stays:
                    journal[_ISSUE] = sorted({*old.get(_ISSUE, ()), *plan.issue})
                batch.write(manifest, _json(journal))
            for one in plan.result.withdrawn:
                self._check_inside(self.folder / one.place)
                batch.move(self.folder / one.name, self.folder / one.place)
            for name, data in plan.writes.items():
                batch.write(self.folder / name, data)
            if changes or not manifest.is_file() or manifest.read_bytes() != final:
                batch.write(manifest, final)
            batch.place()
        for folder in {(self.folder / one.name).parent for one in plan.result.withdrawn} - {self.folder}:
            with contextlib.suppress(OSError):  # not empty
                folder.rmdir()
        return plan.result

    def _plan(self, old: Mapping[str, Any], force: bool) -> _Plan:
        former = self._former_owner(old)
        ours = _ours(old)
        gone = self._leaving(old, ours, former)
        writes: dict[str, bytes] = {}
        files: dict[str, str] = {}
        aside: list[tuple[str, str]] = []
        unchanged: list[str] = []
        for name in sorted(self._contents):
            data = self._contents[name]
            new = hashlib.sha256(data).hexdigest()
            target, present = self._target(name, ours | {new}, force, gone)
            if target != name:
                aside.append((name, target))
            if present == new:
                unchanged.append(target)
            else:
                writes[target] = data
            files[target] = new
        record = self._record(old, files, ours | set(files.values()))
        stale = {name: edited for name, edited in self._stale(old, files, ours).items() if name not in gone}
        leaving = {**gone, **stale}
        label = (former.number or former.name) if former else self._label
        moved = places(self.folder, label, sorted(leaving))
        withdrawn = tuple(Withdrawn(name, place, leaving[name]) for name, place in moved.items())
        earlier = {name: found for name, found in record.items() if name not in files and name not in moved}
        left = tuple(sorted(name for name in earlier if name not in self._contents))
        beside_names = {target for _, target in aside}
        written = tuple(name for name in writes if name not in beside_names)
        result = Written(self.folder, written, tuple(unchanged), tuple(aside), left, withdrawn)
        issue = (
            sorted({*files, *self._contents}) if self._stays else [*old.get(_ISSUE, ())] if not former else []
        )
        return _Plan(writes, files, earlier, record, issue, self.owner or owner_of(old, self.folder), result)

    def _leaving(self, old: Mapping[str, Any], ours: set[str], former: Owner | None) -> dict[str, bool]:
        """What another project's papers are on disk: by name, whether somebody edited them."""
        if former is None:
            return {}
        names = {name for key in _RECORDS for name in old.get(key, {})} | register_files(self.folder)
        return self._on_disk(sorted(names), ours)

    def _stale(self, old: Mapping[str, Any], files: Mapping[str, str], ours: set[str]) -> dict[str, bool]:
        """Papers of the issue before that this one does not hold. A text beside a paper that somebody edited as well
        stays with it: there they work on it."""
        stays = self._stays
        if stays is None:
            return {}
        made = {*files, *self._contents}
        last = old.get("files", {})
        before = old.get(_ISSUE, last if RECORD in last else ())
        found = self._on_disk([name for name in before if name not in made and not stays(name)], ours)
        return {name: edited for name, edited in found.items() if not (edited and edited_paper(name) in made)}

    def _on_disk(self, names: Iterable[str], ours: set[str]) -> dict[str, bool]:
        """Which of the names are files here, and whether somebody edited them."""
        there = (name for name in names if os.path.lexists(self.folder / name) and is_safe(name))
        hashes = {name: self._hash(name) for name in there}
        return {name: found not in ours for name, found in hashes.items() if found not in ("", _NO_FILE)}

    def _record(self, old: Mapping[str, Any], files: Mapping[str, str], ours: set[str]) -> dict[str, str]:
        """Hashes of what is on disk and ours; of an edited file the old one, to know it if restored."""
        recorded = {**old.get("earlier", {}), **old.get("files", {}), **old.get("pending", {})}
        record = {}
        for name in {*recorded, *files}:
            present = self._hash(name) if os.path.lexists(self.folder / name) else ""
            if present in ours:
                record[name] = present
            elif present and name in recorded:
                record[name] = recorded[name]
        return record

    def _target(self, name: str, ours: set[str], force: bool, gone: Collection[str]) -> tuple[str, str]:
        """The name to write to, and the hash of what is there then ("" for nothing, or for what leaves before)."""
        target, number = name, 0
        while True:
            present = "" if target in gone else self._hash(target)
            if present == _NO_FILE and (self.folder / target).is_dir():
                raise OutputError(f"cannot write {self.folder / target}: a folder of that name is there")
            if not present or present in ours or (force and target == name):
                return target, present
            number += 1
            target = beside(name, number)

    def _hash(self, name: str) -> str:
        """The SHA-256 of a file, "" if there is none, `_NO_FILE` for a link, a folder or a device, `_TOO_LARGE`."""
        path = self.folder / name
        try:
            status = path.lstat()
            if not stat.S_ISREG(status.st_mode):
                return _NO_FILE
            self._check_inside(path)
            if status.st_size > _MOST_HASHED:
                return _TOO_LARGE
            with path.open("rb") as file:
                return hashlib.file_digest(file, "sha256").hexdigest()
        except FileNotFoundError:
            self._check_inside(path)
            return ""
        except OSError as error:
            raise OutputError(f"cannot write {path}: {error.strerror or error}") from None

    def _check_inside(self, path: Path) -> None:
        """A folder inside that is a link must not lead the output elsewhere."""
        if not path.parent.resolve().is_relative_to(self.folder.resolve()):
            raise OutputError(f"cannot write {path}: a link leads out of {self.folder}")

    def _sweep(self, recorded: set[str]) -> None:
        """Remove the parts that a killed run left, also in folders that this run does not write into."""
        names = {"", *(name.rpartition("/")[0] for name in (*recorded, *self._contents))}
        for folder in (self.folder / name for name in names):
            if folder.resolve().is_relative_to(self.folder.resolve()):
                sweep(folder)


def _ours(old: Mapping[str, Any]) -> set[str]:
    """The hashes of all that runs wrote."""
    return {found for key in _RECORDS for found in old.get(key, {}).values()}


def _read_manifest(folder: Path, force: bool) -> dict[str, Any]:
    path = folder / MANIFEST
    try:
        held = present_bytes(path, _MOST_BYTES, "a record of an earlier run")
    except InputError as error:
        raise OutputError(f"cannot read {path}: {error.problems[0].message}") from None
    if held is None:
        return {}
    try:
        found = json.loads(held)
    except (ValueError, RecursionError):
        found = None
    if _is_manifest(found):
        manifest: dict[str, Any] = found
        return manifest
    if force:
        return {}
    raise OutputError(
        f"{path} is not a record of an earlier run; name another folder, or move that file away"
    )


def _is_manifest(found: object) -> bool:
    if not isinstance(found, dict) or "files" not in found:
        return False
    records = [found.get(key, {}) for key in (*_RECORDS, OWNER)]
    issue = found.get(_ISSUE, [])
    return all(
        isinstance(record, dict) and all(isinstance(v, str) for v in record.values()) for record in records
    ) and (isinstance(issue, list) and all(isinstance(name, str) for name in issue))


def _json(value: object) -> bytes:
    text = json.dumps(value, sort_keys=True, indent=2, ensure_ascii=False, allow_nan=False)
    return f"{text}\n".encode()
