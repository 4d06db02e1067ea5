"""The trade's nominal pairs: what it writes for one value in the two languages of units, 12 in and 300 mm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from functools import lru_cache
from pathlib import Path
from typing import Any, cast

from specgen.files.compiled import shipped_yaml
from specgen.practice.entries import PracticeError
from specgen.practice.written import needed, source
from specgen.units.quantity import Quantity, QuantityError, parse

FILE = Path(__file__).parent / "nominal.yaml"
_Pairs = Mapping[tuple[str, Fraction], tuple[Quantity, ...]]


def paired(value: Quantity, first: Quantity | None = None) -> Quantity:
    """A value with its nominal values in the other language of units.

    Args:
        value: as it was written.
        first: what its own source prints beside it, before what the trade writes.

    >>> [twin.text for twin in paired(parse("12 in")).nominal], paired(parse("299 mm")).nominal
    (['300 mm'], ())
    """
    known = _pairs().get((value.dimension, value.exact), ())
    own = () if first is None else (first,)
    nominal = (*own, *(twin for twin in known if twin not in own))
    return value if nominal in ((), value.nominal) else replace(value, nominal=nominal)


def same(one: Quantity, other: Quantity) -> bool:
    """Whether two values are one, in whichever way the trade writes it.

    >>> same(parse("1.57 psf"), paired(parse("75 Pa"))), same(parse("76 Pa"), paired(parse("75 Pa")))
    (True, False)
    """
    if one.dimension != other.dimension:
        return False
    return one.exact in (other.exact, *(twin.exact for twin in other.nominal))


@lru_cache(maxsize=1)
def _pairs() -> _Pairs:
    """Every nominal value with what else the trade writes for it.

    Raises:
        PracticeError: a group without a source, a value that does not parse or stands in two rows.
    """
    found: dict[tuple[str, Fraction], tuple[Quantity, ...]] = {}
    heads: set[tuple[str, Fraction]] = set()
    for name, group in cast("dict[str, Any]", shipped_yaml(FILE)).items():
        source(group, f"{FILE.name}: {name}")
        for row in needed(group, "rows", f"{FILE.name}: {name}"):
            values = _row(row)
            head = (values[0].dimension, values[0].exact)
            if head in heads:
                raise PracticeError(f"{FILE.name}: {values[0].text} stands in two rows")
            heads.add(head)
            for one in values:
                others = tuple(other for other in values if other is not one)
                key = (one.dimension, one.exact)
                found[key] = (*found.get(key, ()), *others)
    return found


def _row(written: list[str]) -> list[Quantity]:
    try:
        head = parse(written[0])
        return [head, *(parse(text, {head.dimension}) for text in written[1:])]
    except QuantityError as error:
        raise PracticeError(f"{FILE.name}: {error}") from error
