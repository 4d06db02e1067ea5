"""Changes of a remedy made on a copy of the project, one parapet at a time; nothing is written."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from specgen.model.project import PLACES, Component, Parapet, Project, Record, Transition, Value
from specgen.model.requirement import RequirementSet
from specgen.practice.compatibility import may_touch
from specgen.practice.entries import Practice
from specgen.rules.hold import words
from specgen.rules.remedy import (
    RECORDS,
    AddPart,
    Asked,
    Change,
    FitKind,
    Given,
    Known,
    MovePart,
    SetKind,
    SetLap,
    SetValue,
    Stated,
    TapeLap,
)
from specgen.wall.change import TRIED, inserted, with_parapets, with_values
from specgen.wall.edit import remarks, with_value
from specgen.wall.place import Place, family

FORBIDDEN = ("not allowed", "with separation")


@dataclass(frozen=True)
class Edit:
    """One change of the project file: where, and what stands there before and after; "" where nothing does."""

    path: str
    before: str
    after: str
    sentence: str


@dataclass(frozen=True)
class Draft:
    """A copy of the project with edits, and what somebody must obtain for them to hold."""

    project: Project
    parapet: str
    edits: tuple[Edit, ...] = ()
    needs: tuple[str, ...] = ()

    @property
    def here(self) -> Parapet:
        """The parapet that is edited."""
        (one,) = (parapet for parapet in self.project.parapets if parapet.name == self.parapet)
        return one

    def with_parapet(self, parapet: Parapet, edit: Edit) -> Draft:
        """The draft with its parapet replaced."""
        project = with_parapets(self.project, lambda _: parapet, (self.parapet,))
        return replace(self, project=project, edits=(*self.edits, edit))


@dataclass(frozen=True)
class Editor:
    """Makes the changes of remedies. ``layer`` is the component that the finding is about, "" for none."""

    practice: Practice
    requirements: RequirementSet
    layer: str = ""

    def drafts(self, draft: Draft, changes: tuple[Change, ...]) -> Iterator[Draft]:
        """Every way to make the changes one after the other; none where one of them cannot be made."""
        if not changes:
            if draft.edits:
                yield draft
            return
        for one in self._made(draft, changes[0]):
            yield from self.drafts(one, changes[1:])

    def _made(self, draft: Draft, change: Change) -> Iterator[Draft]:
        match change:
            case SetKind():
                yield from self._kind(draft, change)
            case FitKind():
                yield from self._fitting(draft, change)
            case SetValue():
                value = self.value(draft, change.value)
                if value is not None:
                    yield from self.with_attribute(draft, change.role, change.attribute, value)
            case AddPart():
                yield self._added(draft, change)
            case MovePart():
                yield from self._moved(draft, change)
            case SetLap():
                yield from self._lapped(draft, change)
            case TapeLap():
                yield from self._taped(draft, change)

    def value(self, draft: Draft, given: Given) -> Value | None:
        """The value that a remedy names, or None where it is not to be had."""
        match given:
            case Known(key):
                known = self.practice.entry(key).value
                return True if known is None else known
            case Asked(name):
                requirement = self.requirements.at(name, draft.parapet)
                return requirement.limit.value if requirement else None
            case Stated(role, attribute):
                record = self._record(draft, role)
                return record.values.get(attribute) if record else None
            case _:
                return given

    def part(self, draft: Draft, role: str) -> Component | None:
        """The component meant by a role: the finding's own, else the bonded one, else the outermost."""
        return Place(draft.project, draft.here, self.practice, {}, layer=self.layer).part(role)

    def _record(self, draft: Draft, role: str) -> Record | None:
        if role not in RECORDS:
            return self.part(draft, role)
        return draft.here if role == "parapet" else getattr(draft.project, role)

    def with_attribute(self, draft: Draft, role: str, name: str, value: Value) -> Iterator[Draft]:
        """A value of a component, or of parapet, site or building, set by the machinery of trials."""
        record = self._record(draft, role)
        if record is None:
            return
        old = record.kind if isinstance(record, Component) and name == "kind" else record.values.get(name)
        if old == value:
            yield draft
            return
        if isinstance(record, Component):
            path, where = f"{draft.parapet}.{record.id}.{name}", f"`{record.id}`"
        elif role == "parapet":
            path, where = f"{draft.parapet}.{name}", f"parapet {draft.parapet}"
        else:
            path, where = f"{role}.{name}", role
        before = "" if old is None else words(old)
        project = with_value(draft.project, self.practice, path, value)
        aside = tuple(remarks(draft.project, project, self.practice, path))
        edit = _set(path, f"`{name}` of {where}", before, words(value), aside)
        yield replace(draft, project=project, edits=(*draft.edits, edit))

    def _kind(self, draft: Draft, change: SetKind) -> Iterator[Draft]:
        part, kind = self.part(draft, change.role), self.value(draft, change.kind)
        kinds = self.practice.vocabulary.roles[change.role].kinds
        if part is None or not isinstance(kind, str) or kind not in kinds:
            return
        yield from self.with_attribute(draft, change.role, "kind", kind)

    def _fitting(self, draft: Draft, change: FitKind) -> Iterator[Draft]:
        part, other = self.part(draft, change.role), self.part(draft, change.beside)
        beside = family(self.practice, other) if other else None
        if part is None or beside is None:
            return
        for kind in self.practice.vocabulary.roles[change.role].kinds.values():
            own = kind.family
            if (
                own
                and kind.name != part.kind
                and may_touch(self.practice, own, beside).answer not in FORBIDDEN
            ):
                yield from self._kind(draft, SetKind(change.role, kind.name))

    def _added(self, draft: Draft, change: AddPart) -> Draft:
        if draft.here.part(change.role) is not None:
            return draft
        values: dict[str, Value] = {}
        for name, given in change.values:
            value = self.value(draft, given)
            if value is not None:
                values[name] = value
        return self._inserted(draft, change.role, change.kind, values, change.before)

    def _inserted(
        self, draft: Draft, role: str, kind: str, values: dict[str, Value], before: tuple[str, ...]
    ) -> Draft:
        here = draft.here
        taken = {part.id for part in here.components()}
        name = next(one for one in (role, *(f"{role} {n}" for n in range(2, 99))) if one not in taken)
        part = Component(role, values, dict.fromkeys((*values, "kind"), TRIED), TRIED, name, kind)
        changed = inserted(here, part, before, self.practice)
        where = "build_up" if part in changed.build_up else "top"
        parts = getattr(changed, where)
        at = parts.index(part) + 1
        place = f"in front of `{parts[at].id}`" if at < len(parts) else "at the end"
        after = ", ".join([f"kind {kind}", *(f"{key} {words(value)}" for key, value in values.items())])
        sentence = f"Add a component `{name}` to `{where}` {place}: {after}."
        edit = Edit(f"{draft.parapet}.{name}", "", after, sentence)
        return draft.with_parapet(changed, edit)

    def _moved(self, draft: Draft, change: MovePart) -> Iterator[Draft]:
        here = draft.here
        part, other = self.part(draft, change.role), self.part(draft, change.before)
        if part is None or other is None or part not in here.build_up or other not in here.build_up:
            return
        parts = [one for one in here.build_up if one is not part]
        parts.insert(parts.index(other), part)
        edit = Edit(f"{draft.parapet}.{part.id}", "", f"in front of {other.id}",
                    f"Move `{part.id}` in front of `{other.id}`.")  # fmt: skip
        yield draft.with_parapet(replace(here, build_up=tuple(parts)), edit)

    def _lapped(self, draft: Draft, change: SetLap) -> Iterator[Draft]:
        upper, lower = self.part(draft, change.upper), self.part(draft, change.lower)
        if upper is None or lower is None:
            return
        lap = self.value(draft, change.lap) if change.lap is not None else None
        joints = draft.here.between(upper, lower)
        wanted: dict[str, Value] = {"upper": upper.id}
        if lap is not None and not any(joint.has("lap") for joint in joints):
            wanted["lap"] = lap
        yield self._at_joint(draft, upper, lower, wanted)

    def _at_joint(self, draft: Draft, one: Component, other: Component, wanted: dict[str, Value]) -> Draft:
        """The transition between two components with these values; described if it is not."""
        here, shown = draft.here, ", ".join(f"{name} {words(value)}" for name, value in wanted.items())
        path, pair = f"{draft.parapet}.transitions", f"`{one.id}` and `{other.id}`"
        joint = next(iter(here.between(one, other)), None)
        if joint is None:
            new = with_values(Transition("transition", {}, {}, TRIED, one.id, other.id), wanted)
            edit = Edit(path, "", shown, f"Describe the lap between {pair}: {shown}.")
            return draft.with_parapet(replace(here, transitions=(*here.transitions, new)), edit)
        old = {name: joint.values.get(name) for name in wanted}
        if old == wanted:
            return draft
        before = ", ".join(f"{name} {words(value)}" for name, value in old.items() if value is not None)
        edit = Edit(path, before, shown, f"Set {shown} at the lap between {pair}.")
        changed = with_values(joint, wanted)
        transitions = tuple(changed if one is joint else one for one in here.transitions)
        return draft.with_parapet(replace(here, transitions=transitions), edit)

    def _taped(self, draft: Draft, change: TapeLap) -> Iterator[Draft]:
        one, other = self.part(draft, change.one), self.part(draft, change.other)
        joint = next(iter(draft.here.between(one, other)), None) if one and other else None
        if one is None or other is None or joint is None:
            return
        sides = [family(self.practice, part) for part in (one, other)]
        named = draft.here.by_id(joint.word("tape") or "")
        for kind in self.practice.vocabulary.roles["bridging tape"].kinds.values():
            if named is not None and named.kind == kind.name:
                continue
            answers = {side: may_touch(self.practice, kind.family, side).answer for side in sides if side}
            if len(answers) < len(set(sides)) or any(answer in FORBIDDEN for answer in answers.values()):
                continue
            unsure = tuple(sorted(side for side, answer in answers.items() if answer != "allowed"))
            yield self._with_tape(draft, one, other, kind.name, unsure)

    def _with_tape(
        self, draft: Draft, one: Component, other: Component, kind: str, unsure: tuple[str, ...]
    ) -> Draft:
        values: dict[str, Value] = {"each_side": self.practice.quantity("tape.each_side"), "rolled": True}
        if unsure:
            values["compatible_with"] = unsure
        taped = self._inserted(draft, "bridging tape", kind, values, ("cleat", "coping"))
        taped = self._at_joint(taped, one, other, {"tape": taped.edits[-1].path.partition(".")[2]})
        if not unsure:
            return taped
        letter = f"written approval of {' and '.join(unsure)} by the manufacturer of the {kind}"
        return replace(taped, needs=(*draft.needs, letter))


