"""What the rules found: the list, and each finding with its chain and the remedies that were tried."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from typing import Any

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.explain.chain import Explainer, Explanation
from specgen.explain.options import TriedOption
from specgen.explain.show import outcome_sentences, paper_sentences
from specgen.model.finding import Finding, Outcome
from specgen.page import finding_rows
from specgen.page.answer import live, page, piece, shown
from specgen.page.desk import Desk
from specgen.page.finding_rows import in_code, place_of
from specgen.page.places import paragraph_place, sheet_place
from specgen.rules.catalogue import Described, RulePage, rule_page
from specgen.rules.papers import PAPER_BOOK
from specgen.work.explained import explainer, source_line
from specgen.work.filters import Filters

_FILTERS = ("parapet", "severity", "rule")


def named(desk: Desk) -> Mapping[str, Finding]:
    """The findings of this state that are shown, by name."""
    return desk.once("findings by name", lambda: finding_rows.names(desk.assessment.findings))


@shown
def findings(request: Request, desk: Desk) -> Response:
    """Every finding, folded and counted as `specgen check` does, or those that the filters let through."""
    chosen = [tuple(one for one in request.query_params.getlist(name) if one) for name in _FILTERS]
    filters = Filters(chosen[0], chosen[1], tuple(one.upper() for one in chosen[2]))
    every = desk.assessment.findings
    looked_at = tuple(one for one in every if filters.passes(one))
    context: dict[str, Any] = {
        "groups": finding_rows.groups(looked_at, named(desk)),
        "strange": filters.strange(desk.assessment),
        "filters": filters,
        "filtered": any(chosen),
        "passed": sum(one.outcome is Outcome.PASS for one in looked_at),
        "left": sum(one.outcome is Outcome.SPECIFIED for one in looked_at),
        "openings": filters.openings(desk.assessment),
        "parapets": [one.name for one in desk.assessment.project.parapets],
        "rules": _rules(every),
        "place_of": place_of,
        "in_code": in_code,
        "line_of": _line_of,
    }
    return page(request, "live/findings.html", **context)


def _rules(every: tuple[Finding, ...]) -> tuple[tuple[str, str], ...]:
    """Code and name of each rule that is shown."""
    return tuple(sorted({(one.code, one.name) for one in every if one.shown}))


def _line_of(finding: Finding, desk: Desk) -> str:
    """Where a finding stands, in words: the line of the project file, or the other file with its line."""
    mark = finding.mark
    own = str(mark.file) == str(desk.path)
    return f"line {mark.line}" if own else f"{mark.file}, line {mark.line}"


@shown
def finding(request: Request, desk: Desk) -> Response:
    """One finding: what led to it, and what would close it."""
    name, one = _asked(request, desk)
    if live(request) and request.query_params.get("part") == "remedies":
        return piece(request, "live/remedies.html", **_tried(desk, name, one))
    known = _kept(desk)
    trying = "tried" in request.query_params or name in known
    explained = _explained(desk, name, one) if trying else _untried(desk, one)
    return page(
        request,
        "live/finding.html",
        **_context(name, one, explained, desk),
        same=finding_rows.same_elsewhere(named(desk), one),
        rule=_rule(desk, one),
        trying=trying,
        stands=one.counts and one.parapet != "all",
    )


def _asked(request: Request, desk: Desk) -> tuple[str, Finding]:
    """The finding of the address.

    Raises:
        LookupError: it does not stand any more.
    """
    name = request.path_params["name"]
    one = named(desk).get(name)
    if one is None:
        raise LookupError("That finding does not stand any more. Look at the list of findings.")
    return name, one


def _kept(desk: Desk) -> dict[str, Explanation | None]:
    """The findings of this state whose remedies were tried."""
    made: dict[str, Explanation | None] = desk.once("tried remedies", dict)
    return made


def _explainer(desk: Desk) -> Explainer:
    lines = desk.text.splitlines()

    def quoted(file: str, line: int) -> str:
        if file != str(desk.path):
            return source_line(file, line)
        return lines[line - 1].rstrip() if 0 < line <= len(lines) else ""

    return desk.once("explainer", lambda: explainer(desk.specification(), desk.bench(), quoted))


def _untried(desk: Desk, one: Finding) -> Explanation | None:
    return next(iter(_explainer(desk).explain([one], trying=False)), None)


def _explained(desk: Desk, name: str, one: Finding) -> Explanation | None:
    """The finding with its remedies tried, once a state; None for one that is about no parapet or settled."""
    kept = _kept(desk)
    if name not in kept:
        kept[name] = next(iter(_explainer(desk).explain([one])), None)
    return kept[name]


def _tried(desk: Desk, name: str, one: Finding) -> dict[str, Any]:
    return {**_context(name, one, _explained(desk, name, one), desk), "trying": True}


def _context(name: str, one: Finding, explained: Explanation | None, desk: Desk) -> dict[str, Any]:
    every = explained.options if explained else ()
    useful = [option for option in every if option.result != "leaves" or option.effect.closes]
    paragraphs = desk.specification().paragraphs
    numbers = {id(option): number for number, option in enumerate(every)}
    names_of = {id(each): each_name for each_name, each in named(desk).items()}
    return {
        "name": name,
        "finding": one,
        "look": finding_rows.MARKS.get(one.word, ""),
        "explained": explained,
        "useful": [(numbers[id(option)], option, _sentences(option, explained)) for option in useful],
        "useless": [option for option in every if option not in useful],
        "digest_of": digest_of,
        "paragraph_of": lambda requirement: paragraphs.get(requirement.id),
        "dependents": [
            (names_of.get(_standing_id(each, desk)), each) for each in explained.dependents.findings
        ]
        if explained
        else [],
        "place_of": place_of,
        "paragraph_place": paragraph_place,
        "sheet_place": sheet_place,
        "in_code": in_code,
        "line": _line_of(one, desk),
    }


def _standing_id(one: Finding, desk: Desk) -> int:
    """The identity of the same finding among those of the whole project."""
    key = (one.code, one.parapet, one.layer, one.attribute, one.message)
    same = (
        id(each)
        for each in desk.assessment.findings
        if (each.code, each.parapet, each.layer, each.attribute, each.message) == key
    )
    return next(same, 0)


def _sentences(option: TriedOption, explained: Explanation | None) -> tuple[str, ...]:
    assert explained is not None
    return (*outcome_sentences(option, explained), *paper_sentences(option, explained))


def _rule(desk: Desk, one: Finding) -> RulePage | None:
    """The manual page of the rule; an office's rule has its own."""
    entries: tuple[Described, ...] = (*desk.assessment.book, *PAPER_BOOK)
    entry = next((each for each in entries if each.rule.code == one.code), None)
    return rule_page(entry, desk.assessment.practice) if entry else None


def digest_of(option: TriedOption) -> str:
    """What an option changes, as a form names it: a press on another than was shown is refused."""
    changes = repr([(edit.path, edit.before, edit.after, edit.sentence) for edit in option.edits])
    return hashlib.sha256(changes.encode()).hexdigest()[:16]


ROUTES = (Route("/findings", findings), Route("/findings/{name}", finding))
