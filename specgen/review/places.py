"""What is recommended of one product place by place, where it fits one parapet and not another."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

from specgen.model.project import Parapet
from specgen.model.submission import PlaceResult, ProductReview, Recommendation, WallPoint
from specgen.review.judge import recommend

Weighed = Callable[[Recommendation, str, tuple[WallPoint, ...]], tuple[Recommendation, str, str]]


def by_place(one: ProductReview, parapets: Iterable[Parapet], weighed: Weighed) -> ProductReview:
    """The review with its recommendation place by place; as it is where every place has the same one.

    Args:
        one: with its rows and with what the product does to the wall.
        parapets: of the project.
        weighed: the recommendation of some rows, made stricter by what the product does there.
    """
    found: dict[Recommendation, PlaceResult] = {}
    for name, result, why in _results(one, parapets, weighed):
        known = found.get(result)
        found[result] = PlaceResult((*known.parapets, name) if known else (name,), result, why)
    if len(found) < 2:
        return one
    return replace(one, places=tuple(sorted(found.values(), key=lambda each: each.recommendation.strictness)))


def _results(
    one: ProductReview, parapets: Iterable[Parapet], weighed: Weighed
) -> Iterator[tuple[str, Recommendation, str]]:
    for parapet in parapets:
        if one.product.parapets and parapet.name not in one.product.parapets:
            continue
        rows = tuple(row for row in one.verdicts if parapet.name in row.requirement.parapets)
        points = tuple(point for point in one.wall if parapet.name in point.parapets)
        if rows:
            result, _, why = weighed(*recommend(rows), points)
            if one.notes and result is Recommendation.NO_EXCEPTIONS:
                result, why = Recommendation.CORRECTIONS, one.why_in_words
            yield parapet.name, result, why
