"""How components, properties and values are named in a building model, for all that is exchanged with models."""

from __future__ import annotations

import uuid
from dataclasses import dataclass

from specgen.model.project import Value
from specgen.practice.entries import Practice, Row
from specgen.units.quantity import Quantity, to_unit

SYSTEM = "Parapet components"  # the classification that elements bear: the role of each
PREFIX = "Parapet_"  # of property sets of our own; `Pset_` belongs to the standard
PLACE = f"{PREFIX}Component"  # the set that says what an element is: parapet, component, role
_SPACE = uuid.UUID("6f0c5a1e-0a51-5d7c-9a33-9f9e0c0f4d21")  # of all ids below
_DIGITS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_$"  # of a GlobalId, by the schema
STANDING = "Standing"  # behind a set's name: how each of its values stands


class NothingThereError(ValueError):
    """A project that describes nothing yet of what is to be exchanged; the message says what to describe."""


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
        what: role; ``wall`` of a parapet, ``material``.
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


def modelled(practice: Practice, value: Value, type_of: str = "") -> Modelled | None:
    """One value as a model holds it; None where the schema has no measure for it.

    Args:
        practice: has the table of measures.
        value: of a project, or of a limit.
        type_of: the field, where it is known: a count is a whole number also where its limit is a quantity.

    >>> from specgen.practice.load import load_practice
    >>> from specgen.units.quantity import parse
    >>> modelled(load_practice(), parse("4 in"))
    Modelled(measure='IfcLengthMeasure', value=0.1016, unit='m')
    >>> round(modelled(load_practice(), parse("10 perm")).value, 3)
    572.135
    """
    match value:
        case bool():
            return Modelled("IfcBoolean", value)
        case int() | Quantity() if type_of == "count":
            return Modelled("IfcInteger", int(value if isinstance(value, int) else value.value))
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


def guid(*names: str) -> uuid.UUID:
    """The id of something by its names: the same in every export, so that programs know it again.

    Args:
        names: of the project, the parapet, the component …
    """
    return uuid.uuid5(_SPACE, "\0".join(names))


def global_id(*names: str) -> str:
    """The same id as the schema of models writes it: 128 bits as 22 digits of 6 bits.

    >>> len(global_id("2601 Alder Street Offices", "P-1", "coping"))
    22
    """
    number, digits = guid(*names).int, ""
    for _ in range(22):
        number, digit = divmod(number, 64)
        digits = _DIGITS[digit] + digits
    return digits


def project_id(title: str) -> str:
    """The GlobalId of a project."""
    return global_id(title, "project")


def wall_id(title: str, parapet: str) -> str:
    """The GlobalId of the wall of a parapet."""
    return global_id(title, "wall", parapet)


def part_id(title: str, parapet: str, component: str) -> str:
    """The GlobalId of a component of a parapet."""
    return global_id(title, "part", parapet, component)
