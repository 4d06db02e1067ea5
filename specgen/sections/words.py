"""A limit in the words of the specification, in the project's language of units."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date

from specgen.model.project import Value
from specgen.model.requirement import Comparison, Limit, Requirement
from specgen.model.source import Source
from specgen.practice.entries import Practice, Vocabulary
from specgen.units.quantity import Quantity
from specgen.units.show import show_beside, show_limit
from specgen.wall.paper_words import PaperWords

_BEFORE = {"at least": "at least ", "at most": "not more than ", "is": "", "one of": "", "includes": ""}


def joined(words: Iterable[str], last: str) -> str:
    """Words in a list.

    >>> joined(["P-1", "P-2", "P-3"], "and"), joined(["TPO", "PVC"], "or")
    ('P-1, P-2, and P-3', 'TPO or PVC')
    """
    items = list(words)
    if len(items) < 3:
        return f" {last} ".join(items)
    return ", ".join(items[:-1]) + f", {last} {items[-1]}"


def without_keys(message: str, vocabulary: Vocabulary) -> str:
    """A message for people who do not know the project file: the title of each key that it names in backticks.

    Args:
        message: of a finding.
        vocabulary: has the titles; what is no key of it loses its backticks alone.
    """
    return PaperWords(vocabulary).without_marks(message)


def without_file(remedy: str) -> str:
    """A remedy for people who do not have the project file: without the sentences that say what to write into it.

    >>> without_file("Ask the structural engineer. Record who answers: `designed_by`.")
    'Ask the structural engineer.'
    """
    sentences = re.split(r"(?<=\.) (?=[A-Z])", remedy)
    return " ".join(one for one in sentences if "`" not in one)


def named_sources(sources: Iterable[Source]) -> str:
    """Sources by document, edition and place, each once."""
    return "; ".join(dict.fromkeys(source.named for source in sources))


def capital(words: str) -> str:
    """Words with a capital letter at their head."""
    return words[:1].upper() + words[1:]


def sentence(words: str) -> str:
    """Words as a sentence, with one full stop; nothing stays nothing.

    >>> sentence("submit a test report"), sentence("Done."), sentence("is this meant?"), sentence("")
    ('Submit a test report.', 'Done.', 'Is this meant?', '')
    """
    return capital(words).rstrip(".") + ("" if words.endswith("?") else ".") if words else ""


def parapets_in_words(names: tuple[str, ...]) -> str:
    """``at parapet P-1``, ``at parapets P-1 and P-2``."""
    return f"at parapet{'s' if len(names) > 1 else ''} {joined(names, 'and')}"


def value_words(value: Value, comparison: Comparison, system: str) -> str:
    """One value of a limit as printed."""
    match value:
        case Quantity():
            return show_limit(value, comparison, system)
        case bool():
            return "yes" if value else "no"
        case tuple():
            return joined(value, "or" if comparison == "one of" else "and")
        case date():
            return value.isoformat()
        case _:
            return str(value)


def limit_words(limit: Limit, system: str) -> str:
    """A limit in words.

    >>> from specgen.units.quantity import parse
    >>> limit_words(Limit("at least", parse("3/16 in")), "both")
    'at least 3/16 in (5 mm)'
    >>> limit_words(Limit("one of", ("fully adhered", "fluid-applied")), "inch-pound")
    'fully adhered or fluid-applied'
    """
    return _BEFORE[limit.comparison] + value_words(limit.stated, limit.comparison, system)


def calculation_words(requirement: Requirement) -> str:
    """The calculation that sets a requirement or asks for it, as a sentence; "" where none does.

    >>> from specgen.model.requirement import Origin
    >>> from specgen.model.source import Source, Status
    >>> from specgen.units.quantity import parse
    >>> calculation_words(Requirement(
    ...     "coping.joint_gap", "coping.joint_gap", "coping", "joint_gap", "joint gap",
    ...     Limit("at least", parse("1/4 in")), "", "", "", "installation", "shop drawing", "07 71 00", ("P-1",),
    ...     True, Origin("calculation", "coping movement.joint_gap",
    ...                  Source("calculation: Thermal movement of the coping", "", "", Status.CALCULATED))))
    'Basis: the calculation “Thermal movement of the coping”.'
    """
    if requirement.origin.kind == "calculation":
        title = requirement.origin.source.document.removeprefix("calculation: ")
        return f"Basis: the calculation “{title}”."
    if requirement.because:
        subject = requirement.because.removeprefix("calculation ").rpartition(".")[0]
        parts = [part for weighing in requirement.weighings for part in weighing.parts]
        asked = (part for part in parts if part.key.startswith(f"{subject}."))
        titles = [part.source.document.removeprefix("calculation: ") for part in asked]
        return f"Basis: the calculation “{(titles or [subject])[0]}”."
    return ""


def requirement_words(
    requirement: Requirement, practice: Practice, system: str, beside: Quantity | None = None
) -> str:
    """The limit of a requirement in words: a generic kind by its title, a test condition behind the value.

    Printed ``beside`` a value, the limit as it was set follows where the printed number alone would tell otherwise.
    """
    limit = requirement.limit
    if requirement.attribute == "kind" and isinstance(limit.value, str):
        return practice.kind(requirement.role, limit.value).title
    words = limit_words(limit, system)
    if beside is not None and isinstance(limit.stated, Quantity):
        words = _BEFORE[limit.comparison] + show_beside(beside, limit.comparison, limit.stated, system)[1]
    if requirement.condition and isinstance(limit.value, Quantity) and limit.value.condition is None:
        words += f" at {requirement.condition}"
    return words
