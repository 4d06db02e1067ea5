"""The worked examples that ship: where each is, and how they write the value of a key."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import lru_cache
from pathlib import Path
from typing import Any

from specgen.files.carried import carried
from specgen.files.yaml_reader import read_yaml
from specgen.intake.project import FILE_NAME
from specgen.intake.start import scalar
from specgen.practice.shapes import shape

_FULL = "mixed-humid-midrise"  # asked first
_HELD: Mapping[str, str] = {  # what stands in each list
    key: what for name in ("project file", "parapet", "existing") for key, what in shape(name).lists.items()
}


def worked_examples() -> Mapping[str, Path]:
    """The project file of each worked example by its name; `commented` is one with a comment at each key."""
    found = {file.parent.name: file for file in sorted(carried("projects").glob(f"*/{FILE_NAME}"))}
    return {**found, "commented": carried("templates") / "new" / FILE_NAME}


@lru_cache(maxsize=1)
def written_values() -> Mapping[tuple[str, str], str]:
    """A value of each key that a worked example states, as it is written there: by role or record, and key."""
    files = worked_examples()
    found: dict[tuple[str, str], str] = {}
    for name in sorted(files, key=lambda one: one != _FULL):
        for what, node in _records("", read_yaml(files[name])):
            for key, value in node.items():
                if not isinstance(value, list | dict) or _is_words(value):
                    found.setdefault((what, key), _text(value))
    return found


def _records(what: str, node: Any) -> Iterator[tuple[str, Mapping[str, Any]]]:
    """Every mapping below a node, with the role or record that it describes."""
    if isinstance(node, list):
        for item in node:
            yield from _records(what, item)
    elif isinstance(node, dict):
        what = str(node.get("role", what))
        yield what, node
        for key, value in node.items():
            yield from _records("parapet" if what == "types" else _HELD.get(key, key), value)


def _is_words(value: Any) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(one, str) for one in value)


def _text(value: Any) -> str:
    """A value as a line of a project file has it."""
    if isinstance(value, list):
        return f"[{', '.join(map(_text, value))}]"
    if isinstance(value, bool):
        return "yes" if value else "no"
    return scalar(value) if isinstance(value, str) else str(value)
