"""Statements about one attribute of one role, drawn near the limit that a worked example asks for, and their files."""

from __future__ import annotations

import copy
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import yaml
from hypothesis import strategies as st

from specgen.assessment import assess
from specgen.intake.project import load_project
from specgen.intake.values import UnusableValueError, convert
from specgen.model.project import Project
from specgen.model.requirement import Requirement
from specgen.practice.entries import Field
from specgen.practice.load import load_practice
from specgen.practice.methods import MAKERS_WORD
from specgen.specification import Specification, specify
from specgen.units.quantity import Quantity
from tests import plain_yaml
from tests.agreement.walls import REPO, Plain
from tests.requirements.oracle import CODES, UNITS, Asked, Claimed, alike, expected, size, twins

PRACTICE = load_practice()
ROLES = PRACTICE.vocabulary.roles
EXAMPLES = ("mixed-humid-midrise", "marine-library")
LANGUAGES = ("inch-pound", "SI")
PARAPET = "P-1"

# What not every reader can be asked about, and why. `test_what_is_left_out` counts and compares them.
LEFT_OUT = {
    "kind": "another kind is another wall: what was measured on the former is left out of it",
    "laps": "a lap is stated where two parts meet, by no part and by no product",
    "no such part": "no part of a wall: the sections ask for it, a project does not describe it",
    "own limit": "the limit is what the project itself states, so that it cannot state less",
    "only where stated": "nothing is asked for until the project states it: what the screed stands above",
}
# A shop sets a gap to the next step of its own rule, 1/16 in or 1 mm: each language of units has its own result.
SHOP_STEPS = ("coping.joint_gap",)
# A bound of this kind is the value itself: "up to 180 days" of exposure.
EXACT = {"exposure_limit": "at most", "service_temperature": "at most", "movement": "at most"}
EXACT |= {"application_temperature": "at least"}
OTHER_UNITS = {
    "length": ("in", "mm", "ft", "m", "mil"),
    "area": ("ft2", "m2"),
    "pressure": ("psi", "psf", "kPa", "Pa"),
    "air": ("cfm/ft2", "L/(s·m2)"),
    "vapor": ("perm", "ng/(Pa·s·m2)"),
    "line load": ("lbf/in", "N/mm", "lbf/ft", "kN/m"),
    "moment": ("lbf·ft/ft", "kN·m/m"),
    "force": ("lbf", "N", "kN"),
    "time": ("days", "h"),
    "temperature": ("degF", "degC"),
    "slope": ("in/ft", "%"),
    "share": ("%",),
    "number": ("",),
}
CONDITIONS = {"75 Pa": ("75 Pa", "1.57 psf", "0.3 inH2O", "0.075 kPa"), "": ("",)}
WRONG_CONDITIONS = {"75 Pa": ("50 Pa", "300 Pa", "6.24 psf", "76 Pa", "1 psf"), "": ("",)}


@dataclass(frozen=True)
class Statement:
    """What is stated of one attribute: in the project file, and of a product with its method."""

    example: str
    requirement: str  # of the catalogue
    language: str  # of the project's documents
    given: Claimed
    method: str = ""
    method_is: str = "wanted"  # or "open", "other"
    meant: bool = True  # whether the file confirms a value that is not expected

    @property
    def written(self) -> str | list[str]:
        """The value as a file holds it, without a bound."""
        value = self.given.value
        if isinstance(value, bool):
            return "yes" if value else "no"
        if isinstance(value, tuple):
            return list(value)
        return f"{value} @ {self.given.condition}" if self.given.condition else str(value)


@cache
def raw(example: str) -> dict[str, Any]:
    """The example's file, cut down to its first parapet; every word as it is written."""
    text = (REPO / "tests" / "stated" / example / "project.yaml").read_text("utf-8")
    content: dict[str, Any] = yaml.load(text, Loader=yaml.BaseLoader)
    content["parapets"] = content["parapets"][:1]
    content["project"]["state"] = "draft"
    return content


@cache
def described(example: str) -> Specification:
    """The example as it stands, in inch-pound units."""
    return specify(assess(_read(raw(example)), PRACTICE))


