"""One project of an audit as plain data: its findings as designed and as accepted, and what was accepted."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from specgen.assessment import Assessment
from specgen.audit.lines import (
    AgainstLine,
    FindingLine,
    HeldLine,
    PaperFacts,
    PaperLine,
    PartLine,
    ProblemLine,
    ProjectFacts,
    ProjectRecord,
)
from specgen.explain.bench import Bench
from specgen.files.marks import InputProblem, Mark
from specgen.model.accepted import Acceptance
from specgen.model.bad import token
from specgen.model.finding import Finding
from specgen.model.folded import folded
from specgen.model.project import Component, Parapet, Project
from specgen.model.submission import Product, Result, Submission
from specgen.review.judge import review
from specgen.review.wall import Change, wall_effects

OPEN = (Result.NOT_STATED, Result.OTHER_METHOD, Result.CONFIRM, Result.NOT_PROVEN)
AGAINST = (Result.FAILS, Result.UNREADABLE)


@dataclass(frozen=True)
class Step:
    """One accepted paper, and the project with it and everything accepted before it."""

    acceptance: Acceptance
    submission: Submission  # of a substitution: its products
    changes: tuple[str, ...]  # of the assembly, as ``path=value``
    project: Project


@dataclass(frozen=True)
class Placed:
    """A product that stands in the wall as accepted."""

    product: Product
    file: str


def place_words(mark: Mark, root: str) -> str:
    """A place with the file's path from the folder that is audited, the same on every machine."""
    return str(mark).removeprefix(root.rstrip("/") + "/")


def problem_rows(problems: Iterable[InputProblem], root: str) -> list[ProblemLine]:
    """Problems of a file as plain data."""
    return [
        {"place": place_words(one.mark, root), "message": one.message.replace(f"{root}/", ""), "fix": one.fix}
        for one in problems
    ]


def facts(project: Project) -> ProjectFacts:
    """What projects are told apart and grouped by."""
    return {
        "number": project.info.word("number") or "",
        "name": project.info.word("name") or "",
        "climate": str(project.site.values.get("climate_zone", "")),
        "use": project.building.word("use") or "",
        "parapets": len(project.parapets),
    }


def finding_rows(findings: Iterable[Finding], root: str) -> list[FindingLine]:
    """The findings that someone must act on; one row for the same words at several parapets."""
    return [
        {
            "code": one.finding.code,
            "name": one.finding.name,
            "severity": one.finding.word,
            "layer": one.finding.layer,
            "message": one.finding.message,
            "missing": "; ".join(one.missing),
            "place": place_words(one.finding.mark, root),
            "parapets": list(one.parapets),
        }
        for one in folded(finding for finding in findings if finding.counts)
    ]


def accepted_rows(assessment: Assessment, steps: Sequence[Step], root: str) -> list[PaperLine]:
    """Each accepted paper: who accepted what, against which requirement, and the findings that came with it.

    Papers are weighed in the order of their dates, each in the wall with all that were accepted before it. A
    finding belongs to the first paper with which it stands.

    Args:
        assessment: the project as designed.
        steps: what was accepted, by date.
        root: the folder that is audited, cut off from places.
    """
    bench = Bench(assessment, stated_only=True)
    before: tuple[list[FindingLine], list[FindingLine]] = ([], [])
    rows: list[PaperLine] = []
    for step in steps:
        change = Change(step.acceptance.file, lambda _, project=step.project: project)  # type: ignore[misc]
        effects = wall_effects(bench, [change])
        worse = finding_rows((finding for one in effects for finding in one.worse), root)
        gone = finding_rows((finding for one in effects for finding in one.effect.closes), root)
        rows.append(
            {
                **_paper(step),
                **_held(step, assessment),
                "brings": _new(worse, before[0]),
                "closes": [*_new(gone, before[1]), *_new(before[0], worse)],
            }
        )
        before = (worse, gone)
    return rows


def _paper(step: Step) -> PaperFacts:
    one = step.acceptance
    return {
        "paper": one.paper,
        "file": one.file,
        "number": step.submission.info.word("number") or "",
        "date": one.date.isoformat(),
        "by": one.word("by") or "",
        "result": one.word("result") or "",
        "note": one.word("note") or "",
        "products": [
            {"role": product.role, "kind": product.kind, "name": product.name}
            for product in step.submission.products
        ],
        "changes": list(step.changes),
    }


