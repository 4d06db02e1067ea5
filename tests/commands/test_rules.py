"""The rule catalogue as printed: the rules of the book and those on the project's papers."""

from __future__ import annotations

import json

import pytest

from specgen.practice.load import load_practice
from specgen.rules.papers import PAPER_BOOK, PAPER_RULES
from tests.chain.runs import run

PAPER_CODES = [rule.code for rule in PAPER_RULES]


@pytest.mark.parametrize("entry", PAPER_BOOK, ids=lambda one: one.rule.code)
def test_a_rule_on_the_papers_has_a_page_like_any_other(entry):
    rule = entry.rule
    done = run("rules", rule.code.lower())
    assert done.status == 0
    for words in (
        f"{rule.code} {rule.name}",
        f"reason: {rule.reason}",
        f"remedy: {rule.remedy}",
        "Right:",
        "Wrong:",
    ):
        assert words in done.out
    for key in rule.basis:
        assert f"source: {load_practice().source(key)} ({key})" in done.out
    assert entry.manual.startswith(f"{rule.code}: ")
    assert "::" not in done.out


def test_every_rule_on_the_papers_has_a_page():
    assert [entry.rule for entry in PAPER_BOOK] == list(PAPER_RULES)


def test_the_list_holds_them_in_the_order_of_the_codes():
    codes = [line.split()[0] for line in run("rules").out.splitlines()]
    assert set(PAPER_CODES) < set(codes)
    assert codes == sorted(codes)
    listed = json.loads(run("rules", "--format", "json").out)["rules"]
    assert [rule["code"] for rule in listed] == codes


def test_one_as_json_has_the_fields_of_any_other():
    one, other = (json.loads(run("rules", code, "--format", "json").out) for code in ("OF01", "WB01"))
    assert one.keys() == other.keys()
    assert one["severity"] == "defect" and one["sources"][0]["key"] == "limit.not_below_code"


def test_a_near_miss_of_one_is_meant():
    done = run("rules", "WV1")
    assert (done.status, "did you mean `WV01`?" in done.err) == (2, True)
