"""The wall with submitted products in it: the project again, as it would be if they were accepted."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from typing import TypeVar

from specgen.model.project import Component, Parapet, Project
from specgen.model.submission import Product
from specgen.practice.entries import Practice
from specgen.wall.change import foreign, with_parapets, with_parts
from specgen.wall.plausible import doubts, sifted

Anything = TypeVar("Anything")


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
        names = tuple(parapet.name for parapet in project.parapets if _goes(product, parapet))
        project = with_parapets(project, partial(_in_parapet, product=product, practice=practice), names)
    return project


def not_placed(project: Project, products: Iterable[Product]) -> tuple[NotPlaced, ...]:
    """The products that no parapet takes up."""
    return tuple(
        NotPlaced(one, f"no parapet it is meant for has a component of the role {one.role}")
        for one in products
        if not any(_goes(one, parapet) and parapet.all_of(one.role) for parapet in project.parapets)
    )


def doubted_claims(product: Product, practice: Practice, system: str) -> Mapping[str, str]:
    """Why a product is not expected to have what it states, by attribute; what is confirmed as meant is left out."""
    part = Component(product.role, {}, {}, product.mark, id=product.role, kind=product.kind)
    found = doubts([_stating(part, product, practice)], practice, system)
    return {name: why for _, name, _, why in found if name not in product.meant}


def _goes(product: Product, parapet: Parapet) -> bool:
    return not product.parapets or parapet.name in product.parapets


def _in_parapet(parapet: Parapet, product: Product, practice: Practice) -> Parapet:
    parts = parapet.all_of(product.role)
    # Of several layers a product takes the place of those of its kind; where none is, of each.
    own = [part for part in parts if part.kind == product.kind] or parts
    return with_parts(parapet, lambda part: _component(part, product, practice) if part in own else part)


def _component(part: Component, product: Product, practice: Practice) -> Component:
    kind = product.kind or part.kind
    fields = practice.vocabulary.roles[part.role].fields
    claim = product.claims.get("family")
    lost = foreign(part, kind, practice, str(claim.value) if claim else "")
    own = replace(
        part,
        kind=kind,
        values=_without(part.values, lost),
        bounds=_without(part.bounds, lost),
        marks={name: part.at(name) for name in (*part.values, *part.bounds) if name not in lost},
        doubted={name: one for name, one in part.doubted.items() if not fields[name].method},
        meant=part.meant if kind == part.kind else {},
        because={},  # the reason was for what the project states
    )
    # An id that was the former kind's name would tell of a product that is no longer there.
    return sifted(_stating(own, product, practice), practice)


def _stating(part: Component, product: Product, practice: Practice) -> Component:
    """A component that states what a product does; the rest stays as it is."""
    fields = practice.vocabulary.roles[part.role].fields
    claims = {name: claim for name, claim in product.claims.items() if name in fields}
    values = {name: one.value for name, one in claims.items() if not one.sense}
    bounds = {name: replace(one.stated, method=None) for name, one in claims.items() if one.sense}
    return replace(
        part,
        values={**_without(part.values, claims), **values},
        bounds={**_without(part.bounds, claims), **bounds},
        marks={**part.marks, **{name: one.mark for name, one in claims.items()}},
        doubted=_without(part.doubted, claims),
        meant={**_without(part.meant, claims), **product.meant},
        unknown=_without(part.unknown, claims),
        inapplicable=_without(part.inapplicable, claims),
    )


def _without(held: Mapping[str, Anything], names: Container[str]) -> dict[str, Anything]:
    return {name: one for name, one in held.items() if name not in names}
