"""What a proposal may choose: for each part and lap that the facts leave open, its options in the order of preference."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cached_property
from itertools import product

from specgen.model.project import Component, Parapet, Project, Value
from specgen.model.source import Source
from specgen.practice.entries import Practice, Row
from specgen.practice.nominal import paired
from specgen.propose.arranged import NO_SEAL, SEAL, SEALED, air_path, heat_path
from specgen.propose.choices import (
    CARRIED,
    FACE,
    FRAMED,
    GROUPS,
    LINING,
    MEMBRANES,
    NONE,
    PARTS,
    PRIMER,
    TAPE,
    TO_THE_TOP,
    UNKNOWN,
    VALUES,
    Choice,
    Given,
    Lap,
    Option,
    Part,
    is_open,
    read_word,
    text,
    undecided,
)
from specgen.propose.drained import drains
from specgen.propose.plastered import FACING, plastered_inside
from specgen.units.quantity import Quantity
from specgen.wall.facts import filled

_LAPS = (  # upper, lower: described where both are there; the first two are searched
    ("top flashing", "barrier"),
    ("top flashing", "roof turn-up"),
    ("barrier", "weep screed"),
    ("drainage layer", "top flashing"),
    ("drainage layer", SEAL),  # where no barrier is known to hold vapor, the drainage layer carries it on
)
_SEARCHED = 2


_NAMING = ("family", "metal", "attachment", "joint", "finish")


def _differs(stated: Component, family: str, metal: str) -> bool:
    """Whether a stated component is of another family or metal than an option."""
    pairs = (("family", family), ("metal", metal))
    return any(stated.has(name) and wanted and stated.values.get(name) != wanted for name, wanted in pairs)


class Offers:
    """The choices of a project, each with its options.

    Args:
        project: the facts.
        practice: the vocabulary, and the tables of what is offered.
        only: by name of a choice, the labels that are searched; for trials over a small vocabulary.
    """

    def __init__(
        self, project: Project, practice: Practice, only: Mapping[str, tuple[str, ...]] | None = None
    ) -> None:
        self.project, self.practice = project, practice
        self._only = only or {}
        # The parapet that leaves the most open; what others state of its parts stays as it is there.
        self.pattern: Parapet = min(project.parapets, key=lambda one: sum(1 for _ in one.components()))

    @cached_property
    def backing(self) -> str:
        """The backup wall."""
        framing = self.pattern.part("framing")
        return framing.kind if framing else ""

    @cached_property
    def choices(self) -> tuple[Choice, ...]:
        """Every choice: parts first, each lap behind the two that meet there."""
        parts = {role: one for role in GROUPS if (one := self._of_role(role)) is not None}
        found: list[Choice] = []
        placed: set[str] = set()
        laps = list(self._laps())
        for role in GROUPS:
            if role in parts:
                found.append(parts[role])
            placed |= {role, SEAL} if role == "sheathing" else {role}
            for lap in [
                one for one in laps if set(one.name.replace(FACING, "barrier").split(" / ")) <= placed
            ]:
                found.append(lap)
                laps.remove(lap)
            if role == "sheathing":
                found += filter(None, (self._primer(), air_path(self), *self._seal_laps(), heat_path(self)))
        return tuple(self._limited(one) for one in (*found, *drains(self)))

    def _limited(self, choice: Choice) -> Choice:
        wanted = self._only.get(choice.name)
        if wanted is None:
            return choice
        kept = tuple(one for one in choice.options if one.label in wanted)
        return Choice(choice.name, choice.group, kept, choice.source)

    @cached_property
    def given(self) -> Given:
        """The values that every wall states of the parapet, where only one is offered."""
        searched = {"air_path", "vapor_path", "thermal_break", *(() if self.across else ("heat_path",))}
        found = {
            ("parapet", name): (self.value("parapet", str(row["word"]), name), str(row["because"]))
            for name, rows in self._rows("parapet", "").items()
            for row in rows[:1]
            if name not in searched
        }
        return Given(found, self.practice.table(VALUES).source)

    @property
    def across(self) -> bool:
        """Whether something that is stated carries the insulation across at the level of the roof."""
        framing = self.pattern.part("framing")
        return self.pattern.has("thermal_break") or (framing is not None and bool(filled(framing)))

    @cached_property
    def of_tape(self) -> tuple[tuple[str, Value], ...]:
        """The values that every tape states."""
        return tuple(
            (name, self.value(TAPE, str(rows[0]["word"]), name))
            for name, rows in self._rows(TAPE, "").items()
        )

    def of_project(self, barrier: str) -> Mapping[str, Value]:
        """What the project states of how its barrier is specified."""
        rows = self.practice.table(VALUES).where(part="project", kind=barrier)
        return {str(row["name"]): self.value("project", str(row["word"]), str(row["name"])) for row in rows}

    @cached_property
    def repairs(self) -> tuple[str, ...]:
        """The fewest repairs of a standing wall that put in what is open, the one that puts in the most first."""
        rows = self.practice.table("repair_adds").rows
        adds: dict[str, set[str]] = {}
        for row in rows:
            adds.setdefault(str(row["repair"]), set()).add(str(row["role"]))
        wanted = {choice.name for choice in self.choices if choice.name in GROUPS}
        found = []
        while wanted and (best := max(adds, key=lambda one: len(adds[one] & wanted))) and adds[best] & wanted:
            found.append(best)
            wanted -= adds[best]
        return tuple(found)

    def _rows(self, part: str, kind: str) -> dict[str, list[Row]]:
        """The rows of values of a part, by the name of the value."""
        found: dict[str, list[Row]] = {}
        for row in self.practice.table(VALUES).where(part=part):
            if row["kind"] in (None, kind):
                found.setdefault(str(row["name"]), []).append(row)
        return found

    @property
    def source(self) -> Source:
        """Where the offers stand."""
        return self.practice.table(VALUES).source

    def rows(self, part: str, name: str) -> list[Row]:
        """The rows of one value of a part; of the framing, for the backup wall."""
        return self._rows(part, self.backing if part == "framing" else "").get(name, [])

    def parts(self, role: str) -> tuple[Row, ...]:
        """The kinds of a role that are offered, in the order of preference."""
        return tuple(self.practice.table(PARTS).where(role=role, offered="yes"))

    def stated(self, role: str, kind: str) -> Iterator[tuple[str, Value]]:
        """The first of the values that are stated beside a kind."""
        for name, rows in self._rows(role, kind).items():
            yield name, self.value(role, str(rows[0]["word"]), name)

    def value(self, what: str, word: str, name: str) -> Value:
        """A value as a table writes it, in the project's language of units."""
        field = self.practice.vocabulary.field(what, name)
        assert field is not None, f"{what}.{name}"
        made = read_word(field, word)
        return self.in_units(made) if isinstance(made, Quantity) else made

    def in_units(self, value: Quantity) -> Quantity:
        """A quantity as the trade writes it in the project's language of units."""
        twin = next(iter(paired(value).nominal), value)
        return twin if self.project.system == "SI" else value

    def _of_role(self, role: str) -> Choice | None:
        if any(part.role == role for part in self.pattern.absent):
            return None
        stated = self.pattern.part(role) or undecided(self.pattern, role)
        options = tuple(self._options(role, stated))
        if not options or (
            stated is not None
            and stated.kind != UNKNOWN
            and len(options) == 1
            and not any(options[0].parts[0].values)
        ):
            return None
        return Choice(role, GROUPS[role], options, self.practice.table(PARTS).source)

    def _options(self, role: str, stated: Component | None) -> Iterator[Option]:
        for kind, made, metal, row in self._kinds(role):
            if stated is not None and (
                stated.kind not in (kind, UNKNOWN) or _differs(stated, made, metal) or kind == NONE
            ):
                continue
            base = [("family", made)] if made else []
            base += [("metal", metal)] if metal else []
            for more, because in self._more(role, kind):
                values = tuple(
                    (name, value) for name, value in (*base, *more) if stated is None or is_open(stated, name)
                )
                if stated is not None and any(
                    stated.values.get(name, value) != value for name, value in more if name in stated.values
                ):
                    continue
                label = ", ".join([kind, *(text(value) for name, value in (*base, *more) if name in _NAMING)])
                kept = stated is not None and stated.kind != UNKNOWN
                refused = "" if kept or row["offered"] == "yes" else str(row["because"])
                why = "stated" if kept else str(row["because"])
                yield Option(
                    label,
                    "; ".join(filter(None, (why, because))),
                    self._put(role, kind, values),
                    None,
                    refused,
                )

    def _put(self, role: str, kind: str, values: tuple[tuple[str, Value], ...]) -> tuple[Part, ...]:
        if kind == NONE:
            return ()
        parts = [Part(role, role, kind, values)]
        if role == "sheathing" and self.backing in FRAMED and len(self.pattern.all_of(role)) < 2:
            lining = kind if kind == "glass-mat gypsum" else "glass-mat gypsum"
            parts.append(Part(role, LINING, lining))
        return tuple(parts)

    def _kinds(self, role: str) -> Iterator[tuple[str, str, str, Row]]:
        """Kind, family and metal of each row of the table that belongs to the backup wall and the roof."""
        membrane = self.project.building.word("roof_membrane")
        for row in self.practice.table(PARTS).where(role=role):
            kind, metal = str(row["kind"]), str(row["metal"] or "")
            if row["backing"] not in (None, self.backing) or (role == "roof turn-up" and kind != membrane):
                continue
            families = [str(row["family"])] if row["family"] else [""]
            if role == "roof turn-up" and kind == "fluid-applied":
                families = [self.project.building.word("roof_membrane_family") or ""]
            if role == "cleat":
                for one in self._metals():
                    yield kind, "", one, row
                continue
            yield from ((kind, one, metal, row) for one in families)

    def _metals(self) -> tuple[str, ...]:
        coping = self.pattern.part("coping")
        rows = self.practice.table(PARTS).where(role="coping", kind="formed metal")
        own = coping.word("metal") if coping else None
        return (own,) if own else tuple(str(row["metal"]) for row in rows)

    def _more(self, role: str, kind: str) -> Iterator[tuple[list[tuple[str, Value]], str]]:
        """Each combination of the values that are stated beside a kind, with why."""
        if kind == NONE:
            yield [], ""
            return
        every = self._rows(role, kind)
        rows = {name: some for name, some in every.items() if (role, name) not in (CARRIED, TO_THE_TOP)}
        for combination in product(*rows.values()):
            values = [
                (str(row["name"]), self.value(role, str(row["word"]), str(row["name"])))
                for row in combination
            ]
            several = [row for row in combination if len(rows[str(row["name"])]) > 1]
            several += self.rows(*TO_THE_TOP) if role == TO_THE_TOP[0] else []
            yield values, "; ".join(str(row["because"]) for row in several)

    def _laps(self) -> Iterator[Choice]:
        for number, (upper, lower) in enumerate(_LAPS):
            gone = {part.role for part in self.pattern.absent}
            if gone & {upper, lower} or any(self._joined(upper, lower)):
                continue
            if lower == SEAL and not self._may_have_seal:
                continue
            none = self._no_seal() if lower == SEAL else ()
            if (upper, lower) == _LAPS[1] and plastered_inside(self.pattern):
                upper = FACING
            found = self._lap_options(upper, lower, number < _SEARCHED)
            if upper == FACING:  # below the base flashing it would lead water behind the roof membrane
                found = (one for one in found if one.lap is not None and one.lap.upper == FACING)
            options = (*none, *found)
            group = FACE if "weep screed" in (upper, lower) else MEMBRANES
            yield Choice(f"{upper} / {lower}", group, options, self.practice.table("control_laps").source)

    @cached_property
    def _may_have_seal(self) -> bool:
        """Whether a seal across at the level of the roof is stated, or offered."""
        path = air_path(self)
        offered = path is not None and any(option.parts for option in path.options)
        return offered or self.pattern.part(SEAL) is not None

    def _no_seal(self) -> tuple[Option, ...]:
        """That a lap with the seal is not there, where no seal is stated."""
        stated = self.pattern.part(SEAL) is not None
        return () if stated else (Option(NO_SEAL, "air and vapor pass over the top"),)

    def _seal_laps(self) -> Iterator[Choice]:
        """How what is on both faces meets a seal across at the level of the roof, where one may be there."""
        if not self._may_have_seal:
            return
        for upper in SEALED:
            if any(self._joined(upper, SEAL)):
                continue
            laps = (one for one in self._lap_options(upper, SEAL, True) if one.lap and one.lap.upper == upper)
            options = (*self._no_seal(), *laps)
            yield Choice(f"{upper} / {SEAL}", MEMBRANES, options, self.practice.table("control_laps").source)

    def _primer(self) -> Choice | None:
        """The primer of the barrier on what it is bonded to, where some barrier that is open asks for one."""
        lower = "sheathing" if self.backing in FRAMED else "framing"
        if any(self._joined("barrier", lower)):
            return None
        source = self.practice.table("primers").source
        options = [Option("no primer", "the barrier bonds to it as it is")]
        for primer in self._primers():
            lap = Lap("barrier", lower, "barrier", "", primer)
            options.append(Option(primer, "the barrier bonds to it over this primer", (), lap))
        return Choice(PRIMER, MEMBRANES, tuple(options), source)

    def _primers(self) -> tuple[str, ...]:
        """The kinds of primer that a lap may have."""
        every = self.practice.vocabulary.records["transition"].fields["primer_kind"].choices
        return tuple(one for one in every if one != NONE)

    def _joined(self, one: str, other: str) -> Iterable[bool]:
        here = self.pattern
        for first in here.all_of(one):
            for second in here.all_of(other):
                yield bool(here.between(first, second))

    def _lap_options(self, upper: str, lower: str, searched: bool) -> Iterator[Option]:
        first, second = (upper, lower) if lower != "top flashing" else (lower, upper)
        if not searched:
            yield Option(f"{upper} over {lower}", "shingle-wise", (), Lap(first, second, upper))
            return
        tapes = [str(row["kind"]) for row in self.practice.table(PARTS).where(role=TAPE, offered="yes")]
        for over, tape, primer in product((upper, lower), ("", *tapes), ("", *self._primers())):
            below = lower if over == upper else upper
            words = [f"{over} over {below}", tape or "edge sealed", *([primer] if primer else [])]
            lap = Lap(first, second, over, tape, primer, not tape)
            yield Option(", ".join(words), "shingle-wise" if over == upper else "", (), lap)
