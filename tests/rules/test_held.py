"""A rule that holds requirements says nothing that the catalogue says, and holds every layer of its role."""

from __future__ import annotations

import importlib.util
import re
import sys
from collections.abc import Iterable, Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

import specgen.rules as room
from specgen.files.marks import Mark
from specgen.intake.project import load_project
from specgen.model.finding import Finding, Outcome, Severity
from specgen.model.project import Component, Existing, Record
from specgen.model.requirement import Origin, RequirementSet
from specgen.practice.load import load_practice
from specgen.requirements.catalogue_file import load_catalogue, practice_keys
from specgen.rules.book import load_book
from specgen.rules.held import Held, at_place, each_layer, rule_of
from specgen.rules.rule import RuleResult, fail
from specgen.rules.wall import Wall
from specgen.units.quantity import parse
from tests import plain_yaml

_spec = importlib.util.spec_from_file_location("rule_cases_of_held", Path(__file__).with_name("cases.py"))
assert _spec and _spec.loader
cases = importlib.util.module_from_spec(_spec)
sys.modules["rule_cases_of_held"] = cases
_spec.loader.exec_module(cases)

PRACTICE = load_practice()
CATALOGUE = {entry.name: entry for entry in load_catalogue()}
MODULES = sorted(Path(room.__file__).parent.glob("*/[a-z][a-z][0-9][0-9]_*.py"))

OR_NONE = ", with `kind: none` if there is none"


def in_words(text: str) -> str:
    """Text without the line breaks and quotes that a wrapped string brings."""
    return re.sub(r'[\s"]+', " ", text)


def test_no_reason_stands_both_in_a_rule_and_in_the_catalogue() -> None:
    texts = {path.stem: in_words(path.read_text()) for path in MODULES}
    doubled = [
        f"{module} repeats {entry.name}: {entry.reason}"
        for entry in CATALOGUE.values()
        for module, text in texts.items()
        if in_words(entry.reason) in text
    ]
    assert not doubled, "\n".join(doubled)


def test_no_reason_stands_twice_among_the_rules_or_in_the_catalogue() -> None:
    rules = [(entry.rule.reason, entry.rule.code) for entry in load_book(PRACTICE)]
    for given in (rules, [(entry.reason, entry.name) for entry in CATALOGUE.values()]):
        reasons: dict[str, str] = {}
        for reason, name in given:
            first = reasons.setdefault(reason, name)
            assert first == name, f"{first} and {name} give one reason"


def test_a_rule_takes_from_the_catalogue_what_it_is_not_given() -> None:
    rule = rule_of(
        "lath.fastener_embedment",
        "barrier.nail_sealability",
        severity=Severity.RISK,
        remedy="None.",
    )
    assert rule.reason == CATALOGUE["lath.fastener_embedment"].reason
    assert rule.applies_to == "lath"
    assert rule.basis == (
        "lath.embedment_wood",
        "lath.embedment_steel",
        "table lath_over_foam",
        "barrier.nail_sealability",
    )
    assert [(one.name, one.default_key) for one in rule.options] == [
        ("embedment in wood", "lath.embedment_wood"),
        ("beyond steel", "lath.embedment_steel"),
    ]


def test_the_options_of_an_entry_have_a_practice_value_each() -> None:
    for entry in CATALOGUE.values():
        keys = practice_keys(entry)
        assert len(entry.options) <= len(keys), entry.name
        for key, name in zip(keys, entry.options, strict=False):
            assert PRACTICE.entry(key).value is not None, f"{entry.name}: option {name}"


HERE = Mark("project.yaml", 1, 1)

# Every layer of a role

LAYER = {"role": "barrier", "kind": "self-adhered", "family": "SBS bitumen"}


def findings_with_second_barrier(tmp_path: Path, first: bool, **values: object) -> list[Finding]:
    """The findings on the base with a second barrier before or behind its own."""
    content = cases.changed({})
    layers = content["parapets"][0]["build_up"]
    at = next(number for number, part in enumerate(layers) if part.get("id") == "wrb")
    layers.insert(at + (0 if first else 1), {**LAYER, "id": "second", **values})
    path = tmp_path / "project.yaml"
    path.write_text(plain_yaml.dump(content))
    return cases.findings_of(load_project(path, PRACTICE))


