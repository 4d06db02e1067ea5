"""The linter of written sections: what only shows once clauses, requirements and the project have met.

:func:`specgen.sections.lint.lint_text` reads a paragraph; this module reads section against section: each number
in its unit, no limit weaker than it was set, nothing said twice, no reference to nowhere.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache

from specgen.files.marks import Mark
from specgen.model.document import CrossRef, Para, list_level, numbered
from specgen.model.requirement import Comparison
from specgen.requirements.judge import meets
from specgen.sections.build import SectionText
from specgen.sections.lines import FIRST_LEVEL
from specgen.sections.lint import IMPERATIVES, Remark, lint_text
from specgen.sections.numbers import NUMBER, designations_in, named, numbers_in, without_names
from specgen.sections.references import base
from specgen.specification import Specification
from specgen.units.quantity import Quantity, QuantityError, parse, row_of
from specgen.units.show import printed, show
from specgen.units.table import UNITS

_BASIS = re.compile(r"\s*Basis: the calculation “[^”]*”\.")
SUPPRESSED = "the suppressed clause carried the requirement"
_FREE = ("summary", "references", "definitions")
# Two ways to specify one attribute: what a parapet may not be asked for together.
_BOTH_WAYS = (
    ("drainage.depth", "drainage.efficiency", ""),
    ("barrier.film_thickness", "", "film_tested"),
    ("lath.fastener_spacing", "", "lath_calculated"),
    ("cleat.fastener_spacing", "", "cleat_tested"),
)
_SYSTEMS: dict[str, set[str]] = {}
for _unit in UNITS:
    for _text in (printed(_unit), _unit.plural, _unit.symbol):
        # One sign may be a unit of both systems: a slope in % is SI, a share in % is neither.
        _SYSTEMS.setdefault(_text, set()).add(_unit.system)
_BEFORE: dict[Comparison, str] = {"at least": "at least ", "at most": "not more than "}
_PLACE_FIRST = re.compile(r"^At parapets? [^:]*: ")
_SECTION = re.compile(r"Section (\d\d \d\d \d\d)(, )?")
_THERE = re.compile(r"Section (\d\d \d\d \d\d), [^:;.]*?, (?:Articles?|Paragraphs?) (\d+\.\d+(?:\.\w+)*)")


@dataclass(frozen=True)
class Printed:
    """One numbered paragraph as it stands on paper."""

    section: str
    number: str
    key: str
    article: str
    level: int
    text: str
    above: str  # the paragraph that opens the list this one stands in
    para: Para

    @property
    def place(self) -> str:
        """Where it stands: ``07 71 00 2.2.A``."""
        return f"{self.section} {self.number}"

    @property
    def own(self) -> str:
        """Its words without the sentence that names a calculation."""
        return _BASIS.sub("", self.text)


def lint_issue(issue: Specification) -> tuple[Remark, ...]:
    """Every remark on the written sections of a project.

    Args:
        issue: the project as specified.

    Returns:
        One remark a fault, at the clause that printed the paragraph, in the order of the sections.
    """
    paras = tuple(one for section in issue.sections for one in read(section))
    marks = {
        (section.number, clause.key): clause.mark
        for section in issue.clauses.sections
        for clause in section.clauses()
    }
    nowhere = Mark(issue.assessment.project.path, 1, 1)
    # What a project tells of a standing wall is quoted: its words and numbers are not the specification's.
    quoted = {(section.number, clause.key) for section in issue.clauses.sections
              for clause in section.clauses() if clause.each}  # fmt: skip
    paras = tuple(
        one for one in paras if ":" not in one.key or (one.section, _clause_of(one.key)) not in quoted
    )
    found = [*_language(paras, issue), *_numbers(paras, issue), *_twice(paras, issue), *_standards(paras)]
    found += [*_references(paras, issue), *_both_ways(paras, issue)]
    remarks = [
        Remark(marks.get((para.section, _clause_of(para.key)), nowhere), para.place, message)
        for para, message in found
    ]
    remarks += _suppressed(issue)
    return tuple(sorted(dict.fromkeys(remarks), key=lambda one: (one.key, one.message)))


def _suppressed(issue: Specification) -> Iterator[Remark]:
    """Requirements that hold here and that no paragraph states, since the office suppressed the clause."""
    for one in issue.assessment.requirements.by_id.values():
        change = issue.clauses.suppressed.get(one.name)
        if change is not None:
            place = f"{change.section} {change.key}"
            yield Remark(change.mark, place, f"{SUPPRESSED} {one.id}, which holds here and is stated nowhere")


def read(section: SectionText) -> Iterator[Printed]:
    """The numbered paragraphs of a section, each with its article and the paragraph above it."""
    above: list[str] = []
    article = ""
    for one in numbered(section.document.blocks):
        level = list_level(one.para.style) or 0
        above = [*above[:level], one.para.text]
        if level == FIRST_LEVEL - 1:
            article = one.para.key
        over = above[level - 1] if level > FIRST_LEVEL else ""
        yield Printed(section.number, one.number, one.para.key, article, level, one.para.text, over, one.para)


def _clause_of(key: str) -> str:
    return re.split(r"[@:]", key, maxsplit=1)[0]


Found = Iterator[tuple[Printed, str]]


def _language(paras: Iterable[Printed], issue: Specification) -> Found:
    names = issue.assessment.project.numbered_names
    for one in paras:
        if one.level < FIRST_LEVEL or one.key.startswith("reference "):
            continue
        words = one.own
        for number, title in issue.clauses.titles.items():
            words = words.replace(f"Section {number}, {title}", "Section")
        for name in names:
            words = named(name).sub("x", words)
        words = NUMBER.sub("x", without_names(_PLACE_FIRST.sub("", words)))
        for message in _cached(words):
            yield one, message
        if one.article not in _FREE and not one.above and not _commands(words):
            yield one, "no command: begin with a verb in the imperative, or with a label and a colon"


_cached = lru_cache(maxsize=20_000)(lint_text)


def _commands(words: str) -> bool:
    first = words.split(" ", 1)[0].lower().strip(",:.")
    return first in IMPERATIVES or ": " in words or words.endswith(":")


def _numbers(paras: Iterable[Printed], issue: Specification) -> Found:
    names = issue.assessment.project.numbered_names
    for one in paras:
        for token in numbers_in(_THERE.sub("Section", one.text), names):
            yield from ((one, message) for message in _of_number(token, one, issue))
    for section in issue.sections:
        at = {para.key: para for para in read(section)}
        for traced in (one for one in section.trace if one.key in at):
            for number in traced.numbers:
                message = _weaker(number.number, number.by, at[traced.key].text, issue)
                if message:
                    yield at[traced.key], message


def _of_number(token: str, one: Printed, issue: Specification) -> Iterator[str]:
    match = re.match(r"-?[\d/. ]*\d", token)
    spelled = token[match.end() if match else 0 :].strip()
    if not spelled:
        if any(isinstance(value, Quantity) and value.dimension in ("count", "number", "ratio", "none", "")
               for value in _origins(one, issue)):  # fmt: skip
            return
        yield f"the number `{token}` has no unit"
        return
    systems = _SYSTEMS.get(spelled, {"either"})
    if "either" in systems or f"at {token}" in one.text:
        return
    if (
        issue.assessment.system != "both"
        and issue.assessment.system not in systems
        and not _as_set(token, one, issue)
    ):
        yield f"`{token}` is not in the project's units ({issue.assessment.system})"
    elif issue.assessment.system == "both" and f"({token})" not in one.text and f"{token} (" not in one.text:
        yield f"`{token}` stands in one system of units alone"


def _as_set(token: str, one: Printed, issue: Specification) -> bool:
    """Whether a number in brackets is the limit as it was set, beside a stricter one in the project's units."""
    limits = (replace(limit, condition=None) for limit in _origins(one, issue) if isinstance(limit, Quantity))
    return f"({token})" in one.text and token in {_own(limit) for limit in limits}


