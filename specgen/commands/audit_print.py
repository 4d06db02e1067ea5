"""What `specgen audit` prints: the table on the terminal, and the JSON file."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from specgen.audit.folders import visible
from specgen.audit.state import line_of
from specgen.audit.totals import Audit, BadRow, Counts, GroupRow, MonthRow, PersonRow, ProjectRow, counted
from specgen.commands.unusable import heading
from specgen.files.marks import problem_lines
from specgen.files.writing import Written
from specgen.model.plain import plain
from specgen.units.counted import many

MOST_RULES = 12  # of the rules with most projects, on the terminal
WIDEST = 48  # characters of a cell
HEAD = ("folder", "climate", "use", "as designed", "as accepted", "accepted papers")
ONLY_HERE = ("key", "inputs")  # of a line of the state file


def audit_text(audit: Audit) -> Iterator[str]:
    """The lines for a terminal."""
    rows = [_cells(one) for one in audit.projects]
    widths = [max(len(row[place]) for row in (HEAD, *rows)) for place in range(len(HEAD))]
    for row in (HEAD, *rows):
        yield "  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
    for one in audit.unusable:
        yield ""
        yield from problem_lines(one.problems)
    yield ""
    yield from _rules(audit)
    yield from _against(audit)
    yield from _bad(audit)
    yield from _months(audit)
    yield f"{many(len(audit.projects), 'project')}: as designed {_words(audit.counted('designed'))}; " + (
        f"as accepted {_words(audit.counted('accepted'))}; {len(audit.unusable)} with files that cannot be used."
    )


def _cells(one: ProjectRow) -> tuple[str, ...]:
    accepted = _words(one.accepted) if one.accepted is not None else ""
    if one.problems:
        accepted = "papers cannot be used" if one.designed is not None else "cannot be used"
    papers = []
    if one.papers:
        papers = [str(one.papers)]
        papers += [f"{one.brought} brought"] if one.brought else []
        papers += [f"{one.against} against"] if one.against else []
    designed = _words(one.designed) if one.designed is not None else ""
    cells = (one.path, one.climate, one.use, designed, accepted, ", ".join(papers))
    return tuple(_cut(visible(cell)) for cell in cells)


def _cut(words: str) -> str:
    return words if len(words) <= WIDEST else f"{words[: WIDEST - 1]}…"


def _words(counts: Counts | None) -> str:
    return ", ".join(words for _, words in counted(counts)) or "none"


def _rules(audit: Audit) -> Iterator[str]:
    found: dict[tuple[str, str, str], list[int]] = {}
    for one in audit.groups:
        sums = found.setdefault((one.code, one.severity, one.name), [0, 0])
        sums[0] += one.designed
        sums[1] += one.accepted
    most = sorted(found.items(), key=lambda item: (-max(item[1]), item[0]))[:MOST_RULES]
    for (code, severity, name), (designed, accepted) in most:
        yield f"{code} {severity} {name}: {designed} as designed, {accepted} as accepted"
    if most:
        yield ""


def _against(audit: Audit) -> Iterator[str]:
    for one in audit.papers:
        for product, title, _ in one.against:
            words = f"{one.path}: {product}, {title}; by {one.by} on {one.date}"
            yield f"accepted against a requirement: {visible(words)}"


def _bad(audit: Audit) -> Iterator[str]:
    for sought in audit.sought:
        rows = [one for one in audit.bad if (one.what, one.reason) == (sought.words, sought.reason)]
        paths = list(dict.fromkeys(one.path for one in rows))
        reason = f" ({sought.reason})" if sought.reason else ""
        found_in = f"in {many(len(paths), 'project')}: {', '.join(paths)}" if paths else "in no project"
        yield visible(f"bad: {sought.words}{reason} {found_in}")


def _months(audit: Audit) -> Iterator[str]:
    for one in audit.months:
        papers = f"{many(one.submittals, 'submittal')}, {many(one.substitutions, 'substitution')} accepted"
        yield f"{one.month}: {papers}; findings brought: {_words(one.brought)}; {one.against} against requirements"


@dataclass(frozen=True)
class AuditHead:
    """What stands in the JSON file above the projects."""

    folder: str
    since: date | None
    until: date | None
    designed: Counts
    accepted: Counts
    unusable: int
    groups: tuple[GroupRow, ...]
    months: tuple[MonthRow, ...]
    people: tuple[PersonRow, ...]
    bad: tuple[BadRow, ...]


def audit_bytes(audit: Audit, lines: Iterable[Mapping[str, Any]]) -> bytes:
    """The whole audit as JSON, one project a line; the same bytes for the same projects."""
    head = AuditHead(
        visible(audit.folder),
        audit.since,
        audit.until,
        audit.counted("designed"),
        audit.counted("accepted"),
        len(audit.unusable),
        audit.groups,
        audit.months,
        audit.people,
        audit.bad,
    )
    above = json.dumps({**heading("audit"), **plain(head)}, indent=1)
    projects = ",\n".join(
        line_of({name: value for name, value in line.items() if name not in ONLY_HERE}) for line in lines
    )
    return f'{above[:-2]},\n "projects": [\n{projects}\n]}}\n'.encode("ascii")


def with_files(whole: bytes, files: Written) -> bytes:
    """The audit as JSON for whoever started it: behind what stands in the file, what the run did in its folder."""
    done = json.dumps(plain(files), indent=1).encode("ascii")
    return whole.removesuffix(b"}\n") + b',\n "files": ' + done + b"}\n"
