"""The project as described by the user: records of named values that remember where they were written.

They tell what is read of them (:mod:`specgen.model.reading`): each value and mark by its name, the lists of a parapet
as a whole, its components by role or by id. The id, kind, ends and first mark of a member belong to the list.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from specgen.files.marks import Mark
from specgen.model.paper import Issuer, PaperSize, paper_size
from specgen.model.reading import READER, named, tell, tells
from specgen.units.quantity import Quantity

if TYPE_CHECKING:  # a project without a weather file needs no array library
    from specgen.model.hourly import HourlyResult
    from specgen.model.weather import Weather

FINAL_STATES = ("issued for bid", "issued for construction")
PLACES: Mapping[str, str] = {  # the lists of named places of a parapet, and what stands in each
    "corners": "corner",
    "ends": "end",
    "steps": "step",
    "joints": "joint",
    "scuppers": "scupper",
    "penetrations": "penetration",
}
STANDING_LISTS = ("observations", "repairs", "openings")  # of a parapet as it stands
NAMED = (  # what a record holds by name
    *("values", "marks", "doubted", "meant", "bounds", "unknown"),
    *("specified", "because", "inapplicable"),
)
Value = Quantity | str | bool | int | float | date | tuple[str, ...]
# How a value is stated: exactly, as a bound, or as the lower end of a range.
Sense = Literal["", "at least", "more than", "at most", "less than", "to"]


@dataclass(frozen=True)
class Stated:
    """A value with the sense in which it is stated; ``upper`` is the far end of a range.

    ``method`` is None where nobody states one: in the project itself.
    """

    value: Value
    sense: Sense = ""
    upper: Quantity | None = None
    method: str | None = None

    @property
    def text(self) -> str:
        """A bound or a range of a quantity in words.

        >>> from specgen.units.quantity import parse
        >>> Stated(parse("1 in"), "at least").text, Stated(parse("1 in"), "to", parse("2 in")).text
        ('at least 1 in', '1 in to 2 in')
        """
        assert isinstance(self.value, Quantity)
        return f"{self.value.text} to {self.upper.text}" if self.upper else f"{self.sense} {self.value.text}"

    @property
    def ends(self) -> tuple[Quantity | None, Quantity | None]:
        """The least and the greatest that a quantity can be; None where nothing tells."""
        value = self.value
        assert isinstance(value, Quantity)
        if self.sense == "to":
            return value, self.upper
        least = None if self.sense in ("at most", "less than") else value
        return least, None if self.sense in ("at least", "more than") else value


@dataclass(frozen=True)
class Record:
    """Named values with their marks. What names a record may hold is defined in ``practice/vocabulary``.

    ``doubted`` are stated values that are not expected of what the record describes: they count as not stated until
    ``meant`` gives the reason of each. ``bounds`` are what a product states as a bound or a range: it can be held
    against a limit, and is no value to calculate with. ``unknown`` are the names that the file says nobody knows yet.
    ``specified`` are values that nobody stated and that a requirement asks for: each stands at its limit, under the id
    of the requirement. ``because`` gives the reason of each value that is stricter than anything asks for.
    ``inapplicable`` gives the reason of each value that does not apply here: it has none, and no requirement stands
    for it.
    """

    what: str
    values: Mapping[str, Value]
    marks: Mapping[str, Mark]
    mark: Mark
    doubted: Mapping[str, Stated] = field(default_factory=dict, kw_only=True)
    meant: Mapping[str, str] = field(default_factory=dict, kw_only=True)
    bounds: Mapping[str, Stated] = field(default_factory=dict, kw_only=True)
    unknown: Mapping[str, Mark] = field(default_factory=dict, kw_only=True)
    specified: Mapping[str, str] = field(default_factory=dict, kw_only=True)
    because: Mapping[str, str] = field(default_factory=dict, kw_only=True)
    inapplicable: Mapping[str, str] = field(default_factory=dict, kw_only=True)

    def __post_init__(self) -> None:
        for name in NAMED:
            object.__setattr__(self, name, named(getattr(self, name)))

    def has(self, name: str) -> bool:
        """Whether the user gave this value, exactly or as a bound."""
        return name in self.values or name in self.bounds

    def stated(self, name: str) -> Stated | None:
        """What is stated by a name, exactly or as a bound; None if nothing is."""
        value = self.values.get(name)
        return self.bounds.get(name) if value is None else Stated(value)

    @property
    def written(self) -> dict[str, Value]:
        """Every value as it is written, also one that is set aside."""
        return {**self.values, **{name: one.value for name, one in self.doubted.items()}}

    def at(self, name: str) -> Mark:
        """Where the value stands in the file, or where the record begins if it was not given."""
        return self.marks.get(name) or self.unknown.get(name, self.mark)

    def states(self, name: str) -> bool:
        """Whether the user gave this value; the limit of a requirement that stands for one is not given."""
        return name not in self.specified and self.has(name)

    def open_to_requirements(self, name: str) -> bool:
        """Whether nothing is said of a value, so that a requirement may stand for it."""
        return not (self.has(name) or name in self.doubted or self.leaves(name))

    def leaves(self, name: str) -> bool:
        """Whether the file says of a value that nobody knows it, or that it does not apply."""
        return name in self.unknown or name in self.inapplicable

    def quantity(self, name: str) -> Quantity | None:
        """A value with a unit, or None if it was not given exactly.

        Raises:
            TypeError: the vocabulary defines the name as something else.
        """
        value = self.values.get(name)
        if value is not None and not isinstance(value, Quantity):
            raise TypeError(f"{self.what}.{name} is not a quantity")
        return value

    def si(self, name: str) -> float | None:
        """The value in the SI base of its dimension, or None if it was not given exactly."""
        value = self.quantity(name)
        return None if value is None else value.value

    def word(self, name: str) -> str | None:
        """A word or a text, or None if it was not given.

        Raises:
            TypeError: the vocabulary defines the name as something else.
        """
        value = self.values.get(name)
        if value is not None and not isinstance(value, str):
            raise TypeError(f"{self.what}.{name} is not a word")
        return value

    def words(self, name: str) -> tuple[str, ...]:
        """A list of words; empty if it was not given."""
        value = self.values.get(name, ())
        if not isinstance(value, tuple):
            raise TypeError(f"{self.what}.{name} is not a list of words")
        return value

    def flag(self, name: str) -> bool | None:
        """A yes or no, or None if it was not given.

        Raises:
            TypeError: the vocabulary defines the name as something else.
        """
        value = self.values.get(name)
        if value is not None and not isinstance(value, bool):
            raise TypeError(f"{self.what}.{name} is not a yes or no")
        return value


@dataclass(frozen=True)
class Component(Record):
    """One layer or part of the wall. ``what`` is its role, ``kind`` its generic kind."""

    id: str
    kind: str

    def has(self, name: str) -> bool:
        """Whether the user gave this value; its kind is always stated."""
        return name == "kind" or super().has(name)

    def stated(self, name: str) -> Stated | None:
        """What is stated by a name, its kind included; None if nothing is."""
        return Stated(self.kind) if name == "kind" else super().stated(name)

    @property
    def role(self) -> str:
        """What the component does in the wall: ``barrier``, ``coping`` …"""
        return self.what


@dataclass(frozen=True)
class Transition(Record):
    """Where one component meets another: ``first`` and ``second`` are component ids of the same parapet."""

    first: str
    second: str

    def joins(self, one: str, other: str) -> bool:
        """Whether this transition is between these two components, in either order."""
        return {self.first, self.second} == {one, other}


@dataclass(frozen=True)
class Existing(Record):
    """A parapet as it stands: what was seen on it, what is proposed, and where it was opened."""

    observations: tuple[Record, ...] = ()
    repairs: tuple[Record, ...] = ()
    openings: tuple[Record, ...] = ()


@tells("build_up", "top", "transitions", *PLACES, "existing", "undecided", "absent")
@dataclass(frozen=True)
class Parapet(Record):
    """One parapet with its build-up from plaster to roof membrane, its top, its transitions and its places."""

    name: str
    build_up: tuple[Component, ...] = ()
    top: tuple[Component, ...] = ()
    transitions: tuple[Transition, ...] = ()
    corners: tuple[Record, ...] = ()
    ends: tuple[Record, ...] = ()  # where it meets a rising wall
    steps: tuple[Record, ...] = ()  # where its height changes
    joints: tuple[Record, ...] = ()  # of the building, through wall and top
    scuppers: tuple[Record, ...] = ()
    penetrations: tuple[Record, ...] = ()
    existing: Existing | None = None  # the build-up then describes the wall after its repair
    undecided: tuple[Component, ...] = ()  # of a kind that nobody knows yet: in no list until it is known
    absent: tuple[Component, ...] = ()  # where the file says that there is none of a role

    def undescribed(self, role: str) -> bool:
        """Whether nothing is said of a role yet: neither that the parapet has one, nor that it has none."""
        return not self.all_of(role) and all(one.role != role for one in self.absent)

    @property
    def places(self) -> tuple[Record, ...]:
        """Every named place, list by list."""
        return tuple(one for name in PLACES for one in getattr(self, name))

    @property
    def along(self) -> tuple[Record, ...]:
        """The places whose position along the outer face can be stated."""
        return (*self.corners, *self.steps, *self.joints, *self.scuppers)

    def components(self) -> Iterator[Component]:
        """Every component: the build-up first, then the top."""
        yield from self.build_up
        yield from self.top

    def all_of(self, role: str) -> tuple[Component, ...]:
        """The components with this role, outermost first."""
        reader = READER.get()
        if reader is not None:
            reader.reads.add((id(self), role))
        return self._by_role.get(role, ())

    def part(self, role: str) -> Component | None:
        """The first component with this role, or None."""
        return next(iter(self.all_of(role)), None)

    @cached_property
    def _by_role(self) -> Mapping[str, tuple[Component, ...]]:
        """The components by role: every rule asks for some of them."""
        found: dict[str, list[Component]] = {}
        for part in self._every_part:
            found.setdefault(part.role, []).append(part)
        return {role: tuple(parts) for role, parts in found.items()}

    @cached_property
    def _by_id(self) -> Mapping[str, Component]:
        """The first component of each id."""
        return {part.id: part for part in reversed(self._every_part)}

    @cached_property
    def _every_part(self) -> tuple[Component, ...]:
        held: Mapping[str, tuple[Component, ...]] = (
            self.__dict__
        )  # what is kept is not told: each look at it is
        return (*held["build_up"], *held["top"])

    def by_id(self, component_id: str) -> Component | None:
        """The component with this id, or None."""
        tell(self, ("id", component_id))
        return self._by_id.get(component_id)

    def between(self, one: Component, other: Component) -> tuple[Transition, ...]:
        """The transitions that join two components."""
        return tuple(joint for joint in self.transitions if joint.joins(one.id, other.id))


@dataclass(frozen=True)
class Decision(Record):
    """What a named person decided on a rule: which rule, where, who, when and why.

    ``what`` is ``waiver`` for a finding that the project accepts, ``answer`` where no rule covers the place.
    """

    rule: str
    parapet: str


@dataclass(frozen=True)
class MakerLetter(Record):
    """A manufacturer's written word on two materials: ``one`` and ``other`` are families or component ids.

    ``makes`` is the one of the two that the writer makes.
    """

    one: str
    other: str
    makes: str


@tells("parapets", "path", "waivers", "answers", "letters", "weather", "hourly", "stated_only")
@dataclass(frozen=True)
class Project:
    """A whole project file."""

    info: Record
    site: Record
    building: Record
    parapets: tuple[Parapet, ...]
    path: str
    waivers: tuple[Decision, ...] = field(default=())
    letters: tuple[MakerLetter, ...] = field(default=())
    weather: Weather | None = None
    answers: tuple[Decision, ...] = field(default=())
    quality: Record = field(default=Record("quality", {}, {}, Mark("", 0, 0)))  # in place of practice values
    # Who installs what, where the project states it.
    trades: Record = field(default=Record("trades", {}, {}, Mark("", 0, 0)))
    contacts: Record = field(default=Record("contacts", {}, {}, Mark("", 0, 0)))  # whom papers name
    stated_only: bool = (
        False  # no requirement stands for what is not stated: products and what is built prove themselves
    )
    open_points: bool = False  # issued although a defect stands or something is unknown: every page says so
    # What a run kept of the hours, by parapet; each holds for the wall alone that its key is made of.
    hourly: Mapping[str, HourlyResult] = field(default_factory=dict)
    issuer: Issuer = field(default=Issuer())

    @property
    def title(self) -> str:
        """Number and name, as documents head themselves."""
        return " ".join(words for name in ("number", "name") if (words := self.info.word(name)))

    @property
    def system(self) -> str:
        """The language of units: ``inch-pound``, ``SI`` or ``both``."""
        return self.info.word("units") or "inch-pound"

    @property
    def paper(self) -> PaperSize:
        """The paper of its documents, drawings and pages: its own choice, the office's, else that of its units."""
        return paper_size(self.system, self.info.word("paper"), self.issuer.paper)

    @property
    def author(self) -> str:
        """The office that issues its documents; "" where none is named."""
        return self.issuer.name or self.contacts.word("office") or ""

    @property
    def numbered_names(self) -> tuple[str, ...]:
        """The names of its parapets, and of their components and places where they hold a digit: no value of theirs."""
        inside = {
            name
            for parapet in self.parapets
            for name in (
                *(part.id for part in parapet.components()),
                *(place.word("name") or "" for place in parapet.places),
            )
            if any(one.isdecimal() for one in name)
        }
        return (*(parapet.name for parapet in self.parapets), *sorted(inside))

    @property
    def final(self) -> bool:
        """Whether others build or bid on this issue, so that nothing may be open in it."""
        return self.info.word("state") in FINAL_STATES

    @property
    def issued(self) -> str:
        """The issue date, as ISO date; "" where it is not known yet."""
        return str(self.info.values.get("issue_date", ""))

    @property
    def state(self) -> str:
        """The state of issue as documents print it: "Issued for bid", "Issued with open points for bid"."""
        state = (self.info.word("state") or "").capitalize()
        return state.replace("Issued", "Issued with open points") if self.open_points else state
