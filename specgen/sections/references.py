"""The References article: the standards a section cites, and nothing else."""

from __future__ import annotations

import re
from collections.abc import Iterable

from specgen.practice.entries import Practice, Row
from specgen.sections.lines import FIRST_LEVEL, SectionError, SectionLine
from specgen.sections.numbers import designations_in


def cited(lines: Iterable[SectionLine]) -> tuple[str, ...]:
    """The designations in the text of a section and in the methods of the requirements it states, sorted."""
    found: dict[str, None] = {}
    for line in lines:
        method = line.requirement.method if line.requirement else ""
        found |= dict.fromkeys(designations_in(f"{line.text} {method}"))
    return tuple(sorted({base(name) for name in found}, key=_in_order))


def _in_order(name: str) -> list[tuple[str, int]]:
    """Letters by the alphabet, digits by their size: C926 before C1063."""
    return [(word, int(digits or 0)) for word, digits in re.findall(r"(\D*)(\d*)", name)]


def base(designation: str) -> str:
    """The designation without the edition of a code.

    >>> base("IBC 2021"), base("ASTM E96/E96M"), base("ASCE 7-16"), base("ASTM E2178-13(2020)")
    ('IBC', 'ASTM E96', 'ASCE 7', 'ASTM E2178')
    """
    name = designation.split("/")[0] if designation.startswith("ASTM") else designation
    if name.startswith(("IBC", "IEBC", "IRC", "IECC")):
        return name.split(" ")[0]
    return re.sub(r"(?<=\d)-(?:\d{4}|\d\d[a-z]?(?:\(\d{4}\))?)$", "", name)


def reference_lines(lines: tuple[SectionLine, ...], practice: Practice) -> tuple[SectionLine, ...]:
    """One paragraph for each standard the lines cite.

    Raises:
        SectionError: a cited standard has no row in the practice table ``standards``.
    """
    rows: dict[str, Row] = {}
    for row in practice.table("standards").rows:
        rows.setdefault(str(row["designation"]), row)  # titles of other editions come after that of today
    out = []
    for name in cited(lines):
        if name not in rows:
            raise SectionError(f"{name} is cited and has no row in practice table `standards`")
        edition = practice.editions.get(name)
        words = f"{edition.of(name) if edition else name}, {rows[name]['title']} ({rows[name]['publisher']})."
        out.append(SectionLine(FIRST_LEVEL, "reference", f"reference {name}", words))
    return tuple(out)
