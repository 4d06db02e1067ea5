"""The requirements of a project as an IDS 1.0 file, by which a checker holds a building model against them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from lxml import etree

from specgen.drawing.lettering import printable
from specgen.model.requirement import Requirement
from specgen.practice.entries import Practice
from specgen.render.ifc_names import (
    PLACE,
    SYSTEM,
    Modelled,
    NothingThereError,
    Property,
    element_of,
    modelled,
    property_of,
)
from specgen.render.xml_tree import under, written
from specgen.sections.words import capital, requirement_words, sentence
from specgen.specification import Specification
from specgen.units.quantity import Quantity

IDS = "http://standards.buildingsmart.org/IDS"
XS = "http://www.w3.org/2001/XMLSchema"
XSI = "http://www.w3.org/2001/XMLSchema-instance"
VERSIONS = "IFC4 IFC4X3_ADD2"
_BASES: Mapping[str, str] = {"IfcBoolean": "boolean", "IfcInteger": "integer", "IfcLabel": "string"}
_BOUNDS = {"at least": "minInclusive", "at most": "maxInclusive"}
_OF_AN_ACT = ("time", "temperature")  # what is measured while people work, where the mock-up shows it


@dataclass(frozen=True)
class LeftOut:
    """A requirement that no model can be held against, and why."""

    id: str
    title: str
    why: str


@dataclass(frozen=True)
class Ids:
    """What was made of the requirements."""

    data: bytes
    asked: tuple[str, ...]  # ids of the requirements that a model is held against
    left_out: tuple[LeftOut, ...]


def ids_file(spec: Specification) -> Ids:
    """The requirements as IDS, one specification each, in the order of the sections.

    Bounds are the limits in the project's language of units, as the sections have them, in the unit of the standard.

    Args:
        spec: the project as written.

    Returns:
        The file, with what it asks for and what it leaves out.

    Raises:
        NothingThereError: nothing is required of a component.
    """
    one = spec.assessment
    names: dict[str | None, str] = {None: IDS, "xs": XS, "xsi": XSI}
    root = etree.Element(_ids("ids"), nsmap=names)  # type: ignore[arg-type]  # the stubs know no name without a prefix
    root.set(f"{{{XSI}}}schemaLocation", f"{IDS} http://standards.buildingsmart.org/IDS/1.0/ids.xsd")
    _info(root, spec)
    every = _under(root, "specifications")
    asked, left_out = [], []
    for requirement in one.requirements.by_id.values():
        why = not_in_a_model(requirement, one.practice)
        if why:
            left_out.append(LeftOut(requirement.id, requirement.title, why))
            continue
        asked.append(requirement.id)
        for places in _places(requirement):
            _specification(every, spec, requirement, places)
    if not asked:
        raise NothingThereError("nothing is required of a component yet; describe a parapet first")
    return Ids(written(root), tuple(asked), tuple(left_out))


def not_in_a_model(requirement: Requirement, practice: Practice) -> str:
    """Why a model cannot be held against a requirement; "" where it can.

    Args:
        requirement: what is asked for.
        practice: vocabulary and the tables of models.
    """
    role = practice.vocabulary.roles[requirement.role]
    value = requirement.limit.value
    if element_of(practice, requirement.role) is None:
        return "at a place of the parapet, for which no element stands"
    if requirement.attribute != "kind" and requirement.attribute not in role.fields:
        return "of a joint between two components"
    if requirement.evidence == "compatibility letter":
        return "in a letter of a manufacturer"
    acts = isinstance(value, bool) or (isinstance(value, Quantity) and value.dimension in _OF_AN_ACT)
    if requirement.evidence == "mock-up" and acts:
        return "of the work on site, seen at the mock-up"
    if not _values(requirement, practice):
        return "of a dimension for which a model has no measure"
    return ""


def _info(root: etree._Element, spec: Specification) -> None:
    """Title, date and state of issue; the schema wants this order."""
    project = spec.assessment.project
    info = _under(root, "info")
    _under(info, "title", f"{project.title}: requirements on parapets".removeprefix(": "))
    _under(info, "description", "What the Sections ask of the components of each parapet.")
    if project.issued:
        _under(info, "date", project.issued)
    _under(info, "purpose", "Check a building model against the specification")
    if project.state:
        _under(info, "milestone", project.state)


@dataclass(frozen=True)
class _Place:
    """Where a requirement holds: at some parapets, for some components; empty where it holds for all."""

    parapets: tuple[str, ...] = ()
    components: tuple[str, ...] = ()


def _places(requirement: Requirement) -> Iterator[_Place]:
    """The places of a requirement, such that every parapet of one holds the same components of it."""
    if not requirement.layers:
        yield _Place(() if requirement.everywhere else requirement.parapets)
        return
    at: dict[str, list[str]] = {}
    for layer in requirement.layers:
        at.setdefault(layer.parapet, []).append(layer.id)
    groups: dict[tuple[str, ...], list[str]] = {}
    for parapet, ids in at.items():
        groups.setdefault(tuple(ids), []).append(parapet)
    for components, parapets in groups.items():
        yield _Place(tuple(parapets), components)


def _specification(every: etree._Element, spec: Specification, asked: Requirement, places: _Place) -> None:
    one = spec.assessment
    plain = one.paper_words()
    words = requirement_words(asked, one.practice, one.system)
    where = f" at {', '.join(places.parapets)}" if places.parapets else ""
    stated = spec.paragraphs.get(asked.id)
    about = {"description": f"Section {stated.section}, paragraph {stated.number}"} if stated else {}
    made = _under(
        every,
        "specification",
        name=capital(plain(f"{asked.role}{where}: {asked.title}: {words}")),
        ifcVersion=VERSIONS,
        identifier=asked.id,
        **about,
        instructions=plain(sentence(asked.reason)),
    )
    _applicability(made, one.practice, asked, places)
    requirements = _under(made, "requirements")
    for each in _wanted(asked, one.practice):
        wanted = _property(requirements, property_of(one.practice, asked.role, asked.attribute), each)
        wanted.set("cardinality", "required")
        wanted.set("instructions", printable(plain(_instructions(asked, one.practice, words))))


def _applicability(made: etree._Element, practice: Practice, asked: Requirement, places: _Place) -> None:
    """Every element that stands for the role at the places; there is at least one, for the wall has it."""
    to = _under(made, "applicability", minOccurs="1", maxOccurs="unbounded")
    entity, _ = element_of(practice, asked.role) or ("", "")
    _simple(_under(_under(to, "entity"), "name"), entity.upper())
    classified = _under(to, "classification")
    _simple(_under(classified, "value"), asked.role)
    _simple(_under(classified, "system"), SYSTEM)
    for name, words in (("Parapet", places.parapets), ("Component", places.components)):
        if words:
            wanted = _named(to, Property(PLACE, name), "IfcLabel")
            _restricted(_under(wanted, "value"), "string", "enumeration", words)


@dataclass(frozen=True)
class _Wanted:
    """A value that a property must have: this one, one of several, or one within a bound."""

    values: tuple[Modelled, ...]
    bound: str = ""


def _wanted(asked: Requirement, practice: Practice) -> Iterator[_Wanted]:
    """What is wanted of the property; of a list that must include several words, each for itself."""
    several = _values(asked, practice)
    if asked.limit.comparison == "includes":
        yield from (_Wanted((one,)) for one in several)
    else:
        yield _Wanted(several, _BOUNDS.get(asked.limit.comparison, ""))


def _values(asked: Requirement, practice: Practice) -> tuple[Modelled, ...]:
    """The value of a limit, or its words, as a model holds them; none where it has no measure for them."""
    value, of = asked.limit.value, practice.vocabulary.field(asked.role, asked.attribute)
    every = value if isinstance(value, tuple) else (value,)
    return tuple(one for each in every if (one := modelled(practice, each, of.type if of else "")))


def _property(above: etree._Element, named: Property, wanted: _Wanted) -> etree._Element:
    measure = wanted.values[0].measure
    made = _named(above, named, measure)
    value, base = _under(made, "value"), _BASES.get(measure, "double")
    words = [_written(one) for one in wanted.values]
    if wanted.bound:
        _restricted(value, base, wanted.bound, words)
    elif len(words) > 1:
        _restricted(value, base, "enumeration", words)
    else:
        _simple(value, words[0])
    return made


def _named(above: etree._Element, named: Property, measure: str) -> etree._Element:
    made = _under(above, "property", dataType=measure.upper())
    _simple(_under(made, "propertySet"), named.set)
    _simple(_under(made, "baseName"), named.name)
    return made


def _instructions(asked: Requirement, practice: Practice, words: str) -> str:
    """What is asked for, how it is measured and in which unit, why, and where it comes from, in one paragraph."""
    unit = next((one.unit for one in _values(asked, practice)), "")
    parts = [f"{asked.title}: {words}"]
    if asked.method:
        parts.append(f"by {asked.method}")
    if unit:
        parts.append(f"the model holds it in {unit}")
    why = f"{sentence('; '.join(parts))} {sentence(asked.reason)}"
    choice = asked.origin.kind == "choice"
    return f"{why} Source: {'choice of the project' if choice else asked.origin.source.named}."


def _written(value: Modelled) -> str:
    """A value as XML holds it.

    >>> _written(Modelled("IfcBoolean", True)), _written(Modelled("IfcReal", 0.02)), _written(Modelled("IfcReal", 8.0))
    ('true', '0.02', '8')
    """
    if isinstance(value.value, bool):
        return "true" if value.value else "false"
    return f"{value.value:.14g}" if isinstance(value.value, float) else str(value.value)


def _simple(above: etree._Element, words: str) -> None:
    _under(above, "simpleValue", words)


def _restricted(above: etree._Element, base: str, how: str, words: Iterable[str]) -> None:
    made = under(above, f"{{{XS}}}restriction", base=f"xs:{base}")
    for one in words:
        under(made, f"{{{XS}}}{how}", value=one)


def _under(above: etree._Element, name: str, words: str = "", /, **attributes: str) -> etree._Element:
    return under(above, _ids(name), words, **attributes)


def _ids(name: str) -> str:
    return f"{{{IDS}}}{name}"
