"""The JSON Schema of each kind of file that people write."""

from __future__ import annotations

from typing import Any

from specgen.intake.json_schema import project_schema
from specgen.intake.json_schema_files import (
    acceptance_schema,
    bad_products_schema,
    comments_schema,
    office_schema,
    prices_schema,
    schedule_schema,
)
from specgen.intake.json_schema_papers import request_schema, submittal_schema
from specgen.practice.entries import Practice
from specgen.rules.office import changeable

_OTHERS = {
    "project": project_schema,
    "submittal": submittal_schema,
    "request": request_schema,
    "schedule": schedule_schema,
    "acceptance": acceptance_schema,
    "comments": comments_schema,
    "prices": prices_schema,
    "bad products": bad_products_schema,
}


def file_schema(kind: str, practice: Practice) -> dict[str, Any]:
    """The JSON Schema of a kind of file; what an office may change is asked of the rules.

    Args:
        kind: of the file.
        practice: holds the vocabulary.
    """
    if kind == "office":
        return office_schema(practice, changeable(practice))
    return _OTHERS[kind](practice)
