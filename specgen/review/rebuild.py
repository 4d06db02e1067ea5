"""The wall with submitted products in it: the project again, as it would be if they were accepted."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from specgen.files.marks import Mark
from specgen.model.project import Component, Parapet, Project, Value
from specgen.model.submission import Product
from specgen.practice.entries import Practice

OF_THE_KIND = ("family",)  # what comes with the generic kind, where the product says nothing else
OF_THE_MATERIAL = ("substrate_approved",)  # a letter written for one material says nothing of another


@dataclass(frozen=True)
class NotPlaced:
    """A product that goes nowhere: no parapet it is meant for has its role."""

    product: Product
    why: str


def with_products(project: Project, products: Iterable[Product], practice: Practice) -> Project:
    """The project with each product in place of every component of its role, where it is to go.

    What the design says of the place stays: spacings, laps, heights. What was measured on a product belongs to that
    product: a tested value that the submitted one does not state is not known. Values keep the place where they
    stand in the submittal.

    Args:
        project: as designed.
        products: submitted; a later one of the same role and place replaces an earlier one.
        practice: the vocabulary.

    Returns:
        A new project.
    """
    for product in products:
        parapets = tuple(
            _in_parapet(parapet, product, practice) if _goes(product, parapet) else parapet
            for parapet in project.parapets
        )
        project = replace(project, parapets=parapets)
    return project


def not_placed(project: Project, products: Iterable[Product]) -> tuple[NotPlaced, ...]:
    """The products that no parapet takes up."""
    return tuple(
        NotPlaced(one, f"no parapet it is meant for has a component of the role {one.role}")
        for one in products
        if not any(_goes(one, parapet) and parapet.all_of(one.role) for parapet in project.parapets)
    )


def _goes(product: Product, parapet: Parapet) -> bool:
    return not product.parapets or parapet.name in product.parapets


def _in_parapet(parapet: Parapet, product: Product, practice: Practice) -> Parapet:
    def placed(parts: tuple[Component, ...]) -> tuple[Component, ...]:
        return tuple(
            _component(part, product, practice) if part.role == product.role else part for part in parts
        )

    return replace(parapet, build_up=placed(parapet.build_up), top=placed(parapet.top))


def _component(part: Component, product: Product, practice: Practice) -> Component:
    kind = product.kind or part.kind
    fields = practice.vocabulary.roles[part.role].fields
    values: dict[str, Value] = {}
    marks: dict[str, Mark] = {}
    of_kind = practice.kind(part.role, kind).family
    # A kind of many families, as a fluid, says nothing of what it may touch: the product does, or nobody.
    lost = OF_THE_KIND if kind != part.kind or not of_kind else ()
    claim = product.claims.get("family")
    family = str(claim.value) if claim else of_kind
    if family and family != (part.word("family") or practice.kind(part.role, part.kind).family):
        lost = (*lost, *OF_THE_MATERIAL)
    for name, value in part.values.items():
        foreign = fields[name].method or name in lost
        if not foreign or fields[name].project_only:
            values[name], marks[name] = value, part.at(name)
    for name, claim in product.claims.items():
        if name in fields:
            values[name], marks[name] = claim.value, claim.mark
    # An id that was the former kind's name would tell of a product that is no longer there.
    return replace(part, kind=kind, values=values, marks=marks)
