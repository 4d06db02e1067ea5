"""A rule of thumb and a calculation on one matter: what each says, and which governs."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from specgen.model.calculation import AT_LIMIT, Calculation
from specgen.model.project import Value
from specgen.model.requirement import Origin, Weighed, Weighing
from specgen.model.source import Source, Status
from specgen.requirements.catalogue_file import Beside, CatalogueEntry
from specgen.units.quantity import Quantity
from specgen.units.show import show, show_limit
from specgen.wall.place import Place

KEY = re.compile(r"[a-z ]+\.[a-z_]+")  # site.wind_speed, drainage layer.depth
RULE_WORDS = {Status.CODE: "code", Status.STANDARD: "standard"}


def weighing(
    entry: CatalogueEntry, place: Place, candidates: tuple[tuple[Value, Origin], ...], governing: Origin
) -> Weighing | None:
    """What rule, project and calculation say of one requirement at one parapet.

    Args:
        entry: the catalogue entry; its origins and what it names as ``beside``.
        place: the parapet with its calculations.
        candidates: the limits that were found, with their origins.
        governing: the origin of the limit that governs.

    Returns:
        The weighing; None where no calculation is on this matter.
    """
    silent = list(_silent(entry, place))
    if not entry.beside and not silent and all(origin.kind != "calculation" for _, origin in candidates):
        return None
    system = place.project.system
    parts = [
        Weighed(
            origin.kind,
            _key(origin),
            _what(origin),
            _limit_words(entry, value, system) + _on_limits(origin, place),
            origin.source,
        )
        for value, origin in candidates
    ]
    if entry.beside:
        aside = [weighed for one in entry.beside if (weighed := _beside(one, place, system))]
        governs = "; ".join(dict.fromkeys(one.governs for one in entry.beside))
        if not any(_done(one, place) for one in entry.beside):
            governs = f"{_which(governing)} governs, the calculation has no result"
        return Weighing((place.parapet.name,), (*parts, *silent, *aside), governs) if aside else None
    return Weighing((place.parapet.name,), (*parts, *silent), _governs(entry, parts, silent, governing))


def of_rule(place: Place, key: str, statement: str, beside: Beside) -> tuple[str, ...]:
    """Rule and calculation for a matter that is no requirement, as a fact behind a finding; empty without either.

    Args:
        place: the parapet.
        key: practice key of the rule.
        statement: what the rule asks for.
        beside: the calculation's result, its words, and which governs where it has a result.
    """
    system = place.project.system
    aside = _beside(beside, place, system)
    if aside is None:
        return ()
    origin = Origin("practice", key, place.practice.source(key))
    rule = Weighed("practice", key, _what(origin), statement, origin.source)
    governs = (
        beside.governs if _done(beside, place) else f"the {rule.what} governs, the calculation has no result"
    )
    return (str(Weighing((place.parapet.name,), (rule, aside), governs)),)


def merged(weighings: Iterable[Weighing | None]) -> tuple[Weighing, ...]:
    """Weighings of several parapets; those that say the same are one."""
    same: dict[tuple[tuple[Weighed, ...], str], list[str]] = {}
    for one in weighings:
        if one is not None:
            same.setdefault((one.parts, one.governs), []).extend(one.parapets)
    return tuple(Weighing(tuple(dict.fromkeys(parapets)), *rest) for rest, parapets in same.items())


def _governs(entry: CatalogueEntry, parts: list[Weighed], silent: list[Weighed], governing: Origin) -> str:
    which = _which(governing)
    if not any(part.kind == "calculation" for part in parts):
        return f"{which} governs, the calculation gives no limit"
    if len(parts) == 1:
        return f"{which} governs, no rule of thumb gives a number here"
    if entry.calculation_governs and governing.kind == "calculation":
        return f"{which} governs: it is made for this wall, and the rule of thumb stands in where it has no result"
    return f"{which} governs: no other is stricter"


def _on_limits(origin: Origin, place: Place) -> str:
    """What is to be said of a result that was calculated with limits in place of values that nobody stated."""
    of = place.calculations.get(origin.key.rpartition(".")[0]) if origin.kind == "calculation" else None
    return f", with each {AT_LIMIT} where nothing is stated" if of is not None and of.on_limits else ""


def _which(governing: Origin) -> str:
    return "the project's own value" if governing.kind == "choice" else f"the {_what(governing)}"


def _done(one: Beside, place: Place) -> bool:
    calculation = place.calculations.get(one.result.rpartition(".")[0])
    return calculation is not None and calculation.done


def _silent(entry: CatalogueEntry, place: Place) -> Iterator[Weighed]:
    """The calculations among the origins that give no limit here."""
    for origin in entry.origins:
        word, _, rest = origin.partition(" ")
        subject = rest.rpartition(".")[0]
        calculation = place.calculations.get(subject) if word == "calculation" else None
        if calculation is None:
            continue
        value = calculation.results[rest.rpartition(".")[2]].value if calculation.done else None
        if not isinstance(value, Quantity):  # a word where the calculation sets no limit
            statement = value if value is not None else _missing(calculation)
            yield Weighed("calculation", rest, "calculation", statement, calculated(calculation, rest))


def _beside(one: Beside, place: Place, system: str) -> Weighed | None:
    subject, name = one.result.rsplit(".", 1)
    calculation = place.calculations.get(subject)
    if calculation is None:
        return None
    if calculation.done:
        value = calculation.results[name].value
        statement = f"{one.says} {show(value, system) if isinstance(value, Quantity) else value}"
    else:
        statement = _missing(calculation)
    return Weighed("calculation", one.result, "calculation", statement, calculated(calculation, one.result))


def calculated(calculation: Calculation, result: str) -> Source:
    """The source that a calculation's result is."""
    return Source(f"calculation: {calculation.title}", "", result, Status.CALCULATED)


def _missing(calculation: Calculation) -> str:
    wanted = [reason.partition(": ")[0] for reason in calculation.missing]
    if all(KEY.fullmatch(word) for word in wanted):
        return f"no result, missing {', '.join(wanted)}"
    return f"no result, {'; '.join(calculation.missing)}"


def _key(origin: Origin) -> str:
    return origin.source.document if origin.kind == "choice" else origin.key


def _what(origin: Origin) -> str:
    if origin.kind == "practice":
        return RULE_WORDS.get(origin.source.status, "rule of thumb")
    return {"calculation": "calculation", "choice": "stated in"}[origin.kind]


def _limit_words(entry: CatalogueEntry, value: Value, system: str) -> str:
    words = show_limit(value, entry.comparison, system) if isinstance(value, Quantity) else str(value)
    return f"{entry.comparison} {words}"
