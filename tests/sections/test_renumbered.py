"""Sections under the numbers of an office: no document of an issue holds an old one."""

from __future__ import annotations

import re
import shutil
import zipfile
from pathlib import Path

import pytest

from specgen.files.marks import InputError
from specgen.work.inputs import read_inputs
from tests.chain.runs import CONFORMING, REPO, run
from tests.conftest import LONG

HEAD = "format: 2\noffice: {name: Hill, document: Standards, edition: '2026'}\nsections:\n"
CHOICES = {
    "manufactured copings": (
        "existing-repair",
        {"07 71 00": "07 71 13", "01 73 29": "01 73 00", "02 41 19": "02 41 00"},
    ),
    "sheet metal": ("cold-continental-school", {"07 71 00": "07 62 00"}),
    "manufactured scuppers": ("hot-humid-lowrise", {"07 71 23": "07 71 33"}),
    "both": ("hot-humid-lowrise", {"07 71 00": "07 71 23", "07 71 23": "07 71 33"}),
}


def office(folder: Path, *lines: str) -> Path:
    path = folder / "office.yaml"
    path.write_text(HEAD + "".join(f"  {line}\n" for line in lines))
    return path


def words_of(path: Path) -> str:
    """The words of a file, markup and package taken off."""
    if path.suffix in (".docx", ".xlsx"):
        with zipfile.ZipFile(path) as package:
            parts = [package.read(name).decode() for name in package.namelist() if name.endswith(".xml")]
        return re.sub(r"<[^>]+>", "", "\n".join(re.sub(r"</w:p>|</si>|</c>", "\n", part) for part in parts))
    return "" if path.suffix == ".pdf" else path.read_text(encoding="utf-8")


@pytest.mark.parametrize("name", CHOICES if LONG else ["both"])
def test_no_document_holds_an_old_number(name: str, tmp_path: Path) -> None:
    example, numbers = CHOICES[name]
    lines = [f"{old}: {{number: {new}, title: Sheet Metal of the Top}}" for old, new in numbers.items()]
    file = office(tmp_path, *lines)
    done = run("write", str(REPO / "tests" / "stated" / example), "-o", str(tmp_path / "out"), "--office", str(file),
               "--with-open-points", "--strict")  # fmt: skip
    assert done.status in (0, 1) and not re.search(r"\d remark", done.err), done.err
    files = [path for path in sorted((tmp_path / "out").rglob("*")) if path.is_file()]
    gone = set(numbers) - set(numbers.values())
    for old in gone:
        holds = [path.name for path in files if old in words_of(path) or old.replace(" ", "-") in path.name]
        assert holds == [], old
    for new in numbers.values():
        (section,) = (tmp_path / "out").glob(f"{new.replace(' ', '-')}-sheet-metal-of-the-top.docx")
        assert f"Section {new}" in words_of(section)
        assert any(
            f"Section {new}, Sheet Metal of the Top" in words_of(path) for path in files if path != section
        )


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("07 71 00: 07 65 00", r"3:.*07 65 00 is that of the Section Flexible Flashing"),
        ("07 71 00: 01 40 00", "01 40 00 is that of the Section Quality Requirements"),
        ("07 71 00: 07 21 00", "07 21 00 is that of the Section Thermal Insulation"),
        ("07 71 00: copings", "no section number"),
        ("07 71 00: 077113", "no section number"),
        ("07 71 00: {title: Copings}", "no section number"),
        ("07 71 01: 07 71 13", "no section `07 71 01`"),
        ("07 71 00: {number: 07 71 13, titel: Copings}", "titel"),
    ],
)
def test_what_cannot_be_is_refused_at_its_place(line: str, message: str, tmp_path: Path) -> None:
    with pytest.raises(InputError) as caught:
        read_inputs(CONFORMING, office(tmp_path, line), False)
    assert re.search(message, str(caught.value))
    assert {one.mark.line for one in caught.value.problems} == {4}
    assert all(one.fix for one in caught.value.problems)


def test_two_sections_do_not_get_one_number(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="two sections are to have the number 07 62 00"):
        read_inputs(CONFORMING, office(tmp_path, "07 71 00: 07 62 00", "07 71 23: 07 62 00"), False)


def test_the_addendum_tells_a_changed_number(tmp_path: Path) -> None:
    project, out = tmp_path / "project", tmp_path / "out"
    project.mkdir()
    words = CONFORMING.joinpath("project.yaml").read_text()
    project.joinpath("project.yaml").write_text(words)
    assert run("write", str(project), "-o", str(out), "--with-open-points").status in (0, 1)
    project.joinpath("project.yaml").write_text(words.replace("2026-11-02", "2026-12-01", 1))
    office(project, "07 71 00: {number: 07 71 13, title: Manufactured Copings}")
    done = run("write", str(project), "-o", str(out), "--with-open-points")
    assert done.status in (0, 1), done.err
    assert not list(out.glob("07-71-00*")) and list(out.glob("07-71-13-manufactured-copings.docx"))
    (addendum,) = out.rglob("addendum*.docx")
    words = words_of(addendum)
    assert words.count("the office has changed the number") >= 2
    assert "07-71-00-copings.docx" in words and "07-71-13-manufactured-copings.docx" in words


def test_what_answers_a_submittal_names_the_chosen_number(tmp_path: Path) -> None:
    project, out = tmp_path / "project", tmp_path / "out"
    shutil.copytree(CONFORMING, project)
    office(project, "07 71 00: {number: 07 62 00, title: Sheet Metal of the Top}")
    failing = project / "submittals" / "top-failing.yaml"
    failing.write_text(failing.read_text().replace("07 71 00-01", "C-1"))
    mesh = project / "substitutions" / "mesh.yaml"
    for words in (("review", project, failing), ("substitute", project, mesh), ("letters", project, failing),
                  ("register", project), ("audit", tmp_path)):  # fmt: skip
        assert run(*map(str, words), "-o", str(out / words[0])).status in (0, 1, 3)
    files = [path for path in sorted(out.rglob("*")) if path.is_file() and path.name != "manifest.json"]
    answers = [path for path in files if "register" not in path.parts]  # the ids of a register's rows stay
    assert [path.name for path in answers if "07 71 00" in words_of(path)] == []
    review = words_of(out / "review" / "review-c-1.docx")
    assert "07 62 00" in review and "07 62 00" in words_of(out / "letters" / "deficiency-list.docx")


def test_a_register_goes_on_under_another_number(tmp_path: Path) -> None:
    project, out = tmp_path / "project", tmp_path / "out"
    shutil.copytree(CONFORMING, project)
    first = run("register", str(project), "-o", str(out))
    office(project, "07 71 00: {number: 07 62 00, title: Sheet Metal of the Top}")
    second = run("register", str(project), "-o", str(out))
    assert first.status == second.status == 0, second.err
    assert "no longer asked for" not in second.out
    count = re.compile(r"(\d+) submittals")
    assert count.findall(first.out) == count.findall(second.out) != []