def _own(limit: Quantity) -> str:
    """A limit in the language of units that it was set in."""
    system = row_of(limit).system
    return show(limit, "SI" if system == "either" else system)


def _origins(one: Printed, issue: Specification) -> Iterator[object]:
    for name in one.para.requirements:
        yield issue.assessment.requirements.by_id[name].limit.stated
    for key in one.para.sources:
        yield (
            issue.assessment.practice.entries[key].value if key in issue.assessment.practice.entries else None
        )


def _weaker(token: str, by: str, text: str, issue: Specification) -> str:
    """Whether a printed number asks for less than what set it."""
    exact: object
    requirement = issue.assessment.requirements.by_id.get(by)
    if requirement is not None:
        comparison: Comparison = requirement.limit.comparison
        exact = requirement.limit.stated
    else:
        comparison = next(
            (name for name, word in _BEFORE.items()
             if re.search(rf"{word}(?:[^()]* \()?{re.escape(token)}", text)),
            "is",
        )  # fmt: skip
        entries = issue.assessment.practice.entries
        exact = entries[by].value if by in entries else None
    if comparison not in ("at least", "at most") or not isinstance(exact, Quantity):
        return ""
    try:
        met = meets(parse(token, {exact.dimension}), comparison, exact)
    except QuantityError:
        return ""
    return "" if met else f"`{token}` is weaker than what sets it, {exact.text}"


