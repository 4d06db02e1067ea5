"""Files out: whole or not at all, never over somebody's own edits, the same bytes for the same input."""

from __future__ import annotations

import hashlib
import io
import json
import stat
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Any

from specgen.files.atomic import Batch, sweep
from specgen.files.faults import OutputError
from specgen.files.lock import locked
from specgen.files.names import beside, check_name, is_beside, same_on_disk

MANIFEST = "manifest.json"
_OWN_KEYS = frozenset({"files", "pending", "earlier"})
_NO_FILE = "not a file"
_ZIP_TIME = (1980, 1, 1, 0, 0, 0)
_ZIP_UNIX = 3
_ZIP_MODE = (stat.S_IFREG | 0o644) << 16
_ZIP_LEVEL = 6


@dataclass(frozen=True, slots=True)
class Written:
    """What a commit did, by file name, each in the order of the names.

    `beside` pairs a file that was edited by hand with the name under which the new one landed. `left` are
    files of an earlier run that this run no longer makes.
    """

    folder: Path
    written: tuple[str, ...]
    unchanged: tuple[str, ...]
    beside: tuple[tuple[str, str], ...]
    left: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Plan:
    """Decided before the first byte is written: the contents by name, and the hashes to record.

    `files` are those of this run, `earlier` those it leaves alone, `now` all of ours as they are before it.
    """

    writes: dict[str, bytes]
    files: dict[str, str]
    earlier: dict[str, str]
    now: dict[str, str]
    result: Written


