"""The page on building models: ``python -m tests.render.model_page`` writes ``docs/building-models.md``."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from specgen.practice.entries import Field, Practice
from specgen.practice.load import load_practice
from specgen.render.ifc_names import PLACE, SYSTEM, capitals, element_of, property_of, set_of

PAGE = Path(__file__).parents[2] / "docs" / "building-models.md"
HEAD = f"""# What stands where in a building model

Written by `python -m tests.render.model_page`.

`specgen exchange ifc` writes these elements and properties, `specgen exchange ids` asks for them, and
`specgen exchange bcf` names the same elements. The entities and types are those of IFC4X3; the files of requirements
hold for IFC4 as well.

- A parapet is an `IfcWall` of type PARAPET, with its layers as a material layer set along its outer face. Each of its
  components is an element of its own below it, with its section pushed along the wall: a body, or a face where nobody
  knows how thick it is.
- The role of an element is a reference into the classification "{SYSTEM}". The set `{PLACE}` names its
  parapet, component, section, and trade, whether it is new, and whether its thickness is assumed.
- A value stands in the set of its role under its key written in capitals. The set with `Standing` behind its name says
  of each whether it is stated, specified (the limit of a requirement stands for it), asked for (a requirement waits for
  a value), unknown, or does not apply; the last three have no value. The prefix `Pset_` belongs to the standard.
- Numbers are in SI units. Where the standard has no measure, or checkers compare with a tolerance that such values fall
  below, a number is an `IfcReal` in the unit named here.
- Ids of elements follow from the names of project, parapet, and component, and stay the same from one export to the
  next.
"""
WORDS = {
    "yes or no": "IfcBoolean",
    "count": "IfcInteger",
    "date": "IfcDate",
    "words": "IfcLabel, a list",
    "families": "IfcLabel, a list",
}


def page(practice: Practice) -> str:
    """The whole page."""
    return "\n".join([HEAD, *_elements(practice), *_standard(practice), *_properties(practice)])


def _elements(practice: Practice) -> Iterator[str]:
    yield from ("## Elements", "", "| role | entity | type | property set |", "|---|---|---|---|")
    for role in practice.vocabulary.roles:
        made = element_of(practice, role)
        if made is not None:
            yield f"| {role} | {made[0]} | {made[1]} | `{set_of(role)}` |"
    yield ""


def _standard(practice: Practice) -> Iterator[str]:
    yield from (
        "## Properties of the standard's own",
        "",
        "| of | value | property | type |",
        "|---|---|---|---|",
    )
    for row in practice.table("ifc_properties").rows:
        value = str(row["value"]).replace("_", " ")
        yield f"| {row['of']} | {value} | `{row['set']}.{row['property']}` | {row['measure']} |"
    yield ""


def _properties(practice: Practice) -> Iterator[str]:
    for role in practice.vocabulary.roles.values():
        if element_of(practice, role.name) is None:
            continue
        yield from (f"## {role.title[:1].upper()}{role.title[1:]}: `{set_of(role.name)}`", "")
        yield from ("| property | value | type | unit |", "|---|---|---|---|")
        yield f"| `{capitals('kind')}` | generic kind | IfcLabel |  |"
        for field in role.fields.values():
            measure, unit = _measure(practice, field)
            yield f"| `{property_of(practice, role.name, field.name).name}` | {field.title} | {measure} | {unit} |"
        yield ""


def _measure(practice: Practice, field: Field) -> tuple[str, str]:
    """Defined type and unit of a field."""
    dimension = "length" if field.type == "sheet thickness" else field.type
    for row in practice.table("ifc_measures").where(dimension=dimension):
        return str(row["measure"]), str(row["unit"] or "")
    return WORDS.get(field.type, "IfcLabel"), ""


if __name__ == "__main__":
    PAGE.write_text(page(load_practice()), encoding="utf-8")
