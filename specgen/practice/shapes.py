"""What the files that people write are built of, beside the values of records and roles: each key once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from specgen.files.compiled import shipped_yaml
from specgen.practice.entries import PracticeError

FILE = Path(__file__).parent / "vocabulary" / "shapes.yaml"


@dataclass(frozen=True)
class ShapeKey:
    """A key that holds other keys, a list, or a word of the file's own."""

    title: str
    note: str  # what to write, in sentences
    needed: bool = False
    most: int = 0  # entries of its list; 0 where nothing is counted
    holds: str = ""  # the record that stands in its list


@dataclass(frozen=True)
class Shape(Mapping[str, ShapeKey]):
    """The keys of one place of a file, in the order in which they are told."""

    name: str
    held: Mapping[str, ShapeKey]

    def __getitem__(self, name: str) -> ShapeKey:
        return self.held[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self.held)

    def __len__(self) -> int:
        return len(self.held)

    @property
    def lists(self) -> dict[str, str]:
        """The keys of lists of records, and what stands in each."""
        return {name: key.holds for name, key in self.held.items() if key.holds}

    @property
    def needed(self) -> tuple[str, ...]:
        """The keys without which it is refused."""
        return tuple(name for name, key in self.held.items() if key.needed)


@cache
def shapes() -> Mapping[str, Shape]:
    """All of them, by name.

    Raises:
        PracticeError: a key has no title or no note, or says something else.
    """
    return {name: Shape(name, _keys(name, keys)) for name, keys in shipped_yaml(FILE).items()}


def shape(name: str) -> Shape:
    """One of them.

    >>> shape("change of a request").needed, shape("project file")["parapets"].most
    (('set', 'to'), 2000)
    """
    return shapes()[name]


def _keys(name: str, written: Mapping[str, Mapping[str, Any]]) -> dict[str, ShapeKey]:
    try:
        return {key: ShapeKey(**values) for key, values in written.items()}
    except TypeError as error:
        raise PracticeError(f"vocabulary: shape {name!r}: {error}") from error
