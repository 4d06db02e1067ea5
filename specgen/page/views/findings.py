"""What the rules found: the list, and each finding with its chain and the remedies that were tried."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from typing import Any
from urllib.parse import quote, urlencode

from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from specgen.explain.chain import Explainer, Explanation
from specgen.explain.options import TriedOption, draft_of
from specgen.explain.show import outcome_sentences, paper_sentences
from specgen.model.comment import About
from specgen.model.finding import Finding, Outcome
from specgen.page import finding_rows
from specgen.page.answer import CHANGED, Form, back, count_in, live, page, piece, posted, refused, shown
from specgen.page.comments import counts_of
from specgen.page.desk import Desk
from specgen.page.finding_rows import place_of, plain_words
from specgen.page.places import paragraph_place, sheet_place
from specgen.page.views.compare import keep_before
from specgen.page.views.steps import in_words
from specgen.rules.catalogue import Described, RulePage, rule_page
from specgen.rules.papers import PAPER_BOOK
from specgen.work.editing import apply_edits
from specgen.work.editing_file import ProjectText
from specgen.work.explained import explainer, source_line
from specgen.work.filters import Filters

OWN, OF_TYPE = "own", "type"  # where a remedy goes: to the parapet alone, or to all of its type
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
        "plain": plain_words(desk),
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
    """One finding: what led to it, and what would close it. The code of a rule leads to what it found."""
    if (where := _of_rule(request, desk)) is not None:
        return back(request, where)
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
        open_comments=counts_of(desk).get(About(finding=one.code, parapet=one.parapet, layer=one.layer), 0),
        trying=trying,
        stands=one.counts and one.parapet != "all",
    )


def _of_rule(request: Request, desk: Desk) -> str | None:
    """Where to look at what a rule found, where the address has the code of a rule in place of a finding's name."""
    code, parapet = request.path_params["name"].upper(), request.query_params.get("parapet", "")
    if code not in {one.code for one in desk.assessment.findings} or code.lower() in named(desk):
        return None
    found = [
        name
        for name, one in named(desk).items()
        if one.code == code and one.counts and parapet in ("", one.parapet)
    ]
    if len(found) == 1:
        return f"findings/{quote(found[0])}"
    return f"findings?{urlencode({'rule': code, **({'parapet': parapet} if parapet else {})})}"


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
        "sharing": _sharing(desk, one.parapet) if useful else (),
        "paragraph_of": lambda requirement: paragraphs.get(requirement.id),
        "dependents": [
            (names_of.get(_standing_id(each, desk)), each) for each in explained.dependents.findings
        ]
        if explained
        else [],
        "place_of": place_of,
        "paragraph_place": paragraph_place,
        "sheet_place": sheet_place,
        "plain": plain_words(desk),
        "line": _line_of(one, desk),
    }


def _sharing(desk: Desk, parapet: str) -> tuple[str, ...]:
    """The parapets of the type of a parapet; none where it has none, or has it alone."""
    file = ProjectText(desk.text, desk.inputs.project, desk.assessment.practice)
    type_name = file.type_of(file.parapet(parapet))
    names = tuple(file.sharing(type_name)) if type_name else ()
    return names if len(names) > 1 else ()


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


@posted
def apply(request: Request, desk: Desk, form: Form) -> Response:
    """Write one remedy into the project file, as it was tried; what it changed is shown, with the step back beside it."""
    name, one = _asked(request, desk)
    explained = _explained(desk, name, one)
    number, scope = form["option"], form["scope"] or OWN
    every = explained.options if explained else ()
    at = count_in(number)
    option = every[at] if at is not None and at < len(every) else None
    if option is None or digest_of(option) != form["digest"] or scope not in (OWN, OF_TYPE):
        words = "The remedies of this finding are others by now. Look at them again; nothing was written."
        return refused(request, [words], CHANGED)
    before = desk.specification()
    draft = draft_of(desk.bench(), _explainer(desk).alone(one), option)
    edited = apply_edits(desk.text, desk.inputs.project, desk.assessment.practice, draft, scope)
    done = desk.change(lambda _: edited.text, edited.what)
    keep_before(desk, before)
    return back(request, "compare", in_words(done))


ROUTES = (
    Route("/findings", findings),
    Route("/findings/{name}", finding),
    Route("/findings/{name}/apply", apply, methods=["POST"]),
)