def _twice(paras: Iterable[Printed], issue: Specification) -> Found:
    """The same requirement in two sections: the same value, the same words, or one label with two values."""
    names = issue.assessment.project.numbered_names
    values: dict[str, Printed] = {}
    words: dict[str, Printed] = {}
    labels: dict[str, tuple[Printed, tuple[str, ...]]] = {}
    for one in paras:
        if one.level < FIRST_LEVEL or one.article in ("summary", "references") or _listed(one):
            continue
        for key in one.para.sources:
            other = values.setdefault(key, one)
            if other.section != one.section:
                yield one, f"prints `{key}`, which {other.place} prints already"
        sentence = f"{one.above} {one.own}".casefold()
        other = words.setdefault(sentence, one)
        if other.section != one.section:
            yield one, f"says again what {other.place} says"
        numbers = numbers_in(one.own, names)
        label, colon, _ = _PLACE_FIRST.sub("", one.own).partition(":")
        if colon and numbers and not one.above:
            first, before = labels.setdefault(label.casefold(), (one, numbers))
            if first.section != one.section and before != numbers:
                yield one, f"sets another value for `{label}` than {first.place}"


def _listed(one: Printed) -> bool:
    # Submittal articles ask each trade for the same documents, each for its own work.
    return one.article in ("action", "informational", "closeout")


def _standards(paras: tuple[Printed, ...]) -> Found:
    for number in dict.fromkeys(one.section for one in paras):
        inside = [one for one in paras if one.section == number]
        listed = {
            one.key.removeprefix("reference "): one for one in inside if one.key.startswith("reference ")
        }
        cited: dict[str, Printed] = {}
        for one in inside:
            if not one.key.startswith("reference "):
                for name in designations_in(one.text):
                    cited.setdefault(base(name), one)
        for name in sorted(cited.keys() - listed.keys()):
            yield cited[name], f"{name} is cited and not listed under References"
        for name in sorted(listed.keys() - cited.keys()):
            yield listed[name], f"{name} is listed under References and cited nowhere"


def _references(paras: tuple[Printed, ...], issue: Specification) -> Found:
    issued = {section.number: section.title for section in issue.sections}
    ours = {section.number for section in issue.clauses.sections}
    numbers = {(one.section, one.number) for one in paras}
    keys = {(one.section, one.key) for one in paras}
    for one in paras:
        for match in _SECTION.finditer(one.text):
            number, named = match[1], match[2]
            title = issue.clauses.titles.get(number, "")
            if number not in issued and (number in ours or number not in issue.clauses.titles):
                yield one, f"refers to Section {number}, which is not issued"
            elif named and not one.text[match.end() :].startswith(title):
                yield one, f"gives Section {number} another title than `{title}`"
        for match in _THERE.finditer(one.text):
            if match[1] in issued and (match[1], match[2]) not in numbers:
                yield one, f"refers to {match[2]} of Section {match[1]}, which is not printed"
        for part in one.para.content:
            if isinstance(part, CrossRef) and (one.section, part.key) not in keys:
                yield one, f"refers to `{part.key}`, which is not printed"


def _both_ways(paras: Iterable[Printed], issue: Specification) -> Found:
    by_key: Mapping[str, Printed] = {_clause_of(one.key): one for one in paras}
    stated = {name: one for one in paras for name in one.para.requirements}
    for first, second, clause in _BOTH_WAYS:
        one = _stating(first, stated)
        other = _stating(second, stated) if second else by_key.get(clause)
        if one is None or other is None:
            continue
        shared = set(_parapets(one, issue)) & set(_parapets(other, issue))
        if shared:
            yield other, f"specifies by performance what {one.place} prescribes"


def _stating(name: str, stated: Mapping[str, Printed]) -> Printed | None:
    return next((one for key, one in stated.items() if key.split("@")[0] == name), None)


def _parapets(one: Printed, issue: Specification) -> tuple[str, ...]:
    for name in one.para.requirements:
        return issue.assessment.requirements.by_id[name].parapets
    every = tuple(parapet.name for parapet in issue.assessment.project.parapets)
    found = tuple(name for name in every if named(name).search(one.text))
    return found or every
