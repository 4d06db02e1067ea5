"""A rule that holds requirements says nothing that the catalogue says, and holds every layer of its role."""

from __future__ import annotations

import importlib.util
import re
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
import yaml

import specgen.rules as room
from specgen.intake.project import load_project
from specgen.model.finding import Finding, Outcome, Severity
from specgen.practice.load import load_practice
from specgen.requirements.catalogue_file import load_catalogue, practice_keys
from specgen.rules.book import load_book
from specgen.rules.held import rule_of

_spec = importlib.util.spec_from_file_location("rule_cases_of_held", Path(__file__).with_name("cases.py"))
assert _spec and _spec.loader
cases = importlib.util.module_from_spec(_spec)
sys.modules["rule_cases_of_held"] = cases
_spec.loader.exec_module(cases)

PRACTICE = load_practice()
CATALOGUE = {entry.name: entry for entry in load_catalogue()}
MODULES = sorted(Path(room.__file__).parent.glob("*/[a-z][a-z][0-9][0-9]_*.py"))


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
    assert rule.basis == ("lath.embedment_wood", "lath.embedment_steel", "barrier.nail_sealability")
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


# Every layer of a role

LAYER = {"role": "barrier", "kind": "self-adhered", "family": "SBS bitumen"}


def findings_with_second_barrier(tmp_path: Path, first: bool, **values: object) -> list[Finding]:
    """The findings on the base with a second barrier before or behind its own."""
    content = cases.changed({})
    layers = content["parapets"][0]["build_up"]
    at = next(number for number, part in enumerate(layers) if part.get("id") == "wrb")
    layers.insert(at + (0 if first else 1), {**LAYER, "id": "second", **values})
    path = tmp_path / "project.yaml"
    path.write_text(yaml.safe_dump(content, sort_keys=False, allow_unicode=True))
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
        ("WB05", "second"): Outcome.UNKNOWN,
    }
    assert held["WB02", "second"].message.startswith("air permeance of the barrier `second` is 0.1")
    assert held["WB13", "second"].message.startswith("`second`: open parapet tops")
    assert held["WB05", "second"].missing == "layer `second`: add `pull_adhesion`"


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
    path.write_text(yaml.safe_dump(content, sort_keys=False, allow_unicode=True))
    found = [one for one in cases.findings_of(load_project(path, PRACTICE)) if one.code == "PL14"]
    assert {one.layer: one.outcome for one in found} == {
        "plaster": Outcome.PASS,
        "inner plaster": Outcome.FAIL,
    }
    assert next(one.message for one in found if one.layer == "inner plaster") == (
        "an elastomeric coating closes the face of the plaster `inner plaster`"
    )
