"""Every reader of the house asked about one statement: what it answers, and the exit status that would follow."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Any

import yaml

from specgen.audit.record import Step, accepted_rows, finding_rows, record
from specgen.audit.totals import Audit, audit_of
from specgen.commands.common import status
from specgen.intake.accepted import load_accepted
from specgen.intake.submittal import load_submission
from specgen.intake.substitution import load_request
from specgen.model.finding import Outcome
from specgen.model.submission import ProductReview, Recommendation, Result
from specgen.review.package import review_package
from specgen.specification import Specification
from specgen.wall.products import with_products
from specgen.work.requests import proposed, substitutions
from tests.agreement.walls import Plain
from tests.requirements.statements import PARAPET, PRACTICE, Base, Statement, parts_of

FOUND = {Outcome.PASS: "met", Outcome.FAIL: "missed", Outcome.UNKNOWN: "open"}
READ = {
    Result.MEETS: "met",
    Result.FAILS: "missed",
    Result.CONFIRM: "open",
    Result.OTHER_METHOD: "other method",
}


def product_of(base: Base, statement: Statement) -> dict[str, Any]:
    """The product that makes a statement, as the wall's own: what its role is asked for beside stands at the limit."""
    one = base.requirement
    role = PRACTICE.vocabulary.roles[one.role]
    part = base.spec.assessment.project.parapets[0].part(one.role)
    assert part is not None
    found: dict[str, Any] = {"role": one.role, "name": "Drawn", "kind": part.kind}
    found["evidence"] = "report, page 4"
    if "family" in part.values:
        found["family"] = part.values["family"]
    for asked in base.spec.assessment.requirements.of_role(one.role):
        if asked.attribute in base.others:
            claim = {"value": base.others[asked.attribute], "evidence": "report, page 2"}
            found[asked.attribute] = {**claim, "method": asked.method} if asked.method else claim
    known = role.fields[one.attribute]
    (layer, *_) = parts_of(base.content, one.role)
    for name in role.fields.keys() - {*base.others, one.attribute, *found, "evidence"}:
        if (
            name in layer and not role.fields[name].project_only
        ):  # a calculation may read it: the pull-out of a fastener
            found[name] = {"value": layer[name], "evidence": "report, page 3"}
    given = statement.given
    claim = {"evidence": "report, page 1"}
    if statement.method:
        claim["method"] = statement.method
    end = f" @ {given.condition}" if given.condition else ""
    match given.sense:
        case "":
            claim["value"] = statement.written
        case "to":
            claim |= {"at least": f"{given.value}{end}", "at most": f"{given.upper}{end}"}
        case "more than" | "less than":
            claim["value"] = f"{given.sense} {given.value}{end}"
        case _:
            claim[given.sense] = f"{given.value}{end}"
    assert known.name == one.attribute
    confirmed = [name for name in base.others if name in found]
    confirmed += [one.attribute] if statement.meant else []
    return {**found, one.attribute: claim, "meant": dict.fromkeys(confirmed, "drawn by chance")}


def write_papers(folder: Path, base: Base, statement: Statement) -> None:
    """A submittal, a request and a record of what was accepted that make the statement."""
    product = product_of(base, statement)
    number = base.spec.assessment.project.info.word("number")
    head = {"number": "A-1", "project": number, "date": "2026-11-16", "from": "installer"}
    request = {**head, "number": "S-1", "reason": "in stock", "cost": "none", "time": "none"}
    accepted = {
        "submittal": "submittal.yaml",
        "date": "2026-11-20",
        "by": "architect",
        "result": "make corrections noted",
    }
    _dump(folder / "submittal.yaml", {"format": "2", "submittal": head, "products": [product]})
    _dump(folder / "request.yaml", {"format": "2", "request": request, "products": [product]})
    _dump(folder / "accepted.yaml", {"format": "2", "accepted": [accepted]})


def write_project(folder: Path, base: Base, statement: Statement | None) -> None:
    """The project file, with the statement or without the attribute."""
    folder.mkdir(parents=True)
    _dump(folder / "project.yaml", base.file(statement))


def _dump(path: Path, content: Any) -> None:
    text = yaml.dump(content, Dumper=_Quoting, sort_keys=False, allow_unicode=True)
    path.write_text(text, "utf-8")


class _Quoting(Plain):
    """As a project file is written, but for numbers of papers and projects, which are words."""


