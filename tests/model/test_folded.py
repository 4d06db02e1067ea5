"""What several parapets share is one finding; what one parapet has twice is two."""

from __future__ import annotations

from dataclasses import replace

from specgen.files.marks import Mark
from specgen.model.finding import Finding, Outcome, Severity
from specgen.model.folded import folded, summary
from specgen.model.plain import plain
from specgen.rules.catalogue import finding_lines

ONE = Finding(
    "CP03", "drips", Severity.DEFECT, Outcome.FAIL, "no drip", Mark("p.yaml", 4, 9), "P-1", "coping",
    "Water runs back.", "Add one.", (), because=("outer face 6 in high", "zone 5"), missing="",
)  # fmt: skip


def at(parapet: str, **changes: object) -> Finding:
    return replace(ONE, parapet=parapet, **changes)  # type: ignore[arg-type]


def test_parapets_share_a_finding_and_keep_their_places() -> None:
    (one,) = folded([ONE, at("P-2"), at("P-3", mark=Mark("p.yaml", 80, 9))])
    assert one.parapets == ("P-1", "P-2", "P-3")
    assert one.marks == (Mark("p.yaml", 4, 9), Mark("p.yaml", 80, 9))
    text = finding_lines(one)
    assert text.startswith("p.yaml:4:9: defect CP03 no drip (parapet P-1, P-2, P-3, layer coping)\n")
    assert "also at: p.yaml:80:9" in text
    assert [one["line"] for one in plain(one)["marks"]] == [4, 80]


def test_a_fact_that_not_all_share_names_its_parapets() -> None:
    (one,) = folded([ONE, at("P-2", because=("outer face 10 in high", "zone 5"))])
    assert one.because == ("outer face 6 in high (P-1)", "zone 5", "outer face 10 in high (P-2)")


def test_missing_data_are_all_named_and_counted_once() -> None:
    first = at("P-1", outcome=Outcome.UNKNOWN, missing="parapet `P-1`: add `coping`")
    other = at("P-2", outcome=Outcome.UNKNOWN, missing="parapet `P-2`: add `coping`")
    (one,) = folded([first, other])
    assert one.missing == ("parapet `P-1`: add `coping`", "parapet `P-2`: add `coping`")
    assert summary([first, other])["unknown"] == 1


def test_other_words_another_component_or_outcome_are_another_finding() -> None:
    others = [
        at("P-2", message="a drip of 1/8 in"), at("P-2", layer="coping 2"), at("P-2", severity=Severity.RISK),
        at("P-2", outcome=Outcome.WAIVED, waiver="the architect"), at("P-3", outcome=Outcome.WAIVED, waiver="x"),
    ]  # fmt: skip
    assert len(folded([ONE, *others])) == 6
    counts = summary([ONE, *others])
    assert (counts["defect"], counts["risk"], counts["waived"]) == (3, 1, 2)


def test_two_places_of_one_parapet_are_two_findings() -> None:
    second = at("P-1", mark=Mark("p.yaml", 9, 1))
    found = folded([ONE, second, at("P-2"), at("P-2", mark=Mark("p.yaml", 9, 1))])
    assert [one.parapets for one in found] == [("P-1", "P-2"), ("P-1", "P-2")]
    assert summary([ONE, second])["defect"] == 2


def test_a_check_that_passed_counts_at_each_parapet() -> None:
    passed = [at(name, outcome=Outcome.PASS) for name in ("P-1", "P-2", "P-3")]
    assert summary([ONE, at("P-2"), *passed])["pass"] == 3


def test_what_a_person_has_answered_is_not_counted_among_what_is_open() -> None:
    asked = at("P-1", outcome=Outcome.NOT_COVERED)
    counts = summary([asked, at("P-2", outcome=Outcome.NOT_COVERED, answer="the architect, 2026-11-02")])
    assert (counts["not covered"], counts["answered"]) == (1, 1)