def _read(content: dict[str, Any]) -> Project:
    with TemporaryDirectory() as folder:
        path = Path(folder) / "project.yaml"
        path.write_text(yaml.dump(content, Dumper=Plain, sort_keys=False, allow_unicode=True), "utf-8")
        return load_project(path, PRACTICE)


def parts_of(content: dict[str, Any], role: str) -> list[dict[str, Any]]:
    """The parts of a role in a project file."""
    holders = (*content.get("types", {}).values(), *content["parapets"])
    return [
        part for one in holders for name in ("build_up", "top") for part in one.get(name, ())
        if part["role"] == role
    ]  # fmt: skip


@cache
def asked_of(example: str) -> tuple[tuple[Requirement, ...], dict[str, str]]:
    """The requirements on which every reader can be asked, and the others with the reason."""
    spec = described(example)
    kept, left = [], {}
    wall = spec.assessment.project.parapets[0]
    for one in spec.assessment.requirements.by_id.values():
        if one.attribute == "kind":
            left[one.name] = "kind"
        elif one.attribute.startswith("lap_"):
            left[one.name] = "laps"
        elif not wall.all_of(one.role):
            left[one.name] = "no such part"
        elif one.floor is None and not _fact(one):
            left[one.name] = "own limit"
        elif one.attribute.startswith("above_"):
            left[one.name] = "only where stated"
        else:
            kept.append(one)
    return tuple(kept), left


def _fact(one: Requirement) -> bool:
    """Whether the limit is made of another value of the part than the one that is held."""
    return any(origin.startswith("fact ") for origin in origins_of(one.name))


@cache
def written(folder: str) -> dict[str, Any]:
    """The catalogue, or the values of the trade, as they are written."""
    found: dict[str, Any] = {}
    for path in sorted((REPO / "specgen" / folder).glob("*.yaml")):
        found |= plain_yaml.load(path.read_text("utf-8"))
    return found


def origins_of(name: str) -> list[str]:
    """Where the limit of a requirement may come from, as the catalogue says it."""
    (origins,) = written("requirements/catalogue")[name]["limit"].values()
    return list(origins)


def _of_code(entry: dict[str, Any]) -> bool:
    return entry["source"]["status"] == "C" or entry["source"]["document"] in CODES


@dataclass(frozen=True)
class Base:
    """An example that leaves one attribute open; what else the role is asked for is stated at its limit."""

    spec: Specification
    content: dict[str, Any]
    requirement: Requirement
    asked: Asked
    others: dict[str, Any]  # the product's other attributes, as written

    def stating(self, statement: Statement) -> Project:
        """The project that makes a statement of its own."""
        return _read(self.file(statement))

    def file(self, statement: Statement | None) -> dict[str, Any]:
        """The project file with a statement, or without the attribute."""
        content = copy.deepcopy(self.content)
        for part in parts_of(content, self.requirement.role) if statement else ():
            assert statement is not None
            part[self.requirement.attribute] = statement.written
        return meant(content, "" if statement is None or statement.meant else self.requirement.attribute)

    def doubted(self, statement: Statement) -> bool:
        """Whether the statement is one that is not expected of its kind, and nobody says that it is meant."""
        if statement.meant:
            return False
        part = self.spec.assessment.project.parapets[0].part(self.requirement.role)
        assert part is not None
        return not expected(part.role, part.kind, self.requirement.attribute, statement.given)


def meant(content: dict[str, Any], but: str = "") -> dict[str, Any]:
    """A project file in which a value that is not expected of its kind is said to be meant, but for one attribute."""
    parts = _read(content).parapets[0].components()
    doubted = {part.id: names for part in parts if (names := [one for one in part.doubted if one != but])}
    for holder in (*content.get("types", {}).values(), *content["parapets"]) if doubted else ():
        for part in (*holder.get("build_up", ()), *holder.get("top", ())):
            if names := doubted.get(part.get("id", part["role"])):
                part["meant"] = {**part.get("meant", {}), **dict.fromkeys(names, "drawn by chance")}
    return content


