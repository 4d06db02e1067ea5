"""How components, properties and values are named in a building model, for all that is exchanged with models."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.model.project import Value
from specgen.practice.entries import Practice, Row
from specgen.units.quantity import Quantity, to_unit

SYSTEM = "Parapet components"  # the classification that elements bear: the role of each
PREFIX = "Parapet_"  # of property sets of our own; `Pset_` belongs to the standard
PLACE = f"{PREFIX}Component"  # the set that says what an element is: parapet, component, role
STANDING = "Standing"  # behind a set's name: how each of its values stands


@dataclass(frozen=True)
class Property:
    """A property of a model: its set and its name."""

    set: str
    name: str


@dataclass(frozen=True)
class Modelled:
    """A value as a model holds it: the defined type of the schema, and the value in the unit of that type."""

    measure: str  # "IfcLengthMeasure"
    value: float | int | str | bool
    unit: str = ""  # "" where it has none


def capitals(key: str) -> str:
    """A key or a role as a property or a set is named.

    >>> capitals("outer_drip"), capitals("roof turn-up"), capitals("nfpa_285")
    ('OuterDrip', 'RoofTurnUp', 'Nfpa285')
    """
    words = key.replace("_", " ").replace("-", " ").split()
    return "".join(word[:1].upper() + word[1:] for word in words)


def set_of(what: str) -> str:
    """The property set of a role or a record.

    >>> set_of("top flashing")
    'Parapet_TopFlashing'
    """
    return f"{PREFIX}{capitals(what)}"


def property_of(practice: Practice, what: str, key: str) -> Property:
    """The property of a value: the standard's own where it has one.

    Args:
        practice: has the table of the standard's properties.
        what: role, or record, as ``parapet``.
        key: of the value in the vocabulary.
    """
    for row in practice.table("ifc_properties").where(of=what, value=key):
        return Property(str(row["set"]), str(row["property"]))
    return Property(set_of(what), capitals(key))


def element_of(practice: Practice, role: str) -> tuple[str, str] | None:
    """Entity and predefined type of a role; None where no element of a model stands for it.

    >>> from specgen.practice.load import load_practice
    >>> element_of(load_practice(), "coping"), element_of(load_practice(), "joint sealant")
    (('IfcCovering', 'COPING'), None)
    """
    for row in practice.table("ifc_elements").where(role=role):
        return str(row["entity"]), str(row["type"])
    return None


def modelled(practice: Practice, value: Value) -> Modelled | None:
    """One value as a model holds it; None where the schema has no measure for it.

    >>> from specgen.practice.load import load_practice
    >>> from specgen.units.quantity import parse
    >>> modelled(load_practice(), parse("4 in"))
    Modelled(measure='IfcLengthMeasure', value=0.1016, unit='m')
    >>> modelled(load_practice(), parse("10 perm")).value
    572.1345...
    """
    match value:
        case bool():
            return Modelled("IfcBoolean", value)
        case int():
            return Modelled("IfcInteger", value)
        case Quantity():
            row = _measure(practice, value.dimension)
            if row is None:
                return None
            unit = str(row["unit"] or "")
            return Modelled(str(row["measure"]), to_unit(value, unit) if unit else value.value, unit)
        case float():
            return Modelled("IfcReal", value)
        case tuple():
            return None
        case _:
            return Modelled("IfcLabel", str(value))


def _measure(practice: Practice, dimension: str) -> Row | None:
    return next(iter(practice.table("ifc_measures").where(dimension=dimension)), None)
