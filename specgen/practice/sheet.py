"""Sheet metal thickness: a gauge or a weight means a thickness only together with its metal."""

from __future__ import annotations

from specgen.practice.entries import Practice, cell
from specgen.units.quantity import Quantity, QuantityError, from_si, to_unit


def sheet_thickness(practice: Practice, given: Quantity, metal: str | None) -> Quantity:
    """The thickness of a sheet written as a length, a gauge or a weight.

    Args:
        practice: holds the gauge tables.
        given: a length, a gauge (steel) or a mass per area (copper).
        metal: the metal; needed for a gauge or a weight.

    Returns:
        A length.

    Raises:
        QuantityError: a gauge without metal, a gauge of a metal that has none, an unknown gauge, a weight
            of a metal that is not sold by weight.
    """
    if given.dimension == "length":
        return given
    if metal is None:
        raise QuantityError(f"`{given.text}` means nothing without its metal", "give `metal` beside it")
    if given.dimension == "gauge":
        return _from_gauge(practice, given, metal)
    rows = practice.table("copper_weight").where(metal=metal)
    if not rows:
        raise QuantityError(f"{metal} is not sold by weight", "write its thickness in inches or mm")
    per_unit = cell(rows[0], "thickness_per_weight").value
    return from_si(to_unit(given, "oz/ft2") * per_unit, "length", "in")


def _from_gauge(practice: Practice, given: Quantity, metal: str) -> Quantity:
    table = practice.table("gauges")
    of_metal = [row for row in table.rows if row["metal"] == metal]
    if not of_metal:
        fix = "write the weight in oz/ft2" if metal == "copper" else "write the thickness in inches or mm"
        raise QuantityError(f"{metal} is not sold by gauge", fix)
    for row in of_metal:
        if cell(row, "gauge").value == given.number:
            return cell(row, "thickness")
    known = ", ".join(f"{cell(row, 'gauge').value:g}" for row in of_metal)
    raise QuantityError(f"no gauge {given.number:g} for {metal}", f"known gauges: {known}")
