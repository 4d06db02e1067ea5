"""An office file: what it changes, what it may not say, and what of it is code."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from specgen.files.marks import InputError
from specgen.intake.office import load_office, office_file
from specgen.model.finding import Severity
from specgen.model.source import Status
from specgen.practice.load import load_practice
from specgen.practice.methods import Edition
from specgen.practice.office import Office
from specgen.rules.office import changeable

HEAD = 'office: {name: Sample Office, document: Wall Standards, edition: "2026"}\n'
PRACTICE = load_practice()
CHANGEABLE = changeable(PRACTICE)

Read = Callable[..., Office]


@pytest.fixture
def read(tmp_path: Path) -> Read:
    def of(text: str | bytes, allow_code: bool = False) -> Office:
        path = tmp_path / "office.yaml"
        path.write_bytes(text if isinstance(text, bytes) else (HEAD + text).encode())
        return load_office(path, PRACTICE, CHANGEABLE, allow_code)

    return of


@pytest.fixture
def problems_of(read: Read) -> Callable[..., list[str]]:
    def of(text: str | bytes, allow_code: bool = False) -> list[str]:
        with pytest.raises(InputError) as caught:
            read(text, allow_code)
        return [
            f"{one.mark.line}:{one.mark.column} {one.message} | {one.fix}" for one in caught.value.problems
        ]

    return of


def test_a_limit_carries_the_source_of_the_office_and_the_one_it_replaces(read: Read) -> None:
    office = read("limits:\n  drainage.depth: {value: 3/8 in, place: item 4}\n  coping.drip: 1 1/4 in\n")
    depth, drip = (change.entry for change in office.changes)
    assert depth.value is not None and depth.quantity().text == "3/8 in"
    assert depth.source.status is Status.OFFICE and depth.source.office == "Sample Office"
    assert str(depth.source) == (
        "Wall Standards 2026, item 4 [standard of the office Sample Office], "
        f"in place of {PRACTICE.source('drainage.depth')}"
    )
    assert drip.source.place == "office.yaml line 4"
    assert depth.source.instead_of == PRACTICE.source("drainage.depth")


def test_a_limit_at_the_same_test_condition_in_another_unit_is_taken(
    read: Read, problems_of: Callable[..., list[str]]
) -> None:
    key = next(
        key
        for key, one in PRACTICE.entries.items()
        if str(getattr(one.value, "text", "")) == "0.004 cfm/ft2 @ 75 Pa"
    )
    office = read(f"limits:\n  {key}: 0.003 cfm/ft2 @ 1.57 psf\n")
    assert office.changes[0].entry.quantity().text == "0.003 cfm/ft2 @ 1.57 psf"
    for other in ("0.003 cfm/ft2 @ 50 Pa", "0.003 cfm/ft2"):
        (message,) = problems_of(f"limits:\n  {key}: {other}\n")
        assert "is not at the test condition of the limit" in message


def test_severities_options_and_values(read: Read) -> None:
    office = read(
        "severity: {CP04: defect}\n"
        "options: {CP03: {floor: 7/8 in}}\n"
        "values:\n"
        "  office.mockup_length:\n"
        "    title: length of the mock-up\n"
        "    value: 12 ft\n"
        "    source: {document: Trade Notes, edition: '2020', place: p. 4, status: P}\n"
    )
    assert office.severity == {"CP04": Severity.DEFECT}
    assert [change.entry.key for change in office.changes] == ["coping.drip_floor"]
    (value,) = office.values
    assert value.quantity().text == "12 ft"
    assert str(value.source) == "Trade Notes 2020, p. 4 [P: common practice; entered by Sample Office]"


def test_a_limit_from_a_code_is_told_as_below_it(read: Read) -> None:
    office = read(
        "limits:\n"
        "  drainage.depth: 1/8 in\n"  # at least 3/16 in by code
        "  barrier.air_permeance: 0.005 cfm/ft2 @ 75 Pa\n"  # at most 0.004 by a code from memory
        "  outlet.flange: 88.9 mm\n"  # 3 1/2 in, in another unit
        "  turnup.height: 6 in\n"  # practice, not code
    )
    assert [change.below_code for change in office.changes] == [True, True, False, False]


PROBLEMS = {
    "limits: {drainage.dpth: 3/8 in}": "2:10 no limit `drainage.dpth` | did you mean `drainage.depth`?",
    "limits: {vapor.irradiance: 3 in}": "2:10 `vapor.irradiance` is known, but it limits no requirement in one "
    "direction | a rule option may change it (see specgen rules); only limits of requirements stand here",
    "limits: {drainage.depth: 3 perm}": "2:26 `drainage.depth`: `3 perm` is a vapor permeance | "
    "write a length: in, ft, mm, m",
    "limits: {drainage.depth: [3 in]}": "2:26 `drainage.depth` is a list, a value like `3/16 in` is wanted | "
    "write a number and its unit",
    "limits: {drainage.depth: -3 in}": "2:26 `drainage.depth`: `-3 in` is below zero | write it without a minus sign",
    "limits: {drainage.depth: {place: x}}": "2:26 `value` is missing | add a line `value: …`",
    "limits: {barrier.air_permeance: 0.003 cfm/ft2}": "2:33 `barrier.air_permeance`: `0.003 cfm/ft2` is not at the "
    "test condition of the limit | write it like `0.004 cfm/ft2 @ 75 Pa`",
    "limits: {turnup.attachment: [loose]}": "2:29 no word of turnup.attachment `loose` | "
    "known: fully adhered, fluid-applied",
    "limits: [3]": "2:9 `limits`: a list stands where `name: value` lines are wanted | "
    "write indented lines below `limits:`",
    "severity: {CP004: defect}": "2:12 no rule `CP004` | did you mean `CP04`?",
    "severity: {CP04: defekt}": "2:18 no severity `defekt` | did you mean `defect`?",
    "severity: {DL02: query}": "2:18 DL02 is a defect and rests on the code; the office cannot make it a query | "
    "delete the line; a project may waive one finding of it",
    "options: {CP03: {flor: 1 in}}": "2:18 no option of CP03 `flor` | did you mean `floor`?",
    "limits: {coping.drip: 2 in}\noptions: {CP03: {drip: 3 in}}": "3:18 `drip` of CP03 is the value `coping.drip`, "
    "which line 2 changes | write it once",
    "values: {mockup: {title: x, value: 1 in}}": "2:10 `mockup` is no name for a value of the office | "
    "start it with `office.`, then lower-case words: office.mockup_length",
    "values: {office.x: {title: x, value: 1 in}}": "2:20 `office.x` has no source | "
    "add `source: {document: …, edition: …, place: …, status: …}`",
    "values: {office.x: {title: x, source: {document: D, edition: E, status: P}}}": "2:39 `place` is missing | "
    "add a line `place: …`",
    "limit: {drainage.depth: 1 in}": "2:1 unknown key `limit` | did you mean `limits`?",
    "rules: ../outside": "2:8 `rules` is no name of a folder | "
    "write the name of a folder beside the office file: letters, digits, hyphens",
    "rules: nowhere": "2:8 there is no folder `nowhere` beside the office file | make it, or delete the line",
}


@pytest.mark.parametrize("text", PROBLEMS)
def test_each_mistake_at_its_place(problems_of: Callable[..., list[str]], text: str) -> None:
    assert problems_of(text) == [PROBLEMS[text]]


def test_all_mistakes_in_one_run(problems_of: Callable[..., list[str]]) -> None:
    assert len(problems_of("limits: {a: 1, b: 2}\nseverity: {X: y}\nvalues: {z: {}}\nrules: 3\n")) == 5


def test_an_office_has_a_name_a_document_and_an_edition(problems_of: Callable[..., list[str]]) -> None:
    assert problems_of(b"limits: {}\n") == ["1:1 `office` is missing | add a section `office:`"]
    assert problems_of(b"office: {name: A, document: B}\n") == [
        "1:9 `edition` is missing | add a line `edition: …`"
    ]


@pytest.mark.parametrize(
    "text",
    [
        b"!!python/object/apply:os.system ['true']",
        b"office: !!python/name:os.system x\n",
        b"- a list\n",
        b"",
        b"\xff\xfe",
        b"office: &a [*a]\n",
        b"{" * 200,
        b"office: \x00\n",
        b"limits: {<<: {drainage.depth: 1 in}}\n",
    ],
)
def test_a_hostile_file_is_an_input_error(problems_of: Callable[..., list[str]], text: bytes) -> None:
    assert problems_of(text)


def test_code_is_not_run_unless_allowed(
    problems_of: Callable[..., list[str]], read: Read, tmp_path: Path
) -> None:
    folder = tmp_path / "own_rules"
    folder.mkdir()
    (folder / "ab01_a.py").write_text("raise SystemExit\n")
    (problem,) = problems_of("rules: own_rules\n")
    assert problem.startswith(
        "2:8 the office file brings rules as Python code; no code was run | add --allow-office-code"
    )
    assert read("rules: own_rules\n", True).rules == folder  # reading alone runs nothing


def test_the_office_file_beside_the_project(tmp_path: Path) -> None:
    assert office_file(tmp_path) is None
    (tmp_path / "office.yaml").write_text(HEAD)
    assert office_file(tmp_path) == office_file(tmp_path / "project.yaml") == tmp_path / "office.yaml"


def test_editions_of_standards(read: Read, problems_of: Callable[..., list[str]]) -> None:
    office = read(
        "editions: {ASTM E2178: 2021, ASTM D1970: 2013 (2020), ASTM E96: 2022a}\nolder_editions: accept\n"
    )
    wanted = {
        "ASTM E2178": Edition(2021),
        "ASTM D1970": Edition(2013, again=2020),
        "ASTM E96": Edition(2022, "a"),
    }
    assert (office.editions, office.older_editions) == (wanted, "accept")
    assert read("").older_editions == "confirm"
    assert problems_of(
        "editions: {ASTM E2187: 2021, ASTM E96: 21, ASTM D1970: 1812, ASTM E2178: [2021]}\n"
    ) == [
        "2:12 no standard `ASTM E2187` | did you mean `ASTM E2178`?",
        "2:40 `ASTM E96`: `21` is no edition | write its year, as 2021, 2021a or 2013 (2020)",
        "2:56 `ASTM D1970`: `1812` is no edition | write its year, as 2021, 2021a or 2013 (2020)",
        "2:74 `ASTM E2178`: a list is no edition | write its year, as 2021, 2021a or 2013 (2020)",
    ]
    assert problems_of("older_editions: ignore\n") == ["2:17 no choice `ignore` | known: confirm, accept"]


AMENDMENT = """amendments:
  - jurisdiction: Sample County
    changes: {key}
    value: {value}
    since: {since}
    source: {{document: county building code, edition: "2026", place: "1502.3", status: C}}