class OutputFolder:
    """Collects the files of one run in memory and writes them together, the folder held against other runs.

    What follows of files that lie in the folder is to be read within `locked(folder)`, and committed there.

    `manifest.json` records the hash of each file written. A file whose content is neither recorded nor equal
    to the new one was edited, or came from elsewhere: it stays, and the new one lands beside it as
    `name.new.ext`.
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._contents: dict[str, bytes] = {}
        self._taken: dict[str, str] = {}

    def add(self, name: str, data: bytes) -> None:
        """Collect one file; `name` is a path in the folder, with forward slashes.

        Raises:
            ValueError: if the name is unsafe, kept for the folder's own use, or given before.
        """
        key = same_on_disk(check_name(name))
        if key == MANIFEST or is_beside(name) or name.rpartition("/")[2].startswith(".specgen-"):
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

    def edited(self) -> tuple[str, ...]:
        """The collected files that somebody edited on disk, so that a commit would keep them and write beside.

        Raises:
            OutputError: if the folder cannot be read.
        """
        plan = self._plan(_read_manifest(self.folder, force=True), force=False)
        return tuple(name for name, _ in plan.result.beside)

    def commit(self, *, force: bool = False, manifest_extra: Mapping[str, object] | None = None) -> Written:
        """Write the collected files, each whole, the manifest last; files already right are not touched.

        All contents stand on the disk before the first file is replaced, so that a full disk changes nothing. A first
        manifest names what is about to be written, so that after a kill nothing of ours looks edited.

        Parameters:
            force: overwrite edited files too.
            manifest_extra: further keys of the manifest, of values that JSON can hold.

        Raises:
            OutputError: if the folder is in use by another run, or it or a file cannot be written.
            ValueError: if `manifest_extra` uses a key of the manifest's own, or holds a NaN.
        """
        extra = dict(manifest_extra or {})
        if _OWN_KEYS & extra.keys():
            raise ValueError(f"manifest keys {sorted(_OWN_KEYS & extra.keys())} belong to the output folder")
        with locked(self.folder):
            return self._commit(extra, force)

    def _commit(self, extra: Mapping[str, object], force: bool) -> Written:
        old = _read_manifest(self.folder, force)
        plan = self._plan(old, force)
        final = _json({**extra, "files": plan.files, **({"earlier": plan.earlier} if plan.earlier else {})})
        manifest = self.folder / MANIFEST
        self._sweep({*old.get("files", {}), *old.get("pending", {}), *old.get("earlier", {})})
        with Batch(self.folder) as batch:
            if plan.writes:
                pending = {name: plan.files[name] for name in plan.writes}
                batch.write(manifest, _json({**old, "files": plan.now, "pending": pending}))
            for name, data in plan.writes.items():
                batch.write(self.folder / name, data)
            if plan.writes or not manifest.is_file() or manifest.read_bytes() != final:
                batch.write(manifest, final)
            batch.place()
        return plan.result

    def _plan(self, old: Mapping[str, Any], force: bool) -> _Plan:
        ours: set[str] = set()
        for key in sorted(_OWN_KEYS):
            ours.update(old.get(key, {}).values())
        writes: dict[str, bytes] = {}
        files: dict[str, str] = {}
        aside: list[tuple[str, str]] = []
        unchanged: list[str] = []
        for name in sorted(self._contents):
            data = self._contents[name]
            new = hashlib.sha256(data).hexdigest()
            target, present = self._target(name, ours | {new}, force)
            if target != name:
                aside.append((name, target))
            if present == new:
                unchanged.append(target)
            else:
                writes[target] = data
            files[target] = new
        record = self._record(old, files, ours | set(files.values()))
        earlier = {name: found for name, found in record.items() if name not in files}
        left = tuple(sorted(name for name in earlier if name not in self._contents))
        beside_names = {target for _, target in aside}
        written = tuple(name for name in writes if name not in beside_names)
        result = Written(self.folder, written, tuple(unchanged), tuple(aside), left)
        return _Plan(writes, files, earlier, record, result)

    def _record(self, old: Mapping[str, Any], files: Mapping[str, str], ours: set[str]) -> dict[str, str]:
        """Hashes of what is on disk and ours; of an edited file the old one, to know it if restored."""
        recorded = {**old.get("earlier", {}), **old.get("files", {}), **old.get("pending", {})}
        record = {}
        for name in {*recorded, *files}:
            present = self._hash(name)
            if present in ours:
                record[name] = present
            elif present and name in recorded:
                record[name] = recorded[name]
        return record

    def _target(self, name: str, ours: set[str], force: bool) -> tuple[str, str]:
        """The name to write to, and the hash of what is there now ("" for nothing)."""
        target, number = name, 0
        while True:
            present = self._hash(target)
            if present == _NO_FILE and (self.folder / target).is_dir():
                raise OutputError(f"cannot write {self.folder / target}: a folder of that name is there")
            if not present or present in ours or (force and target == name):
                return target, present
            number += 1
            target = beside(name, number)

    def _hash(self, name: str) -> str:
        """The SHA-256 of a file, "" if there is none, `_NO_FILE` for a link, a folder or a device."""
        path = self.folder / name
        try:
            mode = path.lstat().st_mode
            if not stat.S_ISREG(mode):
                return _NO_FILE
            self._check_inside(path)
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
        for folder in {self.folder, *((self.folder / name).parent for name in (*recorded, *self._contents))}:
            if folder.resolve().is_relative_to(self.folder.resolve()):
                sweep(folder)


def _read_manifest(folder: Path, force: bool) -> dict[str, Any]:
    path = folder / MANIFEST
    try:
        found = json.loads(path.read_bytes())
    except FileNotFoundError:
        return {}
    except OSError as error:
        raise OutputError(f"cannot read {path}: {error.strerror or error}") from None
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
    records = [found.get(key, {}) for key in _OWN_KEYS]
    return all(
        isinstance(record, dict) and all(isinstance(v, str) for v in record.values()) for record in records
    )


def _json(value: object) -> bytes:
    text = json.dumps(value, sort_keys=True, indent=2, ensure_ascii=False, allow_nan=False)
    return f"{text}\n".encode()


def zip_deterministic(parts: Mapping[str, bytes]) -> bytes:
    """A zip archive of `parts` in the given order, without times, users or the system it was made on.

    The compressed bytes are those of the zlib that Python was built with; all else is fixed here.

    Raises:
        ValueError: if a name is unsafe.
    """
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w") as archive:
        for name, data in parts.items():
            entry = zipfile.ZipInfo(check_name(name), _ZIP_TIME)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.create_system = _ZIP_UNIX
            entry.external_attr = _ZIP_MODE
            archive.writestr(entry, data, compresslevel=_ZIP_LEVEL)
    return buffer.getvalue()