@pytest.mark.parametrize("first", [True, False], ids=["before", "behind"])
def test_each_layer_of_a_role_is_held_and_named(first: bool, tmp_path: Path) -> None:
    found = findings_with_second_barrier(
        tmp_path, first, air_permeance="0.1 cfm/ft2 @ 75 Pa", temporary_cover=False
    )
    held = {(one.code, one.layer): one for one in found if one.code in ("WB02", "WB13", "WB05")}
    assert {key: one.outcome for key, one in held.items()} == {
        ("WB02", "wrb"): Outcome.PASS,
        ("WB02", "second"): Outcome.FAIL,
        ("WB13", "wrb"): Outcome.PASS,
        ("WB13", "second"): Outcome.FAIL,
        ("WB05", "wrb"): Outcome.PASS,
        ("WB05", "second"): Outcome.SPECIFIED,
    }
    assert held["WB02", "second"].message.startswith("air permeance of the barrier `second` is 0.1")
    assert held["WB13", "second"].message.startswith("`second`: open parapet tops")
    assert held["WB05", "second"].message.startswith(
        "pull adhesion to the substrate of the barrier `second` is left to"
    )


def test_a_layer_is_not_held_where_the_requirement_does_not_apply_to_it(tmp_path: Path) -> None:
    found = findings_with_second_barrier(tmp_path, False, kind="mechanically fastened", family="polyethylene")
    assert {one.layer for one in found if one.code == "WB05"} == {"wrb"}


def not_applicable_codes(findings: list[Finding]) -> Iterator[str]:
    yield from (one.code for one in findings if one.outcome is Outcome.NOT_APPLICABLE)


def test_that_a_rule_does_not_apply_is_told_once(tmp_path: Path) -> None:
    codes = list(not_applicable_codes(cases.findings_of(cases.load({"parts": {"coping": None}}, tmp_path))))
    assert "CP11" in codes
    assert len(codes) == len(set(codes))


def test_a_check_of_one_layer_is_run_for_each(tmp_path: Path) -> None:
    content = cases.changed({})
    content["parapets"][0]["build_up"].append(
        {
            "role": "plaster",
            "id": "inner plaster",
            "kind": "portland cement plaster",
            "finish": "elastomeric coating",
        }
    )
    path = tmp_path / "project.yaml"
    path.write_text(plain_yaml.dump(content))
    found = [one for one in cases.findings_of(load_project(path, PRACTICE)) if one.code == "PL14"]
    assert {one.layer: one.outcome for one in found} == {
        "plaster": Outcome.PASS,
        "inner plaster": Outcome.FAIL,
    }
    assert next(one.message for one in found if one.layer == "inner plaster") == (
        "an elastomeric coating closes the face of the plaster `inner plaster`"
    )


# One part of the base wall, held without the rest of the project


@cache
def base() -> Wall:
    """The base wall, which conforms."""
    with TemporaryDirectory() as folder:
        return cases.assess(cases.load({}, Path(folder)), PRACTICE).walls[0]


def wall_with(*parts: Component, without: str = "") -> Wall:
    """The base wall with some parts in place of those of their role, or without those of a role."""
    roles = {without, *(one.role for one in parts)}
    parapet = base().parapet
    kept = tuple(one for one in parapet.components() if one.role not in roles)
    build_up = tuple(one for one in (*kept, *parts) if one.role != "coping")
    top = tuple(one for one in (*kept, *parts) if one.role == "coping")
    return replace(base(), parapet=replace(parapet, build_up=build_up, top=top))


def the(role: str, drop: tuple[str, ...] = (), id: str = "", **values: object) -> Component:
    """The part of a role of the base wall, with other values."""
    part = next(one for one in base().parapet.components() if one.role == role)
    made = {name: value for name, value in {**part.values, **values}.items() if name not in drop}
    return replace(part, values=made, id=id or part.id)


def heard(results: Iterable[RuleResult]) -> list[tuple[str, str, str]]:
    return [(one.outcome.value, one.layer, one.message) for one in results]


LEG = "coping.outer_leg"


def test_a_role_that_is_not_described() -> None:
    wall = wall_with(without="coping")
    assert heard(Held((LEG,))(wall)) == [("not applicable", "", "no coping is described")]
    (wanted,) = Held((LEG,), needed=True)(wall)
    assert (wanted.outcome, wanted.missing) == (
        Outcome.UNKNOWN, f"parapet `P-1`: add a component with `role: coping` to `top`{OR_NONE}",
    )  # fmt: skip
    assert heard(Held((LEG,), needed=True, without="the top is open")(wall)) == [
        ("fail", "", "the top is open")
    ]
    (below,) = Held(("plaster.coats",), needed=True)(wall_with(without="plaster"))
    assert below.missing == f"parapet `P-1`: add a component with `role: plaster` to `build_up`{OR_NONE}"


