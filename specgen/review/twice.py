"""The same product submitted more than once with different values, and values that nobody can read or asks for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from specgen.model.submission import Claim, Product, ProductReview, Submission
from specgen.practice.entries import Practice
from specgen.sections.form_text import FormText
from specgen.units.quantity import Quantity

Placed = tuple[str, Product]  # where it stands: "07 71 00-01, item 2"


def placed(submissions: Iterable[Submission]) -> tuple[Placed, ...]:
    """Every product with the words for where it was submitted, in the order given."""
    return tuple(
        (f"{one.info.word('number') or ''}, item {number}", product)
        for one in submissions
        for number, product in enumerate(one.products, start=1)
    )


def contradictions(product: Product, others: Sequence[Placed], practice: Practice) -> Iterator[str]:
    """What a product states otherwise than where the same product is submitted again.

    Two are the same if role, maker and name are. A dimension that is made to fit may differ between two places; what was
    tested may not, and neither may anything at one place.

    Args:
        product: one of the package.
        others: all products of the package with their places.
        practice: the vocabulary, for the titles and the test methods.
    """
    words = FormText("letters/review")
    fields = practice.vocabulary.roles[product.role].fields
    for place, other in others:
        if other is product or _same(other) != _same(product):
            continue
        apart = product.parapets and other.parapets and not set(product.parapets) & set(other.parapets)
        for name, claim in product.claims.items():
            field, against = fields.get(name), other.claims.get(name)
            if against is None or (apart and (field is None or not field.method)):
                continue
            if claim.method == against.method and _stated(claim) != _stated(against):
                yield words(
                    "stated_twice",
                    title=field.title if field else "generic kind",
                    one=_shown(claim),
                    other=_shown(against),
                    place=place,
                )


def unread(one: ProductReview, practice: Practice) -> Iterator[str]:
    """The values that nobody could read and that no row asks for: they are told all the same."""
    asked = {row.requirement.attribute for row in one.verdicts}
    fields, words = practice.vocabulary.roles[one.product.role].fields, FormText("letters/review")
    for name, given in one.product.unreadable.items():
        if name not in asked:
            title = fields[name].title if name in fields else "generic kind"
            yield words(
                "not_understood", title=title, seen=given.seen, why=given.why.removeprefix(f"`{name}`: ")
            )


def _same(product: Product) -> tuple[str, ...]:
    return product.role, " ".join(product.maker.casefold().split()), " ".join(product.name.casefold().split())


def _stated(claim: Claim) -> tuple[object, ...]:
    ends = (claim.value, claim.upper)
    exact = tuple((one.dimension, one.exact) if isinstance(one, Quantity) else one for one in ends)
    return claim.sense, *exact


def _shown(claim: Claim) -> str:
    value = claim.value
    if claim.sense and isinstance(value, Quantity):
        return claim.stated.text
    if isinstance(value, Quantity):
        return value.text
    if isinstance(value, bool):
        return "yes" if value else "no"
    return ", ".join(value) if isinstance(value, tuple) else str(value)
