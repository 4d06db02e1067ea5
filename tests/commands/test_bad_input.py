"""Bad input on the command line and in files: a clear error, status 2, no traceback, nothing written or lost.

What a single key or value may hold is tested in tests/intake; here a whole command meets what people type.
"""

from __future__ import annotations

import io
import json
import os
import re
import stat
import zipfile
from collections.abc import Callable
from pathlib import Path

import docx
import pytest

from tests.chain.runs import CONFORMING, SUBMITTAL, Done, changed, contents, copied, run
from tests.conftest import sampled


@pytest.fixture
def out(tmp_path) -> Path:
    return tmp_path / "out"


def refused(done: Done, out: Path, *expected: str) -> None:
    """The command said what is wrong and wrote nothing."""
    assert done.status == 2, done
    assert not done.out
    assert "Traceback" not in done.err
    for words in expected:
        assert words in done.err
    assert not out.exists() or not list(out.iterdir())


def project(folder: Path, *changes: tuple[str, str]) -> Path:
    return copied(CONFORMING, folder / "job", *changes)


def sheet(folder: Path, *changes: tuple[str, str]) -> Path:
    path = folder / "sheet.yaml"
    path.write_bytes(SUBMITTAL.read_bytes())
    return changed(path, *changes)


def word_file() -> bytes:
    stream = io.BytesIO()
    docx.Document().save(stream)
    return stream.getvalue()


def zip_file() -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("project.yaml", (CONFORMING / "project.yaml").read_bytes())
    return stream.getvalue()


PDF = b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj\n<< /Type /Catalog >>\nendobj\n"
ENTIRELY_OTHER = {
    "Word file": word_file,
    "zip": zip_file,
    "PDF": lambda: PDF,
    "picture": lambda: b"\x89PNG\r\n\x1a\n\0",
}


@pytest.mark.parametrize("kind", ENTIRELY_OTHER)
def test_another_kind_of_file_with_a_yaml_name(kind, tmp_path, out):
    make: Callable[[], bytes] = ENTIRELY_OTHER[kind]
    content = make()
    path = tmp_path / "project.yaml"
    path.write_bytes(content)
    refused(run("check", path), out, f"{path}:", "error:")
    refused(run("write", path, "-o", out), out, f"{path}:", "error:")
    refused(run("review", CONFORMING, path, "-o", out), out, f"{path}:", "error:")
    assert path.read_bytes() == content


def test_a_project_given_as_submittal_and_the_reverse(out):
    done = run("review", CONFORMING, CONFORMING / "project.yaml", "-o", out)
    refused(done, out, "this is a project file; a submittal file is wanted here", "1 problem;")
    printed = "this is a submittal file; a project file is wanted here"
    refused(
        run("write", SUBMITTAL, "-o", out), out, printed, "specgen review PROJECT SUBMITTAL", "1 problem;"
    )
    refused(run("review", SUBMITTAL, SUBMITTAL, "-o", out), out, printed, "1 problem;")
    refused(run("check", SUBMITTAL.parent), out, "the folder has no project.yaml", "specgen new DIR")


def test_a_folder_without_submittals_is_no_submittal(out):
    folder = CONFORMING / "substitutions"
    refused(run("review", CONFORMING, folder, "-o", out), out, f"{folder}:1:1", "holds no submittal file")


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("role: barrier", "role: bariier", "9:11: error: `bariier` is not a known role"),
        ("role: barrier", "role: bariier", "fix: did you mean `barrier`?"),
        ("role: barrier", "role: gutter", "`gutter` is not a known role"),
        ("name: Barrier A", "name:", "a product needs a name"),
        ('project: "2601"', 'project: "2602"', "the submittal is for project `2602`, this is project `2601`"),
        ('number: "07 27 00-01"', 'number: "…"', "has no letter or digit"),
        ("date: 2026-11-16", "date: soon", "`date` is `soon`, a date is wanted"),
        ("name: Barrier A", "name: Barrier A\n    parapets: [P-9]", "no parapet `P-9` in the project"),
    ],
)  # fmt: skip
def test_a_submittal_that_cannot_be_used(old, new, expected, tmp_path, out):
    path = sheet(tmp_path, (old, new))
    refused(run("review", CONFORMING, path, "-o", out), out, f"{path}:", expected)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("value: 42 psi", "value: -42 psi"),
        ("value: 14 perm", "value: .nan perm"),
        ("value: passes", "value: PASS"),
        ("value: 0.0009 cfm/ft2", "value: 0,0009 cfm/ft2"),
        ("value: 180 days", "value: 6 months"),
        ("value: 40 mil", "value: 40 mils nominal, varies"),
    ],
)
def test_an_untidy_value_costs_its_row_and_no_other(old, new, tmp_path, out):
    done = run("review", CONFORMING, sheet(tmp_path, (old, new)), "-o", out)
    assert done.status in (1, 3) and "Barrier A: " in done.out and not done.err
    assert "no exceptions taken" not in done.out


