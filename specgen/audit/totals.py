"""The lines of an audit taken together: projects, findings, accepted papers, bad products, months."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from specgen.audit.folders import visible
from specgen.model.bad import BadProduct, plain_name
from specgen.model.finding import Outcome, Severity, count_words
from specgen.model.folded import OPEN_WORDS

Line = Mapping[str, Any]
Counts = Mapping[str, int]
FAILED = (Severity.DEFECT.value, Severity.RISK.value)
OPEN = (Outcome.UNKNOWN.value, Outcome.NOT_COVERED.value)
UNSTATED = "not stated"
HERE = "."  # the audited folder, where it is itself a project
MOST_EMPTY_MONTHS = 240  # months without an accepted paper are told up to this many in all


@dataclass(frozen=True, slots=True)
class ProjectRow:
    """One project. ``designed`` is None where its file cannot be used, ``accepted`` where the papers cannot."""

    path: str
    title: str
    climate: str
    use: str
    designed: Counts | None
    accepted: Counts | None
    codes: tuple[str, ...]  # of the rules with a finding, as designed or as accepted
    papers: int
    brought: int
    against: int
    bad: int
    problems: tuple[str, ...]
    status: (
        int  # as `check` of the wall as accepted would leave; 2 for files that cannot be used, 70 for a fault
    )


@dataclass(frozen=True, slots=True)
class FindingRow:
    """One finding of one project."""

    path: str
    climate: str
    use: str
    code: str
    name: str
    severity: str
    designed: bool
    accepted: bool | None  # None where the papers cannot be put into the wall
    parapets: str
    message: str
    place: str

    @property
    def failed(self) -> bool:
        """Whether a defect or a risk stands in the wall as accepted, or as designed where the papers cannot be used."""
        return self.accepted is not False and self.severity in FAILED

    @property
    def open(self) -> bool:
        """Whether something that is needed to judge the same wall is unknown."""
        return self.accepted is not False and self.severity in OPEN


@dataclass(frozen=True, slots=True)
class PaperRow:
    """One accepted paper."""

    path: str
    paper: str
    file: str
    number: str
    date: date
    by: str
    result: str
    note: str
    products: str
    brings: tuple[str, ...]  # code and severity, as "WB01 defect"
    closes: int
    unproven: int
    against: tuple[tuple[str, str, str], ...]  # product, requirement, reason

    @property
    def failed(self) -> bool:
        """Whether a requirement was failed by what was accepted."""
        return bool(self.against)

    @property
    def open(self) -> bool:
        """Whether what was accepted leaves a requirement unproven."""
        return bool(self.unproven)


@dataclass(frozen=True, slots=True)
class BadRow:
    """A bad product in a wall."""

    path: str
    what: str
    reason: str
    part: str
    product: str
    file: str
    by: str
    date: date | None
    parapets: str


@dataclass(frozen=True, slots=True)
class GroupRow:
    """How many projects have a finding of one rule, in one climate and one use."""

    code: str
    name: str
    severity: str
    climate: str
    use: str
    designed: int
    accepted: int


@dataclass(frozen=True, slots=True)
class MonthRow:
    """What one month accepted, and the findings that came with it."""

    month: str  # 2026-11
    submittals: int
    substitutions: int
    projects: int
    brought: Counts
    against: int


@dataclass(frozen=True, slots=True)
class PersonRow:
    """What one person accepted."""

    by: str
    papers: int
    against: int
    brought: int


@dataclass(frozen=True)
class Audit:
    """Everything that the papers of an audit print, in the order of the paths."""

    folder: str
    projects: tuple[ProjectRow, ...]
    findings: tuple[FindingRow, ...]
    papers: tuple[PaperRow, ...]
    bad: tuple[BadRow, ...]
    sought: tuple[BadProduct, ...]
    groups: tuple[GroupRow, ...]
    months: tuple[MonthRow, ...]
    people: tuple[PersonRow, ...]
    since: date | None
    until: date | None

    @property
    def unusable(self) -> tuple[ProjectRow, ...]:
        """The projects with problems."""
        return tuple(one for one in self.projects if one.problems)

    def counted(self, state: str) -> dict[str, int]:
        """Findings of all projects by severity, ``designed`` or ``accepted``."""
        found = Counter(one.severity for one in self.findings if getattr(one, state))
        return {severity: found[severity] for severity in OPEN_WORDS}


def counted(counts: Counts | None) -> list[tuple[str, str]]:
    """Counts in words with their severity, what is zero left out.

    >>> counted({"defect": 2, "query": 1})
    [('defect', '2 defects'), ('query', '1 query')]
    """
    found = []
    for severity in OPEN_WORDS:
        count = (counts or {}).get(severity, 0)
        if count:
            found.append((severity, count_words(count, severity)))
    return found


@dataclass
class _Sum:
    projects: list[ProjectRow] = field(default_factory=list)
    findings: list[FindingRow] = field(default_factory=list)
    papers: list[PaperRow] = field(default_factory=list)
    bad: list[BadRow] = field(default_factory=list)


def audit_of(
    folder: str,
    lines: Iterable[Line],
    sought: Sequence[BadProduct] = (),
    since: date | None = None,
    until: date | None = None,
) -> Audit:
    """The lines of the projects taken together.

    Args:
        folder: how the audited folder is told.
        lines: one a project, in the order of the paths; each is let go when it is read.
        sought: products now known to be bad.
        since: the first day of the trend; None for the first paper's.
        until: the last day of the trend; None for the last paper's.
    """
    totals = _Sum()
    for line in lines:
        _add(totals, line, sought)
    return Audit(
        folder=folder,
        projects=tuple(totals.projects),
        findings=tuple(totals.findings),
        papers=tuple(totals.papers),
        bad=tuple(totals.bad),
        sought=tuple(sought),
        groups=tuple(_groups(totals.findings)),
        months=tuple(_months(totals.papers, since, until)),
        people=tuple(_people(totals.papers)),
        since=since,
        until=until,
    )


def _add(totals: _Sum, line: Line, sought: Sequence[BadProduct]) -> None:
    path = visible(line["path"]) or HERE
    climate, use = line.get("climate") or UNSTATED, line.get("use") or UNSTATED
    findings = list(_findings(line, path, climate, use))
    papers = [_paper(one, path) for one in line.get("papers") or ()]
    bad = list(_bad(line, path, sought))
    totals.projects.append(
        ProjectRow(
            path,
            f"{line.get('number', '')} {line.get('name', '')}".strip(),
            climate,
            use,
            _counts(line.get("designed")),
            _counts(line.get("accepted")),
            tuple(sorted({one.code for one in findings})),
            len(papers),
            sum(len(one.brings) for one in papers),
            sum(len(one.against) for one in papers),
            len(bad),
            tuple(_problem_words(one) for one in line["problems"]),
            line["status"],
        )
    )
    totals.findings += findings
    totals.papers += papers
    totals.bad += bad


def _problem_words(problem: Mapping[str, str]) -> str:
    fix = f" Fix: {problem['fix']}." if problem["fix"] else ""
    return visible(f"{problem['place']}: {problem['message']}.{fix}")


def _counts(rows: Sequence[Line] | None) -> Counts | None:
    if rows is None:
        return None
    found = Counter(row["severity"] for row in rows)
    return {severity: found[severity] for severity in OPEN_WORDS if found[severity]}


def _findings(line: Line, path: str, climate: str, use: str) -> Iterator[FindingRow]:
    designed, accepted = line.get("designed") or (), line.get("accepted")
    rows: dict[tuple[object, ...], list[Any]] = {}
    for state, given in enumerate((designed, accepted or ())):
        before: Counter[tuple[str, ...]] = Counter()  # the same words may stand of two places of one parapet
        for row in given:
            key = (row["code"], row["severity"], row["layer"], row["message"])
            rows.setdefault((*key, before[key]), [row, False, False])[1 + state] = True
            before[key] += 1
    for row, one, other in rows.values():
        yield FindingRow(
            path,
            climate,
            use,
            row["code"],
            row["name"],
            row["severity"],
            one,
            None if accepted is None else other,
            ", ".join(row["parapets"]),
            row["message"],
            visible(row["place"]),
        )


def _paper(one: Line, path: str) -> PaperRow:
    proposed = [f"{product['name']} ({product['role']})" for product in one["products"]]
    return PaperRow(
        path,
        one["paper"],
        one["file"],
        one["number"],
        date.fromisoformat(one["date"]),
        one["by"],
        one["result"],
        one["note"],
        "; ".join([*proposed, *one["changes"]]),
        tuple(f"{row['code']} {row['severity']}" for row in one["brings"]),
        len(one["closes"]),
        one["unproven"],
        tuple((row["product"], row["title"], row["reason"]) for row in one["against"]),
    )


def _bad(line: Line, path: str, sought: Iterable[BadProduct]) -> Iterator[BadRow]:
    papers = {one["file"]: one for one in line.get("papers") or ()}
    for one in sought:
        for part in line.get("parts") or ():
            if not _is(one, part):
                continue
            paper = papers.get(part["file"])
            yield BadRow(
                path,
                one.words,
                one.reason,
                f"{part['role']}: {part['kind']}",
                part["product"],
                part["file"],
                paper["by"] if paper else "",
                date.fromisoformat(paper["date"]) if paper else None,
                ", ".join(part["parapets"]),
            )


def _is(one: BadProduct, part: Line) -> bool:
    return (
        (not one.name or plain_name(one.name) == plain_name(part["product"]))
        and one.role in ("", part["role"])
        and one.kind in ("", part["kind"])
        and all(part["values"].get(name) == token for name, token in one.values)
    )


def _groups(findings: Iterable[FindingRow]) -> Iterator[GroupRow]:
    names: dict[str, str] = {}
    found: dict[tuple[str, str, str, str], tuple[set[str], set[str]]] = {}
    for one in findings:
        names[one.code] = one.name
        sets = found.setdefault((one.code, one.severity, one.climate, one.use), (set(), set()))
        for stands, projects in zip((one.designed, one.accepted), sets, strict=True):
            if stands:
                projects.add(one.path)
    for (code, severity, climate, use), (designed, accepted) in sorted(found.items()):
        yield GroupRow(code, names[code], severity, climate, use, len(designed), len(accepted))


def _months(papers: Iterable[PaperRow], since: date | None, until: date | None) -> Iterator[MonthRow]:
    found: dict[str, list[PaperRow]] = {}
    for one in papers:
        if (since is None or one.date >= since) and (until is None or one.date <= until):
            found.setdefault(one.date.isoformat()[:7], []).append(one)
    for month in _calendar(found, since, until):
        rows = found.get(month, [])
        brought = Counter(words.partition(" ")[2] for one in rows for words in one.brings)
        yield MonthRow(
            month,
            sum(one.paper == "submittal" for one in rows),
            sum(one.paper == "substitution" for one in rows),
            len({one.path for one in rows}),
            {severity: brought[severity] for severity in OPEN_WORDS},
            sum(len(one.against) for one in rows),
        )


def _calendar(found: Iterable[str], since: date | None, until: date | None) -> list[str]:
    """Every month from the first to the last, or those with a paper where they lie too far apart."""
    with_papers = sorted(found)
    ends = [*(day.isoformat()[:7] for day in (since, until) if day), *with_papers]
    if not ends:
        return []
    first, last = (int(month[:-3]) * 12 + int(month[-2:]) - 1 for month in (min(ends), max(ends)))
    if last - first >= MOST_EMPTY_MONTHS:
        return with_papers
    return [f"{number // 12:04}-{number % 12 + 1:02}" for number in range(first, last + 1)]


def _people(papers: Iterable[PaperRow]) -> Iterator[PersonRow]:
    found: dict[str, list[PaperRow]] = {}
    for one in papers:
        found.setdefault(one.by, []).append(one)
    for by, rows in sorted(found.items()):
        yield PersonRow(
            by, len(rows), sum(len(one.against) for one in rows), sum(len(one.brings) for one in rows)
        )
