"""The existing state of a parapet: observations, proposed repairs and openings, read from its mapping."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from specgen.files.marks import Mark
from specgen.files.yaml_reader import MarkedMap
from specgen.intake.places import read_places
from specgen.intake.records import RecordReader
from specgen.model.project import Existing
from specgen.practice.shapes import shape

LISTS: Mapping[str, str] = shape("existing").lists
Items = Callable[[MarkedMap, str], list[tuple[Any, Mark]]]


def read_existing(reader: RecordReader, node: MarkedMap, items: Items) -> Existing | None:
    """What a parapet says below `existing`; None where it says nothing.

    Args:
        reader: collects the problems.
        node: the parapet.
        items: the items of a list with their marks; a problem if it is no list.
    """
    if "existing" not in node:
        return None
    written, mark = node["existing"], node.values_at["existing"]
    record = reader.record(written, mark, "existing", tuple(LISTS))
    if not isinstance(written, MarkedMap):
        return None
    mark = node.keys_at["existing"]
    observations, repairs, openings = (
        read_places(reader, items(written, key), what) for key, what in LISTS.items()
    )
    return Existing(
        "existing",
        record.values,
        record.marks,
        mark,
        doubted=record.doubted,
        meant=record.meant,
        unknown=record.unknown,
        inapplicable=record.inapplicable,
        observations=observations,
        repairs=repairs,
        openings=openings,
    )
