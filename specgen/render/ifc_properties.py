"""The property sets of a building model: values as the project states them, and how each of them stands."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from specgen.model.project import Record, Value
from specgen.practice.entries import Practice, Row
from specgen.render.ifc_file import ModelFile
from specgen.render.ifc_names import STANDING, Modelled, modelled, property_of
from specgen.units.quantity import Quantity

STATED, SPECIFIED, ASKED = "stated", "specified", "asked for"
UNKNOWN, INAPPLICABLE = "unknown", "does not apply"
WALL = "wall"  # what a parapet is called here: the vocabulary has it as its record
_LONGEST_LABEL = 255  # characters, by the schema
_SHOWN_AS_TEXT = frozenset({"IfcLabel", "IfcText"})  # standard properties that hold a quantity in words


@dataclass(frozen=True)
class ModelValue:
    """A value with its key: as it stands, and None where nobody knows it."""

    key: str
    value: Value | None
    standing: str


def held(record: Record) -> Iterator[ModelValue]:
    """Every value of a record that the file states or leaves, or that a requirement stands for, in this order.

    Args:
        record: with the limits of its requirements put in.
    """
    for key, value in record.values.items():
        yield ModelValue(key, value, SPECIFIED if key in record.specified else STATED)
    for key in record.doubted:
        if key not in record.values:
            yield ModelValue(key, None, UNKNOWN)
    for key in record.unknown:
        yield ModelValue(key, None, UNKNOWN)
    for key in record.inapplicable:
        yield ModelValue(key, None, INAPPLICABLE)


class PropertySets:
    """Writes the sets of elements and materials into a file."""

    def __init__(self, model: ModelFile, practice: Practice) -> None:
        self._model, self._practice = model, practice

    def of_record(
        self,
        what: str,
        record: Record,
        more: Mapping[str, Value] | None = None,
        asked: Iterable[str] = (),
    ) -> dict[str, list[Any]]:
        """The properties of a record by the name of their set, and those that say how each stands.

        Args:
            what: role; ``wall`` of a parapet.
            record: with the limits of its requirements put in.
            more: what else is known of it, by key.
            asked: keys that requirements ask for; one of which the file says nothing has no value yet.
        """
        known = {one.key: one for one in held(record)}
        known |= {key: ModelValue(key, value, STATED) for key, value in (more or {}).items()}
        found = [
            *known.values(),
            *(ModelValue(key, None, ASKED) for key in dict.fromkeys(asked) if key not in known),
        ]
        sets: dict[str, list[Any]] = {}
        standing: dict[str, list[Any]] = {}
        for one in found:
            named = property_of(self._practice, what, one.key)
            made = self._property(named.name, one, self._standard(what, one.key), self._type(what, one.key))
            sets.setdefault(named.set, []).append(made)
            beside = f"{named.set.replace('Pset_', 'Parapet_')}{STANDING}"
            standing.setdefault(beside, []).append(
                self._single(named.name, Modelled("IfcLabel", one.standing))
            )
        return {**sets, **standing}

    def labels(self, words: Mapping[str, str | bool]) -> list[Any]:
        """Properties of words and flags."""
        return [
            self._single(name, Modelled("IfcBoolean" if isinstance(value, bool) else "IfcLabel", value))
            for name, value in words.items()
        ]

    def attach(self, element: Any, names: tuple[str, ...], sets: Mapping[str, list[Any]]) -> None:
        """Give an element its sets.

        Args:
            element: of the file.
            names: by which its id was made.
            sets: properties by the name of their set.
        """
        for name, properties in sets.items():
            made = self._model.root(
                "IfcPropertySet", ("set", *names, name), Name=name, HasProperties=properties
            )
            self._model.root(
                "IfcRelDefinesByProperties",
                ("set of", *names, name),
                RelatedObjects=[element],
                RelatingPropertyDefinition=made,
            )

    def of_material(self, material: Any, row: Row) -> None:
        """The properties of a generic material that the standard has a name for."""
        sets: dict[str, list[Any]] = {}
        for standard in self._practice.table("ifc_properties").where(of="material"):
            value = row.get(str(standard["value"]))
            if isinstance(value, Quantity):
                made = Modelled(str(standard["measure"]), value.value)
                sets.setdefault(str(standard["set"]), []).append(
                    self._single(str(standard["property"]), made)
                )
        for name, properties in sets.items():
            self._model.make("IfcMaterialProperties", Name=name, Properties=properties, Material=material)

    def _standard(self, what: str, key: str) -> str:
        """The defined type of a property of the standard; "" of one of ours."""
        rows = self._practice.table("ifc_properties").where(of=what, value=key)
        return str(rows[0]["measure"]) if rows else ""

    def _type(self, what: str, key: str) -> str:
        """The type of a field in the vocabulary."""
        field = self._practice.vocabulary.field("parapet" if what == WALL else what, key)
        return field.type if field else ""

    def _property(self, name: str, one: ModelValue, standard: str, type_of: str) -> Any:
        value = one.value
        if value is None:
            return self._model.make("IfcPropertySingleValue", name, one.standing, None)
        if isinstance(value, tuple):
            labels = [self._model.make("IfcLabel", word) for word in value]
            return self._model.make("IfcPropertyListValue", name, one.standing, labels)
        if isinstance(value, date):
            return self._single(name, Modelled("IfcDate", value.isoformat()), one.standing)
        if standard in _SHOWN_AS_TEXT:
            words = value.text if isinstance(value, Quantity) else str(value)
            return self._single(name, Modelled(standard, words), one.standing)
        made = modelled(self._practice, value, type_of)
        if made is None:  # a dimension without a measure: in words
            made = Modelled("IfcLabel", value.text if isinstance(value, Quantity) else str(value))
        return self._single(name, made, one.standing)

    def _single(self, name: str, value: Modelled, standing: str = "") -> Any:
        words = "; ".join(part for part in (standing, value.unit and f"in {value.unit}") if part)
        long = value.measure == "IfcLabel" and len(str(value.value)) > _LONGEST_LABEL
        held_value = self._model.make("IfcText" if long else value.measure, value.value)
        return self._model.make("IfcPropertySingleValue", name, words or None, held_value)