def test_each_of_several_requirements_and_layers() -> None:
    names = ("weep.open", "weep.screened", "weep.above_earth")
    wall = wall_with(the("weep screed"), the("weep screed", id="second", open=False))
    assert heard(Held(names)(wall)) == [
        ("pass", "screed", "open to drain of the weep screed `screed` is yes; asked for: yes"),
        (
            "pass",
            "screed",
            "openings screened against insects of the weep screed `screed` is yes; asked for: yes",
        ),
        ("not applicable", "", "held only where weep screed stands above earth"),
        ("fail", "second", "open to drain of the weep screed `second` is no; asked for: yes"),
        (
            "pass",
            "second",
            "openings screened against insects of the weep screed `second` is yes; asked for: yes",
        ),
        ("not applicable", "", "held only where weep screed stands above earth"),
    ]


def test_every_condition_that_is_not_met_is_named() -> None:
    (found,) = Held(("barrier.film_thickness",))(base())
    assert found.message == "held only where barrier is fluid-applied"
    (found,) = Held(("lath.furred",))(base())
    assert found.message == "held only where lath is not self-furred"
    by_performance = {**base().project.info.values, "method": "performance"}
    project = replace(base().project, info=replace(base().project.info, values=by_performance))
    (found,) = Held(("barrier.film_thickness",))(replace(base(), project=project))
    assert found.message == "held only where barrier is fluid-applied and film is prescriptive"


def test_a_condition_is_that_of_the_layer_that_is_held() -> None:
    mesh = replace(the("drainage layer", id="mesh"), kind="mesh")
    for parts in ((the("drainage layer"), mesh), (mesh, the("drainage layer"))):
        found = [one.message for one in Held(("drainage.filter",))(wall_with(*parts))]
        assert (found[0].startswith("held only where"), found[1].startswith("no limit")) == (
            (parts[1] is mesh,) * 2
        ), "the base wall asks nothing of a mesh"


FILM = "barrier.film_thickness"


def fluid(drop: tuple[str, ...] = (), id: str = "wrb") -> Component:
    values = {"thickness": parse("60 mil"), "least_thickness": parse("40 mil")}
    return replace(the("barrier", drop, id=id, **values), kind="fluid-applied")


def test_a_fact_that_a_limit_is_made_of() -> None:
    wall = wall_with(fluid(("least_thickness",)))
    (lacking,) = Held((FILM,))(wall, ("a fact",))
    title = PRACTICE.vocabulary.roles["barrier"].fields["least_thickness"].title
    assert heard([lacking]) == [("unknown", "wrb", f"{title} of the barrier is not stated")]
    assert (lacking.because, lacking.missing, lacking.attribute) == (
        ("a fact",), "layer `wrb`: add `least_thickness`", "least_thickness",
    )  # fmt: skip
    (known,) = Held((FILM,))(wall_with(fluid()))
    assert known.message.startswith("no limit is known for"), "the base wall asks nothing of a film"
    several = wall_with(fluid(("least_thickness",)), fluid(("least_thickness",), id="second"))
    assert [one.message for one in Held((FILM,))(several)] == [
        f"{title} of the barrier `{layer}` is not stated" for layer in ("wrb", "second")
    ]


def test_what_is_not_stated_stands_together() -> None:
    held = Held((FILM, "barrier.pull_adhesion"), together="not fully stated")
    bare = fluid(("thickness", "least_thickness", "pull_adhesion"))
    missing = "add `thickness`, `least_thickness`"
    left, found = held(wall_with(bare), ("a fact",))
    assert (left.outcome, left.attribute) == (Outcome.SPECIFIED, "pull_adhesion")
    assert (found.message, found.missing, found.layer, found.because, found.mark) == (
        "not fully stated", f"layer `wrb`: {missing}", "wrb", ("a fact",), bare.mark,
    )  # fmt: skip
    found, lacking = held(wall_with(fluid(("least_thickness",))))
    assert (found.outcome, lacking.missing) == (Outcome.PASS, "layer `wrb`: add `least_thickness`")
    assert [one.outcome for one in held(wall_with(the("barrier")))] == [Outcome.NOT_APPLICABLE, Outcome.PASS]
    lath = replace(the("lath", ("side_lap",)), unknown={"side_lap": the("lath").mark})
    (lacking,) = Held(("lath.side_lap", "lath.side_lap"), together="t")(wall_with(lath))
    assert lacking.missing == "layer `lath`: add `side_lap`"


