"""The parts that can be put into a wall."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.practice.entries import Practice


@dataclass(frozen=True)
class OfferedRole:
    """A part that can be put in, with the kinds that it has."""

    name: str
    title: str
    kinds: tuple[tuple[str, str], ...]


def offered(practice: Practice) -> tuple[OfferedRole, ...]:
    """Every part of a wall that the vocabulary knows."""
    return tuple(
        OfferedRole(one.name, one.title, tuple((kind.name, kind.title) for kind in one.kinds.values()))
        for one in practice.vocabulary.roles.values()
        if one.where != "place"
    )
