"""A rule that holds requirements of the catalogue: its module says only what the catalogue does not say."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cache, wraps

from specgen.model.finding import Severity
from specgen.model.project import Component, Record
from specgen.model.requirement import Requirement
from specgen.requirements.catalogue_file import CatalogueEntry, load_catalogue, practice_keys, title_of
from specgen.requirements.derive import WHEN
from specgen.rules.hold import hold, hold_value, left_to_sections, not_stated
from specgen.rules.rule import Option, Rule, RuleResult, fail, not_applicable, ok, specified, unknown
from specgen.rules.undescribed import absent
from specgen.rules.wall import Wall
from specgen.wall.specified import left_open

Check = Callable[[Wall], Iterator[RuleResult]]
LayerCheck = Callable[[Wall, Component], Iterator[RuleResult]]


@cache
def catalogue_entry(name: str) -> CatalogueEntry:
    """The catalogue's entry of this name.

    Raises:
        KeyError: the catalogue has none.
    """
    return {entry.name: entry for entry in load_catalogue()}[name]


def rule_of(
    *names: str,
    severity: Severity,
    remedy: str,
    name: str = "",
    reason: str = "",
    basis: tuple[str, ...] = (),
    applies_to: str = "",
) -> Rule:
    """A rule that holds requirements of the catalogue, which gives what is not given here.

    Args:
        names: catalogue names of the requirements; the first gives reason and role.
        severity: see :class:`Rule`, as remedy and name.
        remedy: see ``severity``.
        name: see ``severity``.
        reason: where the rule's reason is more than that of its first requirement.
        basis: practice keys, where they are not just those of the origins.
        applies_to: where it is not the role.
    """
    entries = [catalogue_entry(one) for one in names]
    keys = dict.fromkeys(key for entry in entries for key in practice_keys(entry))
    return Rule(
        name=name,
        severity=severity,
        applies_to=applies_to or entries[0].role,
        holds=names,
        reason=reason or entries[0].reason,
        basis=basis or tuple(keys),
        remedy=remedy,
        options=tuple(option for entry in entries for option in _options(entry)),
    )


def _options(entry: CatalogueEntry) -> Iterator[Option]:
    for key, (name, wording) in zip(practice_keys(entry), entry.options.items(), strict=False):
        yield Option(name, key, wording)


@dataclass(frozen=True)
class Held:
    """The check of a rule that holds requirements: every part of the role against each of them."""

    names: tuple[str, ...]
    wrong: str | Mapping[str, str] = ""  # message of a failure, also by requirement
    what: str = ""  # names the value where "title of the role" does not read well
    needed: bool = False  # a role that is not described is unknown, not "not applicable"
    without: str = ""  # a role that is not described is a failure, in these words
    together: str = ""  # what is not stated stands in one finding, in these words
    left: Mapping[str, str] = field(
        default_factory=dict
    )  # what its section asks for while a fact is not stated
    if_stated: bool = False  # what a standing wall does not tell is no question
    graver: str = ""  # the stated word that makes a failure a defect
    basis: tuple[str, ...] = ()  # of the findings, where it is not the limit's own origin
    severities: Mapping[str, Severity] = field(default_factory=dict)  # of a failure, by requirement

    def __call__(self, wall: Wall, because: tuple[str, ...] = ()) -> Iterator[RuleResult]:
        """What is to be said of the parapet; ``because``: facts that switched the rule on."""
        role = catalogue_entry(self.names[0]).role
        parts = wall.parapet.all_of(role)
        if not parts:
            yield self._without(wall, role)
        for part in parts:
            yield from self.at(wall, part, because)

    def _without(self, wall: Wall, role: str) -> RuleResult:
        return fail(self.without, without=(role,)) if self.without else _no_layer(wall, role, self.needed)

    def at(
        self,
        wall: Wall,
        part: Component,
        because: tuple[str, ...] = (),
        severity: Severity | None = None,
    ) -> Iterator[RuleResult]:
        """One part against each requirement.

        Args:
            wall: the parapet.
            part: a part of the requirements' role.
            because: facts that switched the rule on.
            severity: of a failure; the rule's own if not given.
        """
        lacking: list[str] = []
        for name in self.names:
            entry, requirement = catalogue_entry(name), wall.requirement(name, part)
            unmet = unmet_conditions(wall, entry, part)
            facts = [fact for fact in _facts(entry) if not part.has(fact)]
            stated = part.has(entry.attribute)
            left = requirement is not None and left_to_sections(wall, requirement, part, entry.attribute)
            settled = [fact for fact in facts if requirement is None and self._settles(wall, part, fact)]
            if unmet:
                yield not_applicable(f"held only where {' and '.join(unmet)}")
            elif settled:
                yield from (self._left(wall, part, fact) for fact in settled)
            elif self.together and (facts or (requirement and not stated and not left)):
                lacking += [*([] if stated else [entry.attribute]), *facts]
            elif facts:
                for fact in facts:
                    title = wall.practice.vocabulary.roles[part.role].fields[fact].title
                    what = _named(wall, part, f"{title} of the {part.role}")
                    yield not_stated(what, part, fact, part.id, because)
            elif requirement is None:
                yield not_applicable(f"no limit is known for the {title_of(entry, wall.practice)}")
            elif self.if_stated and not stated and not left and not part.leaves(entry.attribute):
                yield not_applicable(f"{requirement.title} of the {part.role} is left to the sections")
            else:
                yield self._held(wall, requirement, part, because, severity)
        if lacking:
            add = ", ".join(f"`{one}`" for one in dict.fromkeys(lacking))
            yield unknown(self.together, f"layer `{part.id}`: add {add}", part.mark, part.id, because)

    def _settles(self, wall: Wall, part: Component, fact: str) -> bool:
        """Whether the section settles a fact of which nothing is stated, of a part that is still to be built."""
        return fact in self.left and left_open(wall.at(part), part, fact)

    def _left(self, wall: Wall, part: Component, fact: str) -> RuleResult:
        role = wall.practice.vocabulary.roles[part.role]
        what = _named(wall, part, f"{role.fields[fact].title} of the {part.role}")
        message = f"{what} is left to Section {role.section}, which asks for: {self.left[fact]}"
        return replace(specified(ok(message, part.mark, part.id), message), attribute=fact, basis=self.basis)

    def _held(
        self,
        wall: Wall,
        requirement: Requirement,
        part: Component,
        because: tuple[str, ...],
        severity: Severity | None,
    ) -> RuleResult:
        name = requirement.name
        wrong = self.wrong if isinstance(self.wrong, str) else self.wrong.get(name, "")
        wrong = wrong and _named(wall, part, wrong)
        what = _named(wall, part, self.what or f"{requirement.title} of the {requirement.role}")
        grave = bool(self.graver) and part.word(requirement.attribute) == self.graver
        severity = Severity.DEFECT if grave else severity or self.severities.get(name)
        result = hold(wall, name, part, wrong, severity, because, what)
        own = practice_keys(catalogue_entry(name)) if len(self.names) > 1 else ()
        return replace(result, basis=self.basis or result.basis or own)


def each_layer(role: str, needed: bool = False) -> Callable[[LayerCheck], Check]:
    """A check made for one layer of a role, run for every layer; ``needed``: without one the answer is unknown."""

    def of(check: LayerCheck) -> Check:
        @wraps(check)
        def every(wall: Wall) -> Iterator[RuleResult]:
            parts = wall.parapet.all_of(role)
            if not parts:
                return iter((_no_layer(wall, role, needed),))
            if len(parts) == 1:
                return check(wall, parts[0])
            results = (_of_layer(wall, part, one) for part in parts for one in check(wall.at(part), part))
            return iter(dict.fromkeys(results))

        return every

    return of


def _no_layer(wall: Wall, role: str, needed: bool) -> RuleResult:
    if not needed:
        return not_applicable(f"no {role} is described")
    return absent(wall, role)


def _of_layer(wall: Wall, part: Component, result: RuleResult) -> RuleResult:
    if result.layer != part.id or f"`{part.id}`" in result.message:
        return result
    return replace(result, message=_named(wall, part, result.message))


def _named(wall: Wall, part: Component, what: str) -> str:
    """Words about a part, with its id behind its role (or before them) where the parapet has several."""
    if len(wall.parapet.all_of(part.role)) == 1:
        return what
    before, role, after = what.rpartition(f"the {part.role}")
    return f"{before}{role} `{part.id}`{after}" if role else f"`{part.id}`: {what}"


def at_place(wall: Wall, name: str, record: Record, attribute: str, what: str) -> RuleResult:
    """A value of a place, as a scupper, against the requirement on what stands there.

    Args:
        wall: the parapet.
        name: catalogue name of the requirement.
        record: the place.
        attribute: the value of the place, which may have another name than that of the product.
        what: names the value in the message.
    """
    requirement = wall.requirement(name)
    if requirement is None:
        return not_applicable(f"no limit is known for the {what}")
    result = hold_value(wall, requirement, record, attribute, "", what=what)
    return replace(result, basis=result.basis or practice_keys(catalogue_entry(name)))


def unmet_conditions(wall: Wall, entry: CatalogueEntry, part: Component) -> tuple[str, ...]:
    """The conditions of a requirement that do not hold at one part of its role."""
    place = wall.at(part)
    return tuple(name for name in entry.when if not WHEN[name](place))


def _facts(entry: CatalogueEntry) -> Iterator[str]:
    """The values of a part that its limit is made of."""
    yield from (origin.removeprefix("fact ") for origin in entry.origins if origin.startswith("fact "))
