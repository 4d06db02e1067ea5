"""The data of reviews in a folder, as the register reads them."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from typing import Any

from specgen.files.foreign import foreign_bytes, refused
from specgen.model.submission import Recommendation
from specgen.practice.entries import Practice
from specgen.register.reviewed import Review

MOST_BYTES = 50_000_000
MOST_FILES = 2000


def load_reviews(folder: Path, practice: Practice) -> tuple[Review, ...]:
    """Every review that ``specgen review`` wrote into a folder.

    Args:
        folder: with the data (JSON) beside the letters.
        practice: the vocabulary, for the section of each role.

    Raises:
        InputError: the folder holds no review, too many, or one that is not what was written.
    """
    paths = sorted(folder.glob("review-*.json"))
    if not paths or len(paths) > MOST_FILES:
        what = f"it holds {len(paths)} reviews" if paths else "it holds no review"
        raise refused(folder, what, "name the folder into which `specgen review` wrote")
    return tuple(_review(path, practice) for path in paths)


def _review(path: Path, practice: Practice) -> Review:
    try:
        content = json.loads(foreign_bytes(path, MOST_BYTES))
        products = content["products"]
        results = [Recommendation(one["recommendation"]) for one in products]
        roles = [practice.vocabulary.roles[one["product"]["role"]] for one in products]
        return Review(
            number=str(content["submittal"]),
            round=int(content["round"]),
            received=_day(content, "received"),
            returned=_day(content, "returned"),
            recommended=max(results, key=lambda one: one.strictness).value,
            comments=sum(one["standing"] != "closed" for one in content["comments"]),
            products=tuple(str(one["product"]["name"]) for one in products),
            sections=tuple(dict.fromkeys(role.section for role in roles if role.section)),
        )
    except (ValueError, KeyError, TypeError, AttributeError):
        raise refused(path, "it is not the data of a review", "run the review again") from None


def _day(content: Mapping[str, Any], key: str) -> date | None:
    written = content[key]
    return date.fromisoformat(written) if written else None