def _number(dumper: Any, value: str) -> Any:
    quoted = value.replace(".", "").isdigit() and len(value) == 4
    return dumper.represent_scalar("tag:yaml.org,2002:str", value, style="'" if quoted else None)


_Quoting.add_representer(str, _number)


@dataclass(frozen=True)
class Answer:
    """What one reader says of the value, and the exit status that it leaves with."""

    value: str  # met, missed, open, other method, or what was found instead
    status: int


def held(spec: Specification, base: Base) -> set[tuple[str, str]]:
    """What the rules say of the attribute, and by which code."""
    one = base.requirement
    layers = {part.id for part in spec.assessment.project.parapets[0].all_of(one.role)}
    return {
        (FOUND.get(found.outcome, found.outcome.value), found.code)
        for found in spec.assessment.findings
        if found.parapet == PARAPET
        and (
            (found.requirement or "").partition("@")[0] == one.name
            or (found.code == "MV01" and found.attribute == one.attribute and found.layer in layers)
        )
    }


def others_than(spec: Specification, base: Base) -> int:
    """The exit status that what the wall says beside the attribute would leave with."""
    name = base.requirement.name
    return status(
        one for one in spec.assessment.findings if (one.requirement or "").partition("@")[0] != name
    )


def by_check(spec: Specification, base: Base) -> Answer:
    """`check` of a project that makes the statement itself."""
    found = {value for value, _ in held(spec, base)}
    return Answer(" and ".join(sorted(found)) or "silent", status(spec.assessment.findings))


def _row(one: ProductReview, base: Base) -> str:
    found = {
        READ.get(v.result, v.result.value) for v in one.verdicts if v.requirement.id == base.requirement.id
    }
    others = {v.result for v in one.verdicts if v.requirement.name != base.requirement.name} - {Result.MEETS}
    assert not others, [v for v in one.verdicts if v.result is not Result.MEETS]
    return " and ".join(sorted(found)) or "silent"


def by_review(folder: Path, base: Base) -> Answer:
    """`review` of a submittal file."""
    sent = load_submission(folder / "submittal.yaml", PRACTICE)
    ((_, (one,)),) = review_package([sent], base.spec)
    assert one.recommendation is not Recommendation.NO_EXCEPTIONS or _row(one, base) == "met"
    return Answer(_row(one, base), status([one]))


def by_substitute(folder: Path, base: Base) -> tuple[Answer, Specification]:
    """`substitute`: a request that proposes the product; and the project as proposed."""
    request = load_request(folder / "request.yaml", PRACTICE)
    assessment = base.spec.assessment
    after = base.spec.again(proposed(assessment.project, assessment.practice, request))
    (done,) = substitutions(base.spec, [request])
    return Answer(_row(done.products[0], base), status([done])), after


def by_audit(folder: Path, base: Base) -> tuple[Answer, tuple[Any, ...]]:
    """`audit` of the project with the product accepted; and the findings of the wall as accepted."""
    designed = base.spec.assessment
    (acceptance,) = load_accepted(folder / "accepted.yaml", PRACTICE)
    sent = load_submission(folder / acceptance.file, PRACTICE)
    project = with_products(designed.project, sent.products, designed.practice)
    steps = (Step(acceptance, sent, (), project),)
    after = designed.again(project)
    content = record(designed, steps, after, accepted_rows(designed, steps, ""), "")
    line = {"path": "p", "key": "", "inputs": {}, "problems": [], "status": 0, **content}
    audit = audit_of("all", [line], (), None, None)
    (paper,) = content["papers"]
    against = {row["requirement"] for row in paper["against"]}
    value = "missed" if base.requirement.id in against else "open" if paper["unproven"] else "met"
    assert against <= {base.requirement.id} and paper["unproven"] <= 1
    return Answer(value, _status(audit)), listed(content["accepted"])


def _status(audit: Audit) -> int:
    return status((*audit.findings, *audit.papers), failed=bool(audit.unusable or audit.bad))


def listed(rows: list[dict[str, Any]]) -> tuple[Any, ...]:
    """Findings as a reader sees them, without the place in a file.

    That a choice is stricter than asked for (MV06) is asked of a project and never of a product.
    """
    kept = (row for row in rows if row["code"] != "MV06")
    return tuple(sorted((row["code"], row["severity"], row["layer"], row["message"]) for row in kept))


def findings_of(spec: Specification) -> tuple[Any, ...]:
    """The findings of a project as an audit tells them."""
    return listed(finding_rows(spec.assessment.findings, ""))
