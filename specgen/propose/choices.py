"""What a proposal chooses from: parts, laps and values as options of a choice."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from specgen.files.marks import Mark
from specgen.model.project import Component, Parapet, Record, Value
from specgen.model.source import Source
from specgen.practice.entries import Field
from specgen.units.quantity import parse
from specgen.wall.change import TRIED

PARTS, VALUES = "offered_parts", "offered_values"
NONE, UNKNOWN = "none", "unknown"
TAPE = "bridging tape"
PRIMER = "primer under the barrier"
OPEN_LETTER = "chemistry: a letter would stay open"
LINING = "roof-side sheathing"  # the second sheathing of framed parapets, behind the framing
ROOF_SIDE_INSULATION = "roof-side insulation"
CARRIED = LATH, CARRIER = "lath", "over_insulation"  # chosen with the insulation that stands behind the lath
TO_THE_TOP = "roof turn-up", "height"  # as high as its parapet, not of one size
AIR, HEAT = "path of air and vapor", "path of heat"
OVER, ACROSS = "over the top", "across at roof level"
# Groups that are tried one by one.
MEMBRANES, PATHS, TOP, FACE, DRAINS = "membranes", "paths", "top", "face", "drains"
SCUPPER, PRIMARY, OVERFLOW = "scupper", "primary", "overflow"
# Roles in the order of the build-up and of the top, and the group of each that is searched.
BUILD_UP = (
    "plaster",
    "lath",
    "drainage layer",
    "weep screed",
    "insulation",
    "barrier",
    "sheathing",
    "framing",
    LINING,
    ROOF_SIDE_INSULATION,
    "roof turn-up",
    "base seal",
    "roof-side barrier",
    "roof-side weep screed",
    "roof-side drainage layer",
    "roof-side lath",
    "roof-side plaster",
)
TOP_ORDER = ("top insulation", "blocking", "top flashing", TAPE, "cleat", "coping")
GROUPS: Mapping[str, str] = {
    "barrier": MEMBRANES,
    "top flashing": MEMBRANES,
    "roof turn-up": MEMBRANES,
    "sheathing": MEMBRANES,
    "drainage layer": MEMBRANES,
    "blocking": TOP,
    "coping": TOP,
    "cleat": TOP,
    "plaster": FACE,
    "lath": FACE,
    "weep screed": FACE,
}
FRAMED = ("cold-formed steel studs", "wood studs")


@dataclass(frozen=True)
class Part:
    """A component that an option puts in, or the values that it adds to one that is stated."""

    role: str
    id: str
    kind: str
    values: tuple[tuple[str, Value], ...] = ()


@dataclass(frozen=True)
class Lap:
    """A lap that an option describes; ``tape`` is the kind of the tape that bridges it."""

    first: str
    second: str
    upper: str
    tape: str = ""
    primer: str = ""
    sealed: bool = False


@dataclass(frozen=True, eq=False)
class Option:
    """One value of a choice; each is itself alone, so that a search finds what it knows of it at once."""

    label: str
    because: str
    parts: tuple[Part, ...] = ()
    lap: Lap | None = None
    refused: str = ""  # why it is not offered
    values: tuple[tuple[str, Value], ...] = ()  # of the parapet
    joints: tuple[tuple[str, str], ...] = ()  # parts of it that butt, by their ids
    of_others: tuple[
        tuple[str, str, Value], ...
    ] = ()  # role, name and value: of parts that another choice puts in
    numbers: tuple[tuple[str, int], ...] = ()  # of scuppers, by parapet
    of_scuppers: tuple[tuple[str, str, Value], ...] = ()  # use ("" for each), name and value


@dataclass(frozen=True)
class Choice:
    """One thing that the facts leave open."""

    name: str  # the role, or the lap as `upper / lower`
    group: str
    options: tuple[Option, ...]
    source: Source


@dataclass(frozen=True)
class Given:
    """What a proposal states of every wall, beside what is searched: (record or role, name) to value and reason."""

    values: Mapping[tuple[str, str], tuple[Value, str]]
    source: Source


def is_open(record: Record, name: str) -> bool:
    """Whether a proposal may choose a value: the facts state none, or that nobody knows it yet."""
    return not record.has(name) and name not in record.doubted


def undecided(parapet: Parapet, role: str) -> Component | None:
    """The component of a role whose kind the facts leave open."""
    return next((part for part in parapet.undecided if part.role == role), None)


def read_word(field: Field, word: str) -> Value:
    """A value as a table writes it.

    Args:
        field: what it is a value of.
        word: as it would stand in a project file.
    """
    if field.type == "yes or no":
        return word == "yes"
    if field.type in ("word", "text", "family"):
        return word
    return parse(word)


def text(value: Value) -> str:
    """A value as a project file writes it.

    >>> text(True), text("TPO"), text(parse("2 in"))
    ('yes', 'TPO', '2 in')
    """
    if isinstance(value, bool):
        return "yes" if value else "no"
    return str(getattr(value, "text", value))


def component(part: Part) -> Component:
    """The component of a part, as the search puts it in."""
    values = dict(part.values)
    marks: dict[str, Mark] = dict.fromkeys((*values, "kind"), TRIED)
    return Component(part.role, values, marks, TRIED, id=part.id, kind=part.kind)