def with_record(draft: Draft, record: Record, name: str, value: Value) -> Draft | None:
    """A value of a lap or of a place of the parapet: corner, end, scupper and the like."""
    here = draft.here

    old = record.values.get(name)
    for group in ("transitions", *PLACES):
        records: tuple[Record, ...] = getattr(here, group)
        if any(one is record for one in records):
            where = (
                f"the lap between `{record.first}` and `{record.second}`"
                if isinstance(record, Transition)
                else f"{record.what} {words(record.values.get('name', ''))}".rstrip()
            )
            path, before = f"{draft.parapet}.{group}.{name}", "" if old is None else words(old)
            edit = _set(path, f"`{name}` of {where}", before, words(value))
            changed = tuple(with_values(one, {name: value}) if one is record else one for one in records)
            return draft.with_parapet(_regrouped(here, {group: changed}), edit)
    return None


def _regrouped(parapet: Parapet, groups: dict[str, tuple[Record, ...]]) -> Parapet:
    return replace(parapet, **groups)  # type: ignore[arg-type]


def _set(path: str, what: str, before: str, after: str, aside: tuple[str, ...] = ()) -> Edit:
    sentence = f"Change {what} from {before} to {after}." if before else f"State {what}: {after}."
    sentence = " ".join([sentence, *(f"{one[:1].upper()}{one[1:]}." for one in aside)])
    return Edit(path, before, after, sentence)
