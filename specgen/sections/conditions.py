"""On which input values it rests whether a section or a paragraph stands in a specification, and what a drawing shows."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from functools import partial

from specgen.assessment import Assessment
from specgen.model.project import PLACES, Parapet, Project
from specgen.model.reading import READER, WHOLE, Read, Reader
from specgen.requirements.catalogue_file import load_catalogue
from specgen.requirements.derive import limits_at
from specgen.sections.clause import Clause, ClauseBook
from specgen.sections.inputs import InputValue, owners
from specgen.sections.lines import LineMaker
from specgen.wall.place import Place

Names = frozenset[str]  # of input values


def conditions(
    assessment: Assessment, book: ClauseBook, stated: Container[str]
) -> dict[str, tuple[str, ...]]:
    """The input values that were asked for each condition, whether it held or not.

    Args:
        assessment: the project that the conditions are about.
        book: the clauses with their conditions.
        stated: the names of the values that the project states; others are left out.

    Returns:
        Names of input values by number of a section, by number and key of a clause that stands on a condition of its own
        or of one above it, and by "requirement" and name of an entry of the catalogue.
    """
    project, practice = assessment.with_hours_that_hold, assessment.practice
    maker = LineMaker(project, assessment.requirements, practice, book)
    asked = _Asked(project)
    places = [Place(project, one, practice, assessment.calculations[one.name]) for one in project.parapets]
    found: dict[str, Names] = {
        f"requirement {entry.name}": asked.by(lambda entry=entry: [limits_at(entry, at) for at in places])  # type: ignore[misc]
        for entry in load_catalogue()
    }
    for section in book.sections:  # first, for a paragraph may ask whether a section is issued
        found[section.number] = asked.by(partial(maker.applies_at, section))
    for section in book.sections:
        for article in section.articles():
            inside: dict[str, Names] = {}
            for clause in article.clauses:
                inside |= _below(clause, section.number, frozenset(), found, maker, asked)
            found |= inside | {f"{section.number} {article.key}": frozenset().union(*inside.values())}
    named_by = {key: tuple(sorted(name for name in names if name in stated)) for key, names in found.items()}
    return {key: names for key, names in named_by.items() if names}


def _below(
    clause: Clause, number: str, above: Names, known: Mapping[str, Names], maker: LineMaker, asked: _Asked
) -> dict[str, Names]:
    """What a clause and those under it stand on."""
    above |= known.get(f"requirement {clause.states}", frozenset())
    if (when := clause.when) is not None:
        above |= asked.by(lambda: [when.holds(context) for context in maker.places.values()])
        for call in when.calls:
            word = {"issued": "{}", "stated": "requirement {}"}.get(call.function, "")
            above |= known.get(word.format(*call.words), frozenset())
    found = {f"{number} {clause.key}": above}
    for sub in clause.sub:
        found |= _below(sub, number, above, known, maker, asked)
    return found


class _Asked:
    """Which input values are asked for by a piece of work."""

    def __init__(self, project: Project) -> None:
        self._values: dict[int, tuple[str, ...]] = {}
        self._parapets = {id(one): one for one in project.parapets}
        for owner, record in owners(project):
            held = id(record.values)
            self._values[held] = (*self._values.get(held, ()), owner)

    def by(self, work: Callable[[], object]) -> Names:
        """The names of what was asked for while it was at work."""
        reader = Reader()
        reader.reads, reader.asked = set(), {}
        token = READER.set(reader)
        try:
            work()
        finally:
            READER.reset(token)
        return frozenset(name for one in reader.reads for name in self._names(one))

    def _names(self, read: Read) -> Iterator[str]:
        held, what = read
        if held in self._values and what is not WHOLE:
            yield from (f"{owner}: {what}" for owner in self._values[held])
        elif held in self._parapets:
            yield from _of_parapet(self._parapets[held], what)


def _of_parapet(parapet: Parapet, what: object) -> Iterator[str]:
    """Which kinds stand in a parapet answers which of a role, of an id or of a list there are."""
    at = f"parapet {parapet.name}"
    match what:
        case ("field", str(name)) if name in PLACES:
            for number, record in enumerate(getattr(parapet, name), start=1):
                yield from (f"{at}, {name} {number}: {key}" for key in record.values)
        case ("field", "existing"):
            yield f"{at}: existing"
        case ("field", _):
            yield from (f"{at}, {part.id}: kind" for part in parapet.components())
        case ("id", str(known)):
            yield f"{at}, {known}: kind"
        case str(role):
            yield from (f"{at}, {part.id}: kind" for part in parapet.components() if part.role == role)


def shown(inputs: Iterable[InputValue], parapet: str) -> tuple[str, ...]:
    """The input values that the drawings of a parapet may show: its own, and those of the work as a whole."""
    at = f"parapet {parapet}"
    return tuple(
        one.name
        for one in inputs
        if not one.name.startswith("parapet ") or one.name.startswith((f"{at}:", f"{at},"))
    )
