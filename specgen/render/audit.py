"""The page of an audit: one HTML file without script; its filters are radio buttons that the style sheet reads."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from specgen.audit.totals import Audit, GroupRow, ProjectRow, counted
from specgen.model.folded import OPEN_WORDS
from specgen.render.page import page_template
from specgen.sections.cautions import cautions

MOST_CHOICES = 40  # of a filter: the values that most projects have
STANDING = (*OPEN_WORDS, "no finding", "cannot be used")
ACCEPTED = ("findings brought", "against requirements", "bad products")


@dataclass(frozen=True)
class Choice:
    """One radio button; rows that pass it carry its id as a class."""

    id: str
    words: str


@dataclass(frozen=True)
class Filter:
    """One row of radio buttons, and the class of the rows that it works on."""

    name: str
    title: str
    rows: str
    choices: tuple[Choice, ...]

    def ids(self, values: Iterable[str]) -> list[str]:
        """The classes of a row with these values."""
        known = {one.words: one.id for one in self.choices}
        return [known[value] for value in values if value in known]


def audit_page(audit: Audit) -> bytes:
    """The page of an audit.

    Returns:
        HTML in UTF-8, the same bytes for the same lines.
    """
    filters = _filters(audit)
    own = {one.path: _own_classes(one, filters) for one in audit.projects}
    chunks = page_template("audit/audit.html").generate(
        audit=audit,
        filters=[one for one in filters.values() if one.choices],
        classes={
            one.path: " ".join([*own[one.path], *filters["rule"].ids(one.codes)]) for one in audit.projects
        },
        finding_classes=lambda one: " ".join([*own[one.path], *filters["rule"].ids([one.code])]),
        group_classes=lambda one: _group_classes(one, filters),
        counted=counted,
        cautions=cautions(),
    )
    return b"".join(chunk.encode() for chunk in chunks).rstrip() + b"\n"


def _filters(audit: Audit) -> Mapping[str, Filter]:
    projects = audit.projects
    made = (
        ("standing", "Worst finding, as accepted", "p", STANDING),
        ("accepted", "Accepted", "p", ACCEPTED),
        ("climate", "Climate zone", "f", _usual(one.climate for one in projects)),
        ("use", "Building use", "f", _usual(one.use for one in projects)),
        ("rule", "Rule", "f", _usual(code for one in projects for code in one.codes)),
    )
    return {
        name: Filter(
            name,
            title,
            rows,
            tuple(Choice(f"{name}-{number}", words) for number, words in enumerate(choices)),
        )
        for name, title, rows, choices in made
    }


def _usual(values: Iterable[str]) -> list[str]:
    return sorted(
        value for value, _ in sorted(Counter(values).items(), key=lambda item: -item[1])[:MOST_CHOICES]
    )


def _own_classes(one: ProjectRow, filters: Mapping[str, Filter]) -> list[str]:
    """The classes of a project's rows, but for the rules."""
    accepted = [
        word for word, count in zip(ACCEPTED, (one.brought, one.against, one.bad), strict=True) if count
    ]
    ids = [
        *filters["standing"].ids([_standing(one)]),
        *filters["accepted"].ids(accepted),
        *filters["climate"].ids([one.climate]),
        *filters["use"].ids([one.use]),
    ]
    return ["p", "f", *ids]


def _standing(one: ProjectRow) -> str:
    if one.accepted is None:
        return STANDING[-1]
    return next((severity for severity in OPEN_WORDS if one.accepted.get(severity)), "no finding")


def _group_classes(one: GroupRow, filters: Mapping[str, Filter]) -> str:
    ids = [
        *filters["climate"].ids([one.climate]),
        *filters["use"].ids([one.use]),
        *filters["rule"].ids([one.code]),
    ]
    return " ".join(["f", *ids])