@cache
def base(example: str, name: str, language: str) -> Base:
    """The example in a language of units, without one attribute."""
    (known,) = (one for one in asked_of(example)[0] if one.name == name)
    content = copy.deepcopy(raw(example))
    content["project"]["units"] = language
    spec = described(example)
    others: dict[str, Any] = {}
    for one in spec.assessment.requirements.of_role(known.role):
        if one.attribute not in ("kind", known.attribute) and not one.attribute.startswith("lap_"):
            others[one.attribute] = _as_written(one)
    for part in parts_of(content, known.role):
        part.pop(known.attribute, None)
        for attribute, value in others.items():
            part[attribute] = value
    open_ = spec.again(_read(meant(content)))
    (mine,) = open_.assessment.requirements.named(name)
    return Base(open_, content, mine, _asked(open_, mine), others)


def _as_written(one: Requirement) -> Any:
    value = one.limit.stated
    if one.limit.comparison == "one of":
        assert isinstance(value, tuple)
        return value[0]
    if isinstance(value, Quantity):
        return f"{value.text} @ {one.condition}" if one.condition and value.condition is None else value.text
    if isinstance(value, bool):
        return "yes" if value else "no"
    return list(value) if isinstance(value, tuple) else value


def _asked(spec: Specification, one: Requirement) -> Asked:
    value = one.limit.stated
    if not isinstance(value, Quantity):
        return Asked(one.limit.comparison, value)  # type: ignore[arg-type]
    limit = value.text.split("@")[0].strip()
    values = written("practice/values")
    entries = [values[key[9:]] for key in origins_of(one.name) if key.startswith("practice ")]
    own = values.get(one.origin.key)
    beside = (str(own["si"]),) if own and "si" in own else ()
    entries += [own] if own else []
    codes = [str(entry["value"]).split("@")[0].strip() for entry in entries if _of_code(entry)]
    if one.origin.kind == "calculation":
        own_first = sorted(LANGUAGES, key=lambda one: one != spec.assessment.project.info.word("units"))
        limit, *others = (_limit_in(spec, one.name, language) for language in own_first)
        if one.name in SHOP_STEPS:
            limit, others = value.text, [twin.text for twin in value.nominal]
        beside = tuple(others)
    return Asked(
        one.limit.comparison, limit, beside, tuple(codes), one.condition, one.origin.kind == "calculation"
    )


def _limit_in(spec: Specification, name: str, language: str) -> str:
    project = spec.assessment.project
    info = replace(project.info, values={**project.info.values, "units": language})
    value = spec.assessment.again(replace(project, info=info)).requirements.named(name)[0].limit.value
    assert isinstance(value, Quantity)
    return value.text


@st.composite
def statements(draw: st.DrawFn, bounds: bool = True) -> Statement:
    """A statement about one attribute of an example; without ``bounds`` one that a project can make too."""
    example = draw(st.sampled_from(EXAMPLES))
    name = draw(st.sampled_from(_weighted(example)))
    language = draw(st.sampled_from(LANGUAGES))
    found = base(example, name, language)
    one, asked = found.requirement, found.asked
    method, method_is = draw(st.sampled_from(_methods(one)))
    if not isinstance(one.limit.stated, Quantity):
        value = draw(st.sampled_from(_words(one)))
        return Statement(example, name, language, Claimed(value), method, method_is)
    condition = draw(st.sampled_from((*CONDITIONS[one.condition] * 3, *WRONG_CONDITIONS[one.condition], "")))
    value = draw(st.sampled_from(_values(asked, ROLES[one.role].fields[one.attribute])))
    sense, upper = draw(st.sampled_from((("", ""),) * 4 + (_senses(one, value) if bounds else ())))
    if sense and EXACT.get(one.attribute) == {"more than": "at least", "less than": "at most"}.get(
        sense, sense
    ):
        sense = ""
    if one.attribute in EXACT and sense == "to":
        sense, upper = "", ""
    given = Claimed(value, sense, upper, condition)
    return Statement(example, name, language, given, method, method_is, draw(st.booleans()))


@cache
def _weighted(example: str) -> tuple[str, ...]:
    """The requirements by name; those with a condition or a method come more often."""
    found: list[str] = []
    for one in asked_of(example)[0]:
        found += [one.name] * (
            1 + 4 * bool(one.condition) + 2 * bool(one.method) + isinstance(one.limit.stated, Quantity)
        )
    return tuple(found)


