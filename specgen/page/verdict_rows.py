"""What a review found, in rows that the views of submittals and of requests show alike."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from specgen.model.submission import ProductReview, Result, WallPoint
from specgen.page.desk import Desk
from specgen.review.comments import TONES, point_row, without_place
from specgen.sections.words import capital, sentence

ROWS = {"plain": "good", "good": "good", "bad": "bad", "doubt": "doubt"}


def product_rows(desk: Desk, number: int, one: ProductReview) -> Mapping[str, Any]:
    """One reviewed product: its verdict row by row, and what it does to the wall.

    Args:
        desk: with the vocabulary.
        number: of the product in its paper, counted from 0.
        one: as reviewed.
    """
    vocabulary = desk.inputs.practice.vocabulary
    rows = [
        {
            "title": capital(row.requirement.title),
            "limit": row.limit,
            "at": ", ".join(row.requirement.where) if not row.requirement.everywhere else "",
            "submitted": row.submitted,
            "evidence": without_place(row.evidence),
            "value": f"v-{number}-{row.requirement.attribute}",
            "result": row.result.value,
            "look": "good" if row.result is Result.MEETS else ROWS[TONES[row.result]],
            "why": sentence(row.reason),
            "cure": "" if row.result is Result.MEETS else sentence(row.cure),
            "section": row.section,
            "paragraph": row.paragraph,
            "key": row.requirement.name,
            "margin": row.margin,
        }
        for row in one.verdicts
    ]
    return {
        "name": one.product.name,
        "role": vocabulary.roles[one.product.role].title,
        "recommendation": one.recommendation.value,
        "look": "bad" if one.failed else "doubt" if one.open or one.why else "good",
        "why": one.why_in_words,
        "rows": rows,
        "points": point_rows(desk, one.wall),
        "places": one.places,
        "notes": one.notes,
        "alternatives": one.alternatives,
    }


def point_rows(desk: Desk, points: Iterable[WallPoint]) -> list[dict[str, str]]:
    """What happens in the wall, in the words of the letter."""
    found = []
    for point in points:
        head, what, remedy, source = point_row(point, desk.inputs.practice.vocabulary)
        word = point.finding.word
        look = "bad" if point.breaks else "doubt"
        found.append(
            {"head": head, "what": what, "remedy": remedy, "source": source, "word": word, "look": look}
        )
    return found