"""


def test_an_amendment_has_its_section_and_its_first_day(read: Read) -> None:
    text = AMENDMENT.format(key="scupper.overflow_inlet_most", value="3 in", since="2026-01-01")
    (one,) = read(text).amendments
    assert (one.jurisdiction, one.key, one.since, one.until) == (
        "Sample County",
        "scupper.overflow_inlet_most",
        "2026-01-01",
        "",
    )
    assert getattr(one.value, "text", "") == "3 in"
    assert one.source.place == "1502.3" and one.source.of_code


@pytest.mark.parametrize(
    ("key", "value", "since", "expected"),
    [
        ("scupper.overflow_inlet_mots", "3 in", "2026-01-01", "scupper.overflow_inlet_most"),
        ("scupper.overflow_inlet_most", "3 psf", "2026-01-01", "psf"),
        ("scupper.overflow_inlet_most", "-3 in", "2026-01-01", "below zero"),
        ("scupper.overflow_inlet_most", "3 in", "next year", "since"),
    ],
)
def test_an_amendment_that_cannot_hold_is_refused_with_its_line(
    problems_of: Callable[..., list[str]], key: str, value: str, since: str, expected: str
) -> None:
    (problem,) = problems_of(AMENDMENT.format(key=key, value=value, since=since))
    assert expected in problem


def test_amendments_that_are_no_list_are_refused(problems_of: Callable[..., list[str]]) -> None:
    assert "no list" in problems_of("amendments: {scupper.overflow_inlet_most: 3 in}\n")[0]
    assert problems_of("amendments: [3 in]\n")
    assert "has no value" in " ".join(
        problems_of(
            AMENDMENT.format(key="scupper.opening", value="5 in", since="2026-01-01").replace(
                "    value: 5 in\n", ""
            )
        )
    )
