"""What every file of the practice folder has in common: parts that must be there, and citations."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from specgen.model.source import Source, Status
from specgen.practice.entries import PracticeError

PRACTICE_STATUSES = ("C", "S", "P", "M")


def needed(node: Any, key: str, where: str) -> Any:
    """A part of a mapping that must be there.

    Raises:
        PracticeError: it is missing or empty.
    """
    if not isinstance(node, Mapping) or node.get(key) is None:
        raise PracticeError(f"{where}: {key!r} is missing")
    return node[key]


def source(node: Mapping[str, Any], where: str) -> Source:
    """A citation from its four written fields, under ``source`` of an entry or a table.

    Raises:
        PracticeError: no source, no status, or a status that is not C, S, P or M.
    """
    return citation(node.get("source"), where)


def citation(given: Any, where: str) -> Source:
    """A citation from its four written fields.

    Raises:
        PracticeError: as :func:`source`.
    """
    if not isinstance(given, dict) or not given.get("document"):
        raise PracticeError(f"{where}: no source")
    if given.get("status") not in PRACTICE_STATUSES:
        raise PracticeError(f"{where}: status {given.get('status')!r} is not C, S, P or M")
    return Source(
        str(given["document"]),
        str(given.get("edition", "")),
        str(given.get("place", "")),
        Status(given["status"]),
    )