def test_what_is_not_stated_alone() -> None:
    wall = wall_with(the("coping", ("outer_leg",)))
    (found,) = Held((LEG,))(wall)
    title = PRACTICE.vocabulary.roles["coping"].fields["outer_leg"].title
    words = f"{title} of the coping is left to Section 07 71 00, which asks for: at least 4 in"
    assert (found.outcome, found.message) == (Outcome.SPECIFIED, words)
    standing = replace(wall, parapet=replace(wall.parapet, existing=Existing("existing", {}, {}, HERE)))
    (found,) = Held((LEG,))(standing)
    assert (found.outcome, found.missing) == (Outcome.UNKNOWN, "layer `coping`: add `outer_leg`")
    assert heard(Held((LEG,), if_stated=True)(standing)) == [
        ("not applicable", "", f"{title} of the coping is left to the sections")
    ]
    assert heard(Held((LEG,), if_stated=True)(base()))[0][0] == "pass"


def test_without_a_limit_nothing_is_held() -> None:
    none = replace(base(), requirements=RequirementSet({}))
    title = PRACTICE.vocabulary.roles["coping"].fields["outer_leg"].title
    expected = [("not applicable", "", f"no limit is known for the {title}")]
    bare = replace(wall_with(the("coping", ("outer_leg",))), requirements=RequirementSet({}))
    assert heard(Held((LEG,), together="t")(bare)) == expected
    assert heard(Held((LEG,))(none)) == heard(Held((LEG,), together="t")(none)) == expected


def test_the_kind_is_always_stated() -> None:
    assert [one.outcome for one in Held(("cleat.kind",), together="t", if_stated=True)(base())] == [
        Outcome.PASS
    ]


def failing(**how: object) -> RuleResult:
    short = wall_with(the("coping", outer_leg=parse("1 in")))
    (found,) = Held((LEG,), **how)(short)
    assert found.outcome is Outcome.FAIL
    return found


def test_words_of_a_failure() -> None:
    title = PRACTICE.vocabulary.roles["coping"].fields["outer_leg"].title
    assert failing().message == f"{title} of the coping is 1 in; asked for: at least 2 in (50 mm)"
    assert failing(what="the leg").message == "the leg is 1 in; asked for: at least 2 in (50 mm)"
    assert failing(wrong="the leg is short").message == "the leg is short"
    assert failing(wrong={LEG: "the leg is short"}).message == "the leg is short"
    assert failing(wrong={"other": "the leg is short"}).message == failing().message
    two = wall_with(the("coping", outer_leg=parse("1 in")), the("coping", id="second"))
    found = list(Held((LEG,), wrong="the leg of the coping is short", what="the leg")(two))
    (twice, _) = Held((LEG,), wrong="the coping beside the coping is short")(two)
    assert twice.message == "the coping beside the coping `coping` is short"
    assert [one.message for one in found] == [
        "the leg of the coping `coping` is short",
        "`second`: the leg is 4 in; asked for: at least 4 in",
    ]


def test_how_grave_a_failure_is() -> None:
    assert failing().severity is None
    assert failing(severities={LEG: Severity.QUERY}).severity is Severity.QUERY
    short = the("coping", outer_leg=parse("1 in"))
    wall = wall_with(short)
    held = Held((LEG,), severities={LEG: Severity.QUERY})
    assert [one.severity for one in held.at(wall, short, (), Severity.RISK)] == [Severity.RISK]
    ends = {"bar": None, "exposed edge": Severity.DEFECT}
    for word, severity in ends.items():
        part = the("roof turn-up", termination=word)
        (found,) = Held(("turnup.termination",), graver="exposed edge")(wall_with(part))
        assert (found.outcome, found.severity) == (Outcome.FAIL, severity)


def test_the_basis_of_a_finding() -> None:
    assert failing().basis == (), "the limit is looked up, and the rule has its own basis"
    assert failing(basis=("a.key",)).basis == ("a.key",)
    wall = wall_with(the("coping", outer_leg=parse("1 in")))
    several = list(Held((LEG, "coping.slope"))(wall))
    assert several[0].basis == practice_keys(CATALOGUE[LEG]) != ()
    assert several[1].basis == ("coping.slope",)
    asked = base().requirement("coping.slope")
    of_its_own = replace(asked, origin=replace(asked.origin, kind="practice", key="own.key"))
    own = replace(wall, requirements=RequirementSet({asked.id: of_its_own}))
    assert list(Held((LEG, "coping.slope"))(own))[1].basis == ("own.key",)
    assert next(iter(Held((LEG, "coping.slope"), basis=("a.key",))(wall))).basis == ("a.key",)