def _new(rows: Sequence[FindingLine], known: Sequence[FindingLine]) -> list[FindingLine]:
    """The rows that the other list does not hold at the same parapets.

    A finding that only says another number than before is not new: of each rule at each place as many are new as
    there are more than before.
    """
    stood = _messages(known)
    room = {place: len(messages) - len(stood.get(place, ())) for place, messages in _messages(rows).items()}
    found: list[FindingLine] = []
    for row in rows:
        parapets = []
        for parapet in row["parapets"]:
            place = _place(row, parapet)
            if row["message"] not in stood.get(place, ()) and room[place] > 0:
                room[place] -= 1
                parapets.append(parapet)
        if parapets:
            found.append({**row, "parapets": parapets})
    return found


def _place(row: FindingLine, parapet: str) -> tuple[str, ...]:
    return row["code"], row["severity"], row["layer"], parapet


def _messages(rows: Iterable[FindingLine]) -> dict[tuple[str, ...], list[str]]:
    found: dict[tuple[str, ...], list[str]] = {}
    for row in rows:
        for parapet in row["parapets"]:
            found.setdefault(_place(row, parapet), []).append(row["message"])
    return found


def _held(step: Step, assessment: Assessment) -> HeldLine:
    """The requirements, as designed, that an accepted product fails, and how many it leaves unproven."""
    reviews = review(step.submission, assessment.requirements, {}, assessment.practice, assessment.system)
    against: dict[tuple[str, str, str], AgainstLine] = {}  # one row for several parapets
    unproven = 0
    for one in reviews:
        for verdict in one.verdicts:
            unproven += verdict.result in OPEN
            if verdict.result in AGAINST:
                row: AgainstLine = {
                    "product": one.product.name,
                    "requirement": verdict.requirement.id,
                    "title": verdict.requirement.title,
                    "submitted": verdict.submitted,
                    "reason": verdict.reason,
                }
                against.setdefault((one.product.name, verdict.requirement.title, verdict.reason), row)
    return {"against": list(against.values()), "unproven": unproven}


def part_rows(project: Project, steps: Sequence[Step]) -> list[PartLine]:
    """The parts of the walls with their accepted products; alike parts of several parapets in one row."""
    placed = _placed(steps)
    rows: dict[tuple[object, ...], PartLine] = {}
    for parapet in project.parapets:
        for part in parapet.components():
            product = _product_of(part, placed.get((parapet.name, part.role)))
            values = {
                name: token(value) for name, value in part.values.items() if name not in ("role", "kind")
            }
            name, file = (product.product.name, product.file) if product else ("", "")
            key = (part.role, part.kind, name, file, *sorted(values.items()))
            row = rows.setdefault(
                key,
                {
                    "role": part.role,
                    "kind": part.kind,
                    "product": name,
                    "file": file,
                    "values": values,
                    "parapets": [],
                },
            )
            if parapet.name not in row["parapets"]:
                row["parapets"].append(parapet.name)
    return list(rows.values())


def _placed(steps: Iterable[Step]) -> dict[tuple[str, str], Placed]:
    """The product accepted last, by parapet and role."""
    found: dict[tuple[str, str], Placed] = {}
    for step in steps:
        for product in step.submission.products:
            for parapet in step.project.parapets:
                if _goes(product, parapet):
                    found[parapet.name, product.role] = Placed(product, step.acceptance.file)
    return found


def _goes(product: Product, parapet: Parapet) -> bool:
    return not product.parapets or parapet.name in product.parapets


def _product_of(part: Component, placed: Placed | None) -> Placed | None:
    """The product, unless a later paper put another kind in its place."""
    return placed if placed and placed.product.kind in ("", part.kind) else None


def record(
    designed: Assessment,
    steps: Sequence[Step],
    after: Assessment | None,
    rows: list[PaperLine] | None,
    root: str,
) -> ProjectRecord:
    """The record of a project that could be assessed.

    Args:
        designed: as its file stands.
        steps: what was accepted.
        after: with everything accepted in the wall; None where it could not be put in.
        rows: of :func:`accepted_rows`; None as above.
        root: the folder that is audited.
    """
    wall = after.project if after else designed.project
    return {
        **facts(designed.project),
        "designed": finding_rows(designed.findings, root),
        "accepted": finding_rows(after.findings, root) if after else None,
        "papers": rows,
        "parts": part_rows(wall, steps),
    }
