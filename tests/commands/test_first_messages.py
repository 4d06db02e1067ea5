"""What a new user meets first: another kind of file, a mistake in a type, hidden characters, blank values."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import docx
import pytest

from tests.chain.runs import CONFORMING, SUBMITTAL, changed, copied, run

FEW = """project: {name: A, number: "1", issue_date: 2026-11-02}
site: {place: an inland town, code: IBC 2021}
building: {roof_membrane: TPO}
parapets:
  - name: P-1
    height: 36 in
"""
PLASTER = "    build_up:\n      - role: plaster\n        kind: portland cement plaster\n"


def word_file() -> bytes:
    stream = io.BytesIO()
    docx.Document().save(stream)
    return stream.getvalue()


def archive() -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w") as packed:
        packed.writestr("project.yaml", FEW)
    return stream.getvalue()


def cut_off() -> bytes:
    return word_file()[:300]


@pytest.mark.parametrize(
    ("content", "expected", "fix"),
    [
        (word_file, "this is a Word document (.docx), not a YAML file", "name the YAML file, plain text"),
        (
            archive,
            "this is a zip archive, not a YAML file",
            "unpack it, and name the YAML file that was in it",
        ),
        (cut_off, "this is a zip archive, not a YAML file", "unpack it"),
        (
            lambda: b"%PDF-1.7\n%\xe2\xe3",
            "this is a PDF document, not a YAML file",
            "name the YAML file, plain text",
        ),
        (lambda: b"\x89PNG\r\n\x1a\n\0", "this is a picture (PNG)", "name the YAML file, plain text"),
    ],
    ids=["docx", "zip", "cut off", "pdf", "png"],
)
def test_a_document_is_called_what_it_is(content, expected, fix, tmp_path: Path) -> None:
    path = tmp_path / "wall.docx"
    path.write_bytes(content())
    for done in (run("check", path), run("review", CONFORMING, path, "-o", tmp_path / "out")):
        assert done.status == 2 and f"{path}:1:1: error: {expected}" in done.err and f"fix: {fix}" in done.err
        assert "UTF-8" not in done.err
    assert not (tmp_path / "out").exists()


def test_text_that_starts_like_a_document_is_still_read(tmp_path: Path) -> None:
    path = tmp_path / "project.yaml"
    path.write_text("PK: 1\n", "utf-8")
    assert "unknown key `PK`" in run("check", path).err


def test_another_kind_of_file_is_told_once(tmp_path: Path) -> None:
    office = tmp_path / "office.yaml"
    office.write_text('office: {name: Sample Office, document: Standards, edition: "1"}\n', "utf-8")
    assert "this is an office file; a project file is wanted here" in run("check", office).err
    done = run("check", CONFORMING, "--office", SUBMITTAL)
    assert done.status == 2
    assert done.err.startswith(
        f"{SUBMITTAL}:2:1: error: this is a submittal file; an office file is wanted here"
    )
    assert "1 problem; nothing was written." in done.err


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        (
            "between: [top flashing, barrier]",
            "between: [top flshing, barrier]",
            "no component `top flshing` in parapets",
        ),
        (
            "between: [top flashing, roof turn-up]",
            "between: [top flashing, turn-up]",
            "no component `turn-up` in parapets",
        ),
    ],
)
def test_a_mistake_in_a_type_is_told_once_with_its_parapets(
    old: str, new: str, expected: str, tmp_path: Path
) -> None:
    done = run("check", copied(CONFORMING, tmp_path / "job", (old, new)))
    assert done.status == 2 and done.err.count(": error: ") == 1
    assert f"{expected} `P-1`, `P-2`, `P-3`\n" in done.err


def test_a_type_that_is_not_there_is_told_once(tmp_path: Path) -> None:
    job = copied(CONFORMING, tmp_path / "job", ("  street parapet:\n", "  court parapet:\n"))
    done = run("check", job)
    assert done.err.count(": error: ") == 1
    assert "no type `street parapet` in parapets `P-1`, `P-2`, `P-3`\n" in done.err


def test_of_many_parapets_some_are_named_and_the_rest_counted(tmp_path: Path) -> None:
    more = "".join(
        f"  - {{name: Q-{number}, type: street parapet, orientation: south}}\n" for number in range(7)
    )
    job = copied(
        CONFORMING,
        tmp_path / "job",
        ("between: [top flashing, barrier]", "between: [top flshing, barrier]"),
        ("parapets:\n", "parapets:\n" + more),
    )
    assert "`Q-4`, `Q-5` and 4 more\n" in run("check", job).err


@pytest.mark.parametrize("character", ["\u202e", "\u2066", "\u200f", "\u200b", "\U000e0041", "\u0007"])
@pytest.mark.parametrize("written", ["plain", "escaped"])
def test_a_hidden_character_in_a_name_is_refused_with_its_place(
    character: str, written: str, tmp_path: Path
) -> None:
    code = f"\\U{ord(character):08X}"
    name = f'"Alder{code} Street"' if written == "escaped" else f"Alder{character} Street"
    job = copied(CONFORMING, tmp_path / "job", ("name: Alder Street Offices", f"name: {name}"))
    done = run("check", job)
    column = 9 if written == "escaped" else 14
    assert done.status == 2
    assert f"{job / 'project.yaml'}:5:{column}: error: the " in done.err
    assert f"U+{ord(character):04X}" in done.err and "fix: remove it" in done.err


def test_letters_of_other_scripts_stay(tmp_path: Path) -> None:
    job = copied(CONFORMING, tmp_path / "job", ("name: Alder Street Offices", "name: Büro Łódź 東京 שלום"))
    assert run("check", job).status == 0


def test_a_blank_kind(tmp_path: Path) -> None:
    path = tmp_path / "project.yaml"
    path.write_text(FEW + PLASTER.replace("kind: portland cement plaster", "kind:"), "utf-8")
    done = run("check", path)
    assert "9:14: error: `kind` has no value\n    fix: write one of: portland cement plaster" in done.err


def test_a_wall_without_components_is_not_written(tmp_path: Path) -> None:
    path, out = tmp_path / "project.yaml", tmp_path / "out"
    path.write_text(FEW, "utf-8")
    done = run("write", path, "-o", out)
    assert done.status == 2 and not out.exists() and not done.out
    assert "missing in `build_up`: plaster, lath, drainage layer" in done.err
    assert "missing in `top`: " in done.err and "coping" in done.err
    assert run("check", path).status == 3  # nothing is wrong yet, and all is to be found out


def test_one_check_is_one_check() -> None:
    assert run("check", CONFORMING, "--code", "WB01", "--parapet", "P-1").out.endswith("; 1 check passed.\n")


@pytest.mark.parametrize(
    ("code", "expected"),
    [
        ("PL11", "whether the plaster touches the roof membrane is not known"),
        ("PL13", "the age of the plaster when other work loads it is not known"),
    ],
)
def test_what_plaster_leaves_open_reads_as_a_sentence(code: str, expected: str, tmp_path: Path) -> None:
    path = tmp_path / "project.yaml"
    nobody_knows = "".join(f"        {name}: unknown\n" for name in ("touches_roofing", "cure_before_load"))
    path.write_text(FEW + PLASTER + nobody_knows, "utf-8")
    assert f"unknown {code} {expected} (parapet P-1" in run("check", path, "--code", code).out


def test_one_word_changed_shows_rule_reason_authority_and_line(tmp_path: Path) -> None:
    job = copied(CONFORMING, tmp_path / "job", ("slope_toward: roof", "slope_toward: outer face"))
    line = (job / "project.yaml").read_text("utf-8").splitlines().index(
        "        slope_toward: outer face"
    ) + 1
    done = run("check", job)
    assert done.status == 1
    (found,) = [one for one in done.out.split("\n/") if " risk " in one or " defect " in one][:1]
    assert f"project.yaml:{line}:23: " in found and " CP02 " in found
    assert "    reason: " in found and "    source: " in found and "    remedy: " in found
    changed(job / "project.yaml", ("slope_toward: outer face", "slope_toward: roof"))
    assert run("check", job).status == 0


TOP_ALONE = """\
format: 2
project: {name: Any, number: "1", issue_date: 2026-11-02}
site: {place: Anywhere, country: US, code: IBC 2021, climate_zone: 4A}
building: {height: 30 ft}
parapets:
  - name: P-1
    height: 3 ft
    build_up: []
    top:
      - {role: coping, kind: formed metal, metal: aluminum, thickness: 0.050 in}
"""


def test_a_parapet_of_which_the_top_alone_is_described_is_written(tmp_path: Path) -> None:
    (tmp_path / "project.yaml").write_text(TOP_ALONE)
    done = run("write", tmp_path, "-o", tmp_path / "out")
    assert done.status == 3 and "unknown" in done.out, done.err
    assert (tmp_path / "out" / "drawings" / "p-1-section.svg").is_file()