# A check of one layer, run for each


def each(role: str, *parts: Component, needed: bool = False, without: str = "") -> list[tuple[str, str, str]]:
    looked_at: list[str] = []

    @(each_layer(role, needed=True) if needed else each_layer(role))
    def check(wall: Wall, part: Component) -> Iterator[RuleResult]:
        looked_at.append(wall.layer)
        yield fail(f"the {part.role} is wrong", layer=part.id)
        yield fail(f"the {part.role} `{part.id}` is wrong", layer=part.id)
        yield fail(f"the {part.role} lies beside another", layer="other")
        yield fail("once")

    found = heard(check(wall_with(*parts, without=without)))
    assert looked_at == ([one.id for one in parts] if len(parts) > 1 else [""] * len(parts))
    return found


def test_one_layer_needs_no_name() -> None:
    assert [message for _, _, message in each("coping", the("coping"))] == [
        "the coping is wrong", "the coping `coping` is wrong", "the coping lies beside another", "once",
    ]  # fmt: skip


def test_several_layers_are_named_and_what_is_told_of_none_is_told_once() -> None:
    assert each("coping", the("coping"), the("coping", id="second")) == [
        ("fail", "coping", "the coping `coping` is wrong"),
        ("fail", "other", "the coping lies beside another"),
        ("fail", "", "once"),
        ("fail", "second", "the coping `second` is wrong"),
    ]


def test_no_layer() -> None:
    assert each("coping", without="coping") == [("not applicable", "", "no coping is described")]
    assert each("coping", without="coping", needed=True) == [("unknown", "", "the coping is not described")]


# A value of a place


def test_a_value_of_a_place() -> None:
    place = next(iter(cases.changed({})["parapets"][0].get("scuppers", ())), None)
    assert place is None, "the base has no scupper: the requirement is made here"
    requirement = replace(
        base().requirement("coping.outer_drip"), name="scupper.drip", role="scupper", attribute="outlet_drip",
        origin=Origin("choice", "p.yaml:1:1", base().requirement("coping.outer_drip").origin.source),
    )  # fmt: skip
    wall = replace(base(), requirements=RequirementSet({"scupper.drip": requirement}))
    scupper = Record("scupper", {"outlet_drip": parse("1/8 in")}, {}, base().parapet.mark)
    found = at_place(wall, "scupper.drip", scupper, "outlet_drip", "drip of scupper S-1")
    assert (found.outcome, found.message) == (
        Outcome.FAIL, "drip of scupper S-1 is 1/8 in; asked for: at least 1 in",
    )  # fmt: skip
    assert (found.basis, found.layer, found.attribute) == (("scupper.drip",), "", "outlet_drip")
    of_practice = replace(requirement, origin=replace(requirement.origin, kind="practice", key="own.key"))
    own = replace(wall, requirements=RequirementSet({"scupper.drip": of_practice}))
    assert at_place(own, "scupper.drip", scupper, "outlet_drip", "drip").basis == ("own.key",)
    none = at_place(base(), "scupper.drip", scupper, "outlet_drip", "drip of scupper S-1")
    assert (none.outcome, none.message) == (
        Outcome.NOT_APPLICABLE,
        "no limit is known for the drip of scupper S-1",
    )


def test_a_rule_may_say_what_the_catalogue_does_not() -> None:
    rule = rule_of(
        LEG,
        severity=Severity.RISK,
        remedy="None.",
        name="n",
        reason="r",
        basis=("a.key",),
        applies_to="parapet",
    )
    assert (rule.name, rule.severity, rule.remedy, rule.reason) == ("n", Severity.RISK, "None.", "r")
    assert (rule.basis, rule.applies_to, rule.holds) == (("a.key",), "parapet", (LEG,))
    assert rule_of(LEG, severity=Severity.RISK, remedy="None.").name == ""


def test_a_name_that_the_catalogue_lacks_is_a_fault() -> None:
    with pytest.raises(KeyError):
        rule_of("coping.no_such_thing", severity=Severity.RISK, remedy="None.")