def test_one_bad_submittal_of_two_stops_both(tmp_path, out):
    bad = sheet(tmp_path, ("role: barrier", "role: bariier"))
    refused(run("review", CONFORMING, SUBMITTAL, bad, "-o", out), out, "1 problem; nothing was written")


@pytest.mark.parametrize("number", ["07 27 00-01", "07-27-00-01", "07/27/00 01"])
def test_two_submittals_whose_letters_would_have_one_name(number, tmp_path, out):
    other = sheet(tmp_path, ('"07 27 00-01"', f'"{number}"'))
    done = run("review", CONFORMING, SUBMITTAL, other, "-o", out)
    refused(done, out, f"submittal number `{number}` gives its letter the name of the one in {SUBMITTAL}")


def test_a_submittal_number_cannot_leave_the_folder(tmp_path, out):
    path = sheet(tmp_path, ('"07 27 00-01"', '"../../07"'))
    run("review", CONFORMING, path, "-o", out)
    assert set(contents(out)) == {"manifest.json", "review-07.docx", "review-07.json"}
    assert {one.name for one in tmp_path.iterdir()} == {"sheet.yaml", "out"}


@pytest.mark.parametrize("command", ["write", "review", "new"])
@pytest.mark.parametrize("where", ["file", "file/below", "loop", "loop/below", "", "  "])
def test_an_output_folder_that_cannot_be(command, where, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("file").write_text("a letter to keep")
    Path("loop").symlink_to("loop")
    words = {
        "write": ("write", CONFORMING, "-o", where),
        "review": ("review", CONFORMING, SUBMITTAL, "-o", where),
        "new": ("new", where),
    }[command]
    done = run(*words)
    assert done.status == 2
    assert "name a folder" in done.err or "the folder has no name" in done.err
    assert sorted(path.name for path in tmp_path.iterdir()) == ["file", "loop"]
    assert Path("file").read_text() == "a letter to keep"


@pytest.mark.skipif(os.geteuid() == 0, reason="root writes into read-only folders: not run as root")
def test_a_read_only_output_folder(tmp_path, out):
    out.mkdir()
    out.chmod(stat.S_IRUSR | stat.S_IXUSR)
    refused(run("write", CONFORMING, "-o", out), out, "Permission denied")


@pytest.mark.parametrize("command", ["check", "write"])
def test_a_loop_of_links(command, tmp_path, out):
    loop = tmp_path / "loop"
    loop.symlink_to(loop)
    for path in (loop, loop / "project.yaml"):
        done = run("check", path) if command == "check" else run("write", path, "-o", out)
        refused(done, out, f"{path}:1:1: error: ", "symbolic links")


@pytest.mark.parametrize("path", ["nowhere", "nowhere/project.yaml", "x" * 400])
def test_a_project_that_is_not_there(path, tmp_path, out, monkeypatch):
    monkeypatch.chdir(tmp_path)
    refused(run("write", path, "-o", out), out, f"{path}:")


def test_a_path_with_spaces_and_letters_of_other_scripts(tmp_path):
    job = copied(CONFORMING, tmp_path / "Büro Nord" / "стена 7")
    out = tmp_path / "Ausgabe für morgen" / "出力"
    done = run("write", job, "-o", out)
    files = contents(out)
    assert done.status == 0
    assert set(files) == {*json.loads(files["manifest.json"])["files"], "manifest.json"}
    assert f"specgen check '{job}'" in done.out


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("thickness: 8 3/4 in", "thickness: -13 in", "`-13 in` is below zero"),
        ("coats: 3", "coats: -3", "coats"),
        ("height: 42 in", "height: .inf", "is not a finite number"),
        ("height: 42 in", "height: .nan in", "is not a finite number"),
        ("height: 42 in", "height: 1e999 in", "is not a finite number"),
        ("height: 42 in", "height: 42", "height"),
        ("issue_date: 2026-11-02", "issue_date: 2026-02-30", "date"),
        ("name: Alder Street Offices", 'name: "a\\u0007b"', "U+0007"),
        ("name: Alder Street Offices", 'name: "a\\u0000b"', "U+0000"),
        ("name: Alder Street Offices", f"name: {'x' * 501}", "at most 500"),
        ("name: Alder Street Offices", "name: !!python/object/apply:os.system [ls]", "error"),
    ],
)  # fmt: skip
def test_a_project_that_cannot_be_used(old, new, expected, tmp_path, out):
    job = project(tmp_path, (old, new))
    refused(run("check", job), out, f"{job / 'project.yaml'}:", expected)
    refused(run("write", job, "-o", out), out, f"{job / 'project.yaml'}:", expected)