def _methods(one: Requirement) -> tuple[tuple[str, str], ...]:
    """Ways to write the wanted method, one that leaves its procedure open, none, and another."""
    wanted = one.method
    if one.stage != "product" or not wanted:
        return (("", "wanted"),)
    if wanted == MAKERS_WORD:
        return (("", "wanted"), (wanted, "wanted"))
    good = [(wanted, "wanted")] * 4
    if " method " in wanted:
        plain, _, letter = wanted.partition(" method ")
        good += [(f"{plain} (Procedure {letter})", "wanted"), (plain, "open")]
    return (*good, ("", "open"), ("ASTM C1305", "other"))


def _words(one: Requirement) -> tuple[Any, ...]:
    field = ROLES[one.role].fields[one.attribute]
    if field.type == "yes or no":
        return (True, False)
    if one.limit.comparison == "includes":
        assert isinstance(one.limit.stated, tuple)
        return (one.limit.stated, one.limit.stated[:1], (*one.limit.stated, "silicone"))
    return field.choices


def _values(asked: Asked, field: Field) -> tuple[str, ...]:
    """Sizes at a limit, one printed digit beside it, its nominal values, the other units, and far away."""
    assert isinstance(asked.limit, str)
    out = [asked.limit] * 2
    for text in (asked.limit, *twins(asked)):
        number, _, unit = _split(text)
        out += [text, *_beside(number, unit)]
    found = alike(asked.limit)
    for unit in OTHER_UNITS["share" if field.type == "ratio" else found.dimension]:
        _, one, offset, _ = UNITS[unit]
        number = found.size / one + offset
        for digits in (2, 3, 5):
            text = _decimal(number, digits)
            out += [f"{text} {unit}".strip(), *_beside(text, unit)]
        if found.dimension != "temperature":
            factors = (Fraction(1, 3), 3, 12, Fraction(254, 10), 144, 1000)
            out += [f"{_decimal(number * factor, 3)} {unit}".strip() for factor in factors]
    usable = [text for text in dict.fromkeys(out) if _can_be(text, field)]
    return tuple(text for text in usable if field.type != "count" or text.isdigit())


def _can_be(text: str, field: Field) -> bool:
    """Whether a file may hold it: what cannot be is refused by every reader, and nothing is said of it."""
    try:
        convert(field, int(text) if field.type == "count" and text.isdigit() else text, PRACTICE.vocabulary)
    except UnusableValueError:
        return False
    return field.type == "temperature" or size(text).size > 0


def _split(text: str) -> tuple[str, str, str]:
    at = max((i for i, sign in enumerate(text) if sign.isdigit()), default=0)
    for unit in sorted(UNITS, key=len, reverse=True):
        if unit and text.endswith(unit):
            return text[: -len(unit)].strip(), " ", unit
    return text[: at + 1], "", ""


def _beside(number: str, unit: str) -> list[str]:
    """One printed step up and down."""
    if "ft" in number:
        return []
    if "/" in number:
        value, step = sum(map(Fraction, number.split())), Fraction(1, 16)
        return [f"{_decimal(value + way * step, 5)} {unit}".strip() for way in (-1, 1)]
    places = len(number.partition(".")[2])
    step = Fraction(1, 10**places)
    return [f"{float(Fraction(number) + way * step):.{places}f} {unit}".strip() for way in (-1, 1)]


def _decimal(number: Fraction, digits: int) -> str:
    text = f"{float(number):.{digits}g}"
    return f"{float(text):f}".rstrip("0").rstrip(".") if "e" in text else text


def _senses(one: Requirement, value: str) -> tuple[tuple[str, str], ...]:
    if ROLES[one.role].fields[one.attribute].type == "count":
        return ()
    found = [("at least", ""), ("at most", ""), ("more than", ""), ("less than", "")]
    number, gap, unit = _split(value)
    if "/" not in number and "ft" not in number and Fraction(number) > 0:
        upper = f"{_decimal(Fraction(number) * 2, 6)}{gap}{unit}"
        found += [("to", upper)] if _can_be(upper, ROLES[one.role].fields[one.attribute]) else []
    return tuple(found)
