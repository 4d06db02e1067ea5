"""What a project leaves open as questions, what decides most first: each is tried at its possible values.

The other open values stand meanwhile as they are usual, so that what needs several answers at once is counted for
each of them; where the wall itself is open, as in several usual walls. What differs between the answers, or between
them and no answer, hangs on the question.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import reduce

from specgen.assessment import Assessment
from specgen.design.progress import tell
from specgen.explain.unknowns import Part, Unknown, answered, asks, unknowns
from specgen.model.finding import Outcome
from specgen.model.project import Value
from specgen.practice.entries import Field
from specgen.rules.hold import asked
from specgen.units.quantity import Quantity, from_si

WHO = "who_answers"
ARCHITECT = "Architect"
OWN_RULE = "MV04"  # that a value is not known is no conclusion from it
MOST_TRIALS = 600
MOST_VALUES = 12  # of one question
MOST_WALLS = 3  # parapets that differ in what is open
ROUNDS = 3  # an answer may bring the next question
KINDS = ("defect", "risk", "query", "unknown")
OPEN = ("query", "unknown", "not covered")
_ORDER = (*KINDS, "not covered", "waived", "")
Usual = Callable[[str, Field], Value | None]
Filled = tuple[tuple[Unknown, ...], Assessment]  # what is open, and the project with all of it answered


@dataclass(frozen=True)
class Decides:
    """What hangs on a question: what differs between its answers, each conclusion once."""

    findings: Mapping[str, int]  # by the worst that one of the answers makes of it
    paragraphs: int  # that appear by one answer and not by another
    sections: tuple[str, ...]  # of these paragraphs and limits
    limits: int  # that differ between the answers
    calculations: tuple[str, ...]  # that become possible
    rules: tuple[str, ...]  # names of the rules, those with defects first
    closes: int  # of the questions that stand while it is open

    @property
    def count(self) -> int:
        """How many conclusions."""
        return sum(self.findings.values()) + self.paragraphs + self.limits + len(self.calculations)

    @property
    def rank(self) -> tuple[int, ...]:
        """What decides more comes first; of the same number, what decides the graver."""
        return (-self.count, *(-self.findings.get(kind, 0) for kind in KINDS))


@dataclass(frozen=True)
class Question:
    """An open value with what is known of its answer."""

    unknown: Unknown
    decides: Decides
    who: str
    meanwhile: str  # what is taken until it is answered; "" for nothing
    tried: int  # answers that were tried


@dataclass(frozen=True)
class Asked:
    """The questions of a project in their order."""

    questions: tuple[Question, ...]
    trials: int
    untried: int  # answers that were left out
    walls: tuple[str, ...]  # the parapets that were looked at
    idle: int  # open values that a project may leave out


@dataclass(frozen=True)
class World:
    """What stands in place of what is open: a value by record and field, a component by role and kind."""

    usual: Usual
    part: Part


@dataclass(frozen=True)
class _Seen:
    """The conclusions of one trial."""

    findings: Mapping[tuple[str, str, str], str]
    limits: Mapping[str, str]
    sections: Mapping[str, str]
    done: frozenset[str]
    names: Mapping[str, str]


def questions(one: Assessment, worlds: Sequence[World]) -> Asked:
    """The questions, what decides most first.

    Args:
        one: the project as it stands.
        worlds: what is usual, in place of what is open beside the value that is tried; several kinds of wall, where a
            project says little of its own.
    """
    one = _few_walls(one)
    filled = [_filled(one, world) for world in worlds]
    every = {each.key: each for found, _ in filled for each in found}
    values = {key: tuple(_answers(each, worlds[0].usual)) for key, each in every.items()}
    tries = _tries(filled)
    most = MOST_VALUES
    while (
        most > 1
        and sum(tries[key] * (min(len(each), most) + 1) for key, each in values.items()) > MOST_TRIALS
    ):
        most -= 1
    found, trials = [], 0
    for number, (key, each) in enumerate(every.items()):
        tell(number / len(every))
        tried = _spread(values[key], most)
        seen = []
        for (open_, whole), world in zip(_different(filled), worlds, strict=False):
            if any(other.key == key for other in open_):
                seen.append(
                    [_seen(_with(whole, each, value, world.part), one.system) for value in (None, *tried)]
                )
        trials += sum(map(len, seen))
        found.append(Question(each, _decided(seen), *who_answers(one, each), len(tried)))
    place = {key: number for number, key in enumerate(every)}
    ranked = sorted(found, key=lambda each: (each.decides.rank, place[each.unknown.key]))
    shown = tuple(each for each in ranked if _is_asked(each))
    untried = sum(max(0, len(each) - most) for each in values.values())
    names = tuple(wall.name for wall in one.project.parapets)
    return Asked(shown, trials, untried, names, len(found) - len(shown))


def _is_asked(one: Question) -> bool:
    """Whether something is open without the answer; else a project may leave it out."""
    return one.unknown.asked or (one.decides.count > 0 if one.unknown.role else one.decides.closes > 0)


def _different(filled: list[Filled]) -> list[Filled]:
    """The worlds that differ: where a project describes its wall, they are one."""
    first, *rest = filled
    return [first, *(each for each in rest if each[1].project.parapets != first[1].project.parapets)]


def _tries(filled: list[Filled]) -> Counter[tuple[str, str, str]]:
    return Counter(each.key for found, _ in _different(filled) for each in found)


def _few_walls(one: Assessment) -> Assessment:
    """The project with one parapet of those that leave the same open."""
    alike: dict[frozenset[tuple[str, ...]], str] = {}
    for wall in one.project.parapets:
        mine = (each for each in one.findings if each.parapet == wall.name)
        alike.setdefault(frozenset((e.code, e.layer, e.attribute, e.word) for e in mine), wall.name)
    names = tuple(alike.values())[:MOST_WALLS]
    if len(names) == len(one.project.parapets):
        return one
    kept = tuple(wall for wall in one.project.parapets if wall.name in names)
    return one.again(replace(one.project, parapets=kept))


def _filled(one: Assessment, world: World) -> Filled:
    """Everything that is open, and the project with all of it answered as usual; answers may open the next.

    What a project may leave out, as nothing is open without it, is left out again, so that it opens nothing.
    """
    every: dict[tuple[str, str, str], Unknown] = {}
    idle = set[tuple[str, str, str]]()
    filled = one
    for _ in range(ROUNDS):
        new = [each for each in unknowns(filled) if each.key not in every]
        if not new:
            break
        project = filled.project
        for each in new:
            every[each.key] = each
            value = world.usual(each.what, each.field)
            if value is not None:
                project = answered(project, each, value, one.practice, world.part)
        filled = filled.again(project)
        for each in new:
            if not (each.asked or each.role):
                without = _with(filled, each, None, world.part)
                if _open_in(without) <= _open_in(filled):
                    filled = without
                    idle.add(each.key)
    return tuple(each for key, each in every.items() if key not in idle), filled


def _open_in(one: Assessment) -> set[tuple[str, str, str]]:
    return {(each.code, each.layer, each.attribute) for each in one.findings if asks(each)}


def _with(filled: Assessment, each: Unknown, value: Value | None, part: Part) -> Assessment:
    project = answered(filled.project, each, value, filled.practice, part)
    return filled.again(project)


def _answers(each: Unknown, usual: Usual) -> Iterator[Value]:
    """The values at which a question is tried."""
    field_ = each.field
    if field_.type == "yes or no":
        yield from (True, False)
    elif field_.type == "word":
        yield from field_.choices
    elif field_.type == "words":
        yield from ((choice,) for choice in field_.choices)
    else:
        common = usual(each.what, field_)
        found = [*_through(field_), *([] if common is None else [common])]
        yield from found


def _through(field_: Field) -> Iterator[Quantity]:
    """A few values through the expected range of a quantity."""
    expected = field_.expected
    if expected is None or field_.type == "count":
        return
    ends = [end for end in (expected.least, expected.most) if end is not None]
    yield from ends
    if len(ends) == 2:
        low, high = ends
        yield from_si((low.value + high.value) / 2, low.dimension, high.unit)


def _spread(values: tuple[Value, ...], most: int) -> tuple[Value, ...]:
    """At most so many of some values, evenly taken, the first and the last among them."""
    if len(values) <= most:
        return values
    if most == 1:
        return values[:1]
    step = (len(values) - 1) / (most - 1)
    return tuple(values[round(number * step)] for number in range(most))


def _seen(one: Assessment, system: str) -> _Seen:
    findings: dict[tuple[str, str, str], str] = {}
    for each in one.findings:
        if each.code != OWN_RULE:
            word = each.word if each.counts or each.outcome is Outcome.FAIL else ""
            key = (each.code, each.layer, each.attribute)
            findings[key] = _worst(findings.get(key, ""), word)
    limits, sections = {}, {}
    for each_id, asked_for in one.requirements.by_id.items():
        limits[each_id] = asked(asked_for.limit, system)
        sections[each_id] = asked_for.section
    done = frozenset(
        calculation.title
        for made in one.calculations.values()
        for calculation in made.made.values()
        if calculation.done
    )
    names = {each.code: each.name for each in one.findings}
    return _Seen(findings, limits, sections, done, names)


def _worst(one: str, other: str) -> str:
    return min((one, other), key=_ORDER.index)


def _decided(worlds: list[list[_Seen]]) -> Decides:
    """What differs between the trials of one of the worlds, each conclusion once."""
    findings: dict[tuple[str, str, str], str] = {}
    limits: dict[str, bool] = {}  # whether its paragraph comes and goes
    rules: dict[str, str] = {}
    sections, possible, closes = set[str](), set[str](), set[tuple[str, str, str]]()
    for seen in worlds:
        for key in dict.fromkeys(key for each in seen for key in each.findings):
            words = {each.findings.get(key, "") for each in seen}
            if len(words) > 1:
                if seen[0].findings.get(key, "") in OPEN:
                    closes.add(key)
                findings[key] = reduce(_worst, words, findings.get(key, ""))
                name = next(each.names[key[0]] for each in seen if key[0] in each.names)
                rules[name] = _worst(rules.get(name, ""), findings[key])
        for name in dict.fromkeys(name for each in seen for name in each.limits):
            texts = {each.limits.get(name, "") for each in seen}
            if len(texts) > 1:
                limits[name] = limits.get(name, False) or "" in texts
                sections |= {each.sections[name] for each in seen if name in each.sections}
        every = [each.done for each in seen]
        possible |= frozenset.union(*every) - frozenset.intersection(*every)
    counts = Counter("unknown" if word == "not covered" else word for word in findings.values())
    return Decides(
        {kind: counts[kind] for kind in KINDS if counts[kind]},
        sum(limits.values()),
        tuple(sorted(sections)),
        len(limits) - sum(limits.values()),
        tuple(sorted(possible)),
        tuple(sorted(rules, key=lambda name: _ORDER.index(rules[name]))),
        len(closes),
    )


def who_answers(one: Assessment, each: Unknown) -> tuple[str, str]:
    """Who can answer, and what stands in its place meanwhile."""
    table = one.practice.table(WHO)
    for name in (each.field.name, None):
        for row in table.where(what=each.what, attribute=name):
            return str(row["who"]), str(row["meanwhile"] or "") if name else ""
    return ARCHITECT, ""