def test_five_hundred_problems_are_told_in_one_run(tmp_path, out):
    job = project(tmp_path)
    text = (job / "project.yaml").read_text("utf-8")
    strange = "".join(f"  strange_{number}: 1\n" for number in range(500))
    (job / "project.yaml").write_text(text.replace("site:\n", f"site:\n{strange}", 1), "utf-8")
    done = run("write", job, "-o", out)
    refused(done, out, "500 problems; nothing was written", "... and 480 more of this kind")
    lines = [
        int(number) for number in re.findall(r"project\.yaml:(\d+):3: error: unknown key `strange_", done.err)
    ]
    assert lines == list(range(lines[0], lines[0] + 20))
    found = json.loads(run("check", job, "--format", "json").out)["errors"]
    assert [one["line"] for one in found] == list(range(lines[0], lines[0] + 500))


LITERAL = [
    "{{ 7*7 }}",
    "{% for x in range(9) %}{{ x }}{% endfor %} {# gone #}",
    "{{ ''.__class__.__mro__ }}",
    "=cmd|'/c calc'!A1",
    '<w:p/> & ]]> "quoted"',
    "x" * 400,
]


def read(content: bytes) -> str:
    """Every word of a Word file: text, tables, header and footer."""
    word = docx.Document(io.BytesIO(content))
    cells = [cell.text for table in word.tables for row in table.rows for cell in row.cells]
    margins = [p.text for part in (word.sections[0].header, word.sections[0].footer) for p in part.paragraphs]
    return "\n".join([*(p.text for p in word.paragraphs), *cells, *margins])


@pytest.mark.parametrize("name", sampled("names that look like something else", LITERAL))
def test_a_project_name_stays_the_text_it_is(name, tmp_path, out):
    job = project(tmp_path, ("name: Alder Street Offices", f"name: {json.dumps(name)}"))
    assert run("write", job, "-o", out).status == 0
    files = contents(out)
    assert set(files) == {*json.loads(files["manifest.json"])["files"], "manifest.json"}
    for path, content in files.items():
        if path.endswith(".docx"):
            assert f"2601 {name}" in read(content), path
    assert json.loads(files["trace.json"])["project"] == f"2601 {name}"


@pytest.mark.parametrize("name", sampled("names that look like something else", LITERAL))
def test_names_in_a_submittal_stay_the_text_they_are(name, tmp_path, out):
    quoted = json.dumps(name)
    path = sheet(tmp_path, ("name: Barrier A", f"name: {quoted}"), ("air barrier installer", quoted))
    changed(path, ('number: "07 27 00-01"', f"number: {json.dumps('7 ' + name)}"))
    assert run("review", CONFORMING, path, "-o", out).status == 0
    (letter,) = out.glob("*.docx")
    words = read(letter.read_bytes())
    assert words.count(name) >= 3
    assert f"Submittal 7 {name}" in words


@pytest.mark.parametrize(
    "name", sampled("names that look like something else", ["{{ 7*7 }}", "3 in", "12", "2.1.A"])
)
def test_a_parapet_name_stays_the_text_it_is(name, tmp_path, out):
    job = project(tmp_path, ("name: P-2", f"name: {json.dumps(name)}"))
    assert run("write", job, "-o", out).status == 0
    (coping,) = out.glob("07-71-00-*.docx")
    assert name in read(coping.read_bytes())


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("height: 42 in", "height: 1e300 in"),
        ("temp_summer: 93 degF", "temp_summer: 1e9 degF"),
        ("piece_length: 10 ft", "piece_length: 10000 ft"),
        ("wind_speed: 115 mph", "wind_speed: 1e6 mph"),
        ("panel_ratio: 2.2", "panel_ratio: 1e308"),
    ],
)
def test_an_enormous_number_ends_in_words_and_never_in_nan(old, new, tmp_path, out):
    """Whether it is refused, found or left unknown is the business of other rooms; it may not break a file."""
    job = project(tmp_path, (old, new))
    done = run("write", job, "-o", out, "--state", "draft")
    assert done.status in (0, 1, 2, 3)
    assert bool(contents(out) if out.exists() else {}) == (done.status != 2)
    for name, content in contents(out).items() if out.exists() else ():
        if name.endswith((".pdf", ".xlsx")):
            continue  # drawn and listed from the same words as the others
        words = read(content) if name.endswith(".docx") else content.decode()
        assert not re.search(r"\b(?:nan|inf|NaN|Infinity)\b", words), name
