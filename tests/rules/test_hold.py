"""Holding one stated value against a requirement: every outcome, in its whole words, with its place and basis."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import pytest

from specgen.files.marks import Mark
from specgen.intake.values import UNKNOWN
from specgen.model.finding import Severity
from specgen.model.project import Component, Parapet, Record, Stated, Transition, Value
from specgen.model.requirement import Limit, Origin, Requirement
from specgen.model.source import Source, Status
from specgen.practice.load import load_practice
from specgen.practice.nominal import paired
from specgen.rules.hold import asked, hold, hold_value, not_stated, words
from specgen.rules.rule import RuleResult, fail, not_applicable, ok, specified, unknown
from specgen.rules.undescribed import absent
from specgen.units.quantity import parse

PRACTICE = load_practice()
HERE, THERE = Mark("p.yaml", 4, 3), Mark("p.yaml", 9, 7)
SOURCE = Source("", "", "", Status.PRACTICE)
PLACE: dict[str, Any] = {"values": {}, "marks": {}, "mark": HERE}


def part(role: str = "coping", id: str = "cap", kind: str = "formed metal", **values: Value) -> Component:
    return Component(role, values, dict.fromkeys(values, THERE), HERE, id=id, kind=kind)


def requirement(
    limit: Limit, attribute: str = "outer_leg", origin: str = "practice", **more: Any
) -> Requirement:
    place = {"role": "coping", "attribute": attribute, "title": "exterior face"}
    return Requirement(
        id="coping.outer_leg@P-1", name="coping.outer_leg", limit=limit, method="", reason="", stage="product",
        evidence="", section="", parapets=("P-1",), everywhere=True,
        **{"condition": "", **place, "origin": Origin(origin, "its.key", SOURCE), **more},
    )  # fmt: skip


LEAST = Limit("at least", parse("4 in"))


class Bare(SimpleNamespace):
    """What holding a value asks of a wall."""

    def __init__(self, found: Requirement | None = None, system: str = "inch-pound") -> None:
        super().__init__(
            practice=PRACTICE,
            project=SimpleNamespace(stated_only=False, system=system),
            found=found,
            asked_for=[],
        )
        self.parapet = Parapet("parapet", name="P-1", **PLACE)

    def requirement(self, name: str, part: Component | None = None) -> Requirement | None:
        self.asked_for.append((name, part))
        return self.found


def outcome(
    limit: Limit, value: Any, *, system: str = "inch-pound", more: Any = None, **how: Any
) -> RuleResult:
    """One value of a coping held against a limit, without what every result carries."""
    made = requirement(limit, **(more or {}))
    result = hold(Bare(made, system), made.name, _stating(value), **how)  # type: ignore[arg-type]
    assert (result.requirement, result.attribute) == (made.id, "outer_leg")
    return replace(result, requirement="", attribute="")


def _stating(value: Any) -> Component:
    if isinstance(value, str) and value == UNKNOWN:
        return replace(part(), unknown={"outer_leg": THERE})
    if isinstance(value, Stated):
        return replace(part(), bounds={"outer_leg": value}, marks={"outer_leg": THERE})
    return part(**({} if value is None else {"outer_leg": value}))


BASIS = {"basis": ("its.key",)}


def test_met_and_missed() -> None:
    met, missed = outcome(LEAST, parse("4 in")), outcome(LEAST, parse("3 in"))
    words_met, words_missed = (
        f"exterior face of the coping is {value}; asked for: at least 4 in" for value in ("4 in", "3 in")
    )
    assert met == ok(words_met, THERE, "cap", **BASIS)
    assert missed == fail(words_missed, THERE, "cap", **BASIS)


def test_own_words_severity_and_facts() -> None:
    how = {"wrong": "the leg is short", "severity": Severity.RISK, "because": ("a fact",), "what": "the leg"}
    assert outcome(LEAST, parse("3 in"), **how) == fail(
        "the leg is short", THERE, "cap", Severity.RISK, ("a fact",), **BASIS
    )
    met = ok("the leg is 5 in; asked for: at least 4 in", THERE, "cap", ("a fact",), **BASIS)
    assert outcome(LEAST, parse("5 in"), **how) == met
    left = "the leg is left to Section , which asks for: at least 4 in"
    assert outcome(LEAST, None, **how) == specified(ok(left, HERE, "cap", ("a fact",), **BASIS), left)
    missing = unknown("the leg is not known", "layer `cap`: find out `outer_leg`", THERE, "cap", ("a fact",))
    assert outcome(LEAST, UNKNOWN, **how) == missing


def test_only_a_practice_value_is_a_basis() -> None:
    assert outcome(LEAST, parse("4 in"), more={"origin": "choice"}).basis == ()
    assert outcome(LEAST, parse("4 in"), more={"origin": "calculation"}).basis == ()


def test_a_bound_that_leaves_it_open() -> None:
    assert outcome(LEAST, Stated(parse("3 in"), "at least"), because=("a fact",)) == unknown(
        "exterior face of the coping is at least 3 in, which leaves open: at least 4 in",
        "layer `cap`: give the value of `outer_leg`", THERE, "cap", ("a fact",), ("its.key",),
    )  # fmt: skip
    message = "exterior face of the coping is at least 5 in; asked for: at least 4 in"
    assert outcome(LEAST, Stated(parse("5 in"), "at least")).message == message


def test_another_condition_of_the_test() -> None:
    most = Limit("at most", parse("0.004 cfm/ft2"))
    result = outcome(most, parse("0.003 cfm/ft2 at 50 Pa"), more={"condition": "75 Pa"}, because=("a fact",))
    assert result == unknown(
        "exterior face of the coping is 0.003 cfm/ft2 at 50 Pa; it is asked for at 75 Pa",
        "layer `cap`: give `outer_leg` at 75 Pa", THERE, "cap", ("a fact",), ("its.key",),
    )  # fmt: skip


def test_the_choice_for_one_part_binds_no_other_part() -> None:
    chosen = {"origin": "choice", "floor": Limit("at least", parse("2 in"))}
    limit = Limit("at least", parse("4 in"))
    found = {value: outcome(limit, parse(value), more=chosen) for value in ("5 in", "3 in", "1 in")}
    assert {
        value: (one.outcome.value, one.message.partition("asked for: ")[2]) for value, one in found.items()
    } == {
        "5 in": ("pass", "at least 4 in"),
        "3 in": ("pass", "at least 2 in"),
        "1 in": ("fail", "at least 2 in"),
    }
    for more in ({**chosen, "origin": "practice"}, {"origin": "choice"}):
        assert outcome(limit, parse("3 in"), more=more).outcome.value == "fail"


def test_the_kind_is_a_value_of_a_component() -> None:
    limit = Limit("one of", ("formed metal", "stone"))
    of_kind = requirement(limit, "kind")
    result = hold_value(Bare(), of_kind, part(), "kind", "cap")  # type: ignore[arg-type]
    assert (result.mark, result.layer) == (HERE, "cap")
    message = "exterior face of the coping is formed metal; asked for: one of: formed metal, stone"
    assert (result.outcome.value, result.message) == ("pass", message)
    record = Record("scupper", {"kind": "stone"}, {"kind": THERE}, HERE)
    assert "is stone;" in hold_value(Bare(), of_kind, record, "kind", "").message  # type: ignore[arg-type]


def test_a_failure_without_words_of_its_own() -> None:
    short = part(outer_leg=parse("3 in"))
    found = hold_value(Bare(), requirement(LEAST), short, "outer_leg", "cap")  # type: ignore[arg-type]
    assert found.message == "exterior face of the coping is 3 in; asked for: at least 4 in"


def test_a_requirement_that_does_not_apply() -> None:
    wall, coping = Bare(), part()
    result = hold(wall, "coping.outer_leg", coping)  # type: ignore[arg-type]
    assert result == not_applicable("`coping.outer_leg` does not apply here")
    assert wall.asked_for == [("coping.outer_leg", coping)]


def test_not_stated_set_aside_and_only_a_bound() -> None:
    plain, kept = part(), replace(part(), doubted={"outer_leg": Stated(parse("4 ft"))})
    bound = replace(part(), bounds={"outer_leg": Stated(parse("3 in"), "at most")})
    found = [
        (one.message, one.missing)
        for one in (not_stated("the leg", x, "outer_leg", "cap") for x in (plain, kept, bound))
    ]
    assert found == [
        ("the leg is not stated", "layer `cap`: add `outer_leg`"),
        ("the leg is set aside until it is confirmed: 4 ft", "layer `cap`: add `meant`"),
        ("the leg is at most 3 in", "layer `cap`: give the value of `outer_leg`"),
    ]
    whole = replace(unknown(*found[0], HERE, "cap", ("a fact",)), attribute="outer_leg")
    assert not_stated("the leg", plain, "outer_leg", "cap", ("a fact",)) == whole


def test_what_lacks_a_value_is_named_as_the_file_names_it() -> None:
    lap = Transition("transition", first="wrb", second="cap", **PLACE)
    scupper = Record("scupper", **PLACE)
    assert not_stated("lap", lap, "lap", "wrb").missing == "transition between `wrb` and `cap`: add `lap`"
    assert not_stated("height", scupper, "height", "").missing == "scupper: add `height`"
    open_, other = Stated(parse("3 in"), "at least"), "0.003 cfm/ft2 at 50 Pa"
    made = requirement(Limit("at most", parse("0.004 cfm/ft2")), condition="75 Pa")
    held = [
        hold_value(
            Bare(requirement(LEAST)),
            requirement(LEAST),
            replace(scupper, bounds={"outer_leg": open_}),
            "outer_leg",
            "",
        ),  # type: ignore[arg-type]
        hold_value(Bare(made), made, replace(scupper, values={"outer_leg": parse(other)}), "outer_leg", ""),  # type: ignore[arg-type]
    ]
    assert [one.missing for one in held] == [
        "scupper: give the value of `outer_leg`",
        "scupper: give `outer_leg` at 75 Pa",
    ]


def test_a_component_that_is_not_described() -> None:
    found = [absent(Bare(), role) for role in ("coping", "barrier")]  # type: ignore[arg-type]
    assert found == [
        unknown(
            f"the {role} is not described",
            f"parapet `P-1`: add a component with `role: {role}` to `{where}`, with `kind: none` if there is none",
        )
        for role, where in (("coping", "top"), ("barrier", "build_up"))
    ]


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        (parse('3/16"'), '3/16"'),
        (True, "yes"),
        (False, "no"),
        (2, "2"),
        ("roof", "roof"),
        (("A", "C"), "A, C"),
        (Stated(parse("1 in")), "1 in"),
        (Stated(parse("1 in"), "at most"), "at most 1 in"),
        (Stated(True), "yes"),
    ],
)
def test_words(value: Any, expected: str) -> None:
    assert words(value) == expected


@pytest.mark.parametrize(
    ("limit", "system", "value", "expected"),
    [
        (Limit("is", True), "SI", None, "yes"),
        (Limit("is", parse("4 in")), "SI", None, "4 in"),
        (Limit("one of", ("stone",)), "SI", None, "stone"),
        (Limit("one of", ("stone", "metal")), "SI", None, "one of: stone, metal"),
        (Limit("includes", ("stone",)), "SI", None, "includes stone"),
        (Limit("at least", 2), "SI", None, "at least 2"),
        (LEAST, "inch-pound", None, "at least 4 in"),
        (LEAST, "SI", None, "at least 102 mm (4 in)"),
        (LEAST, "SI", parse("101.7 mm"), "at least 102 mm (4 in)"),
        (Limit("at least", paired(parse("4 in"))), "SI", parse("100 mm"), "at least 100 mm"),
        (Limit("at least", paired(parse("4 in"))), "SI", parse("3 15/16 in"), "at least 100 mm (4 in)"),
        (LEAST, "inch-pound", "a word", "at least 4 in"),
    ],
)
def test_what_is_asked_for(limit: Limit, system: str, value: Any, expected: str) -> None:
    assert asked(limit, system, value) == expected
