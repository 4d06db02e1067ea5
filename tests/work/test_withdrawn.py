"""Papers that an issue no longer holds leave the folder and are kept; a folder of another project is refused."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from tests.chain.runs import CONFORMING, Done, changed, contents, copied, run
from tests.chain.test_hand_edits import SECTION, edited

CARPENTRY = "06-10-00-rough-carpentry.docx"
LATER = ("issue_date: 2026-11-02", "issue_date: 2026-12-01")
OTHER = ('number: "2601"', 'number: "2602"'), ("name: Alder Street Offices", "name: Birch Street School")


def shorter(folder: Path, *changes: tuple[str, str]) -> Path:
    """A copy of the worked example with one of its three parapets: each issue is written sooner."""
    copied(CONFORMING, folder, *changes)
    cut(folder, "P-2")
    return folder


def cut(project: Path, parapet: str) -> None:
    """Take a parapet, and those after it, out of the project file."""
    path = project / "project.yaml"
    text = path.read_text("utf-8")
    path.write_text(text[: text.index(f"  - name: {parapet}")], "utf-8")


@pytest.fixture
def project(tmp_path: Path) -> Path:
    return shorter(tmp_path / "project")


@pytest.fixture(scope="module")
def issued(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The first issue, written once: each test has a copy of it."""
    folder = tmp_path_factory.mktemp("issued")
    assert write(shorter(folder / "project"), folder / "out").status == 0
    return folder / "out"


@pytest.fixture
def out(project: Path, issued: Path) -> Path:
    return shutil.copytree(issued, project.parent / "out")


def write(project: Path, out: Path, *words: object) -> Done:
    return run("write", project, "-o", out, *words)


def without(project: Path, role: str, *changes: tuple[str, str]) -> None:
    """Take a component of the first assembly that has it out of the project file."""
    path = project / "project.yaml"
    lines, kept, skipping = path.read_text("utf-8").splitlines(keepends=True), [], -1
    for line in lines:
        indent = len(line) - len(line.lstrip())
        if skipping >= 0 and (not line.strip() or indent > skipping):
            continue
        skipping = indent if line.strip() == f"- role: {role}" else -1
        if skipping < 0:
            kept.append(line)
    assert len(kept) < len(lines)
    path.write_text("".join(kept), "utf-8")
    changed(path, *changes)


def words_of(out: Path, name: str) -> dict:
    return json.loads((out / name).read_text("utf-8"))


def test_a_section_that_is_no_longer_written_is_withdrawn_and_told(project: Path, out: Path) -> None:
    old = contents(out)
    without(project, "blocking", LATER)
    done = write(project, out, "--state", "draft")
    place = f"withdrawn/2026-12-01/{CARPENTRY}"
    assert f"withdrawn (no parapet has blocking), now in withdrawn/2026-12-01/: {CARPENTRY}" in done.out
    assert CARPENTRY not in contents(out) and contents(out)[place] == old[CARPENTRY]
    (paper,) = words_of(out, "addendum-2026-12-01.json")["papers"]
    assert paper["file"] == CARPENTRY and paper["kind"] == "withdrawn"
    assert paper["because"] == ["no parapet has blocking"]
    assert paper["title"].endswith("Rough Carpentry")
    lines = [
        one
        for file, changes in words_of(out, "addendum-2026-12-01.json")["paragraphs"].items()
        if file.startswith(("01-33-00", "01-40-00"))
        for one in changes
    ]
    assert {one["kind"] for one in lines} == {"deleted"}
    (why,) = {line for one in lines for line in one["because"]}
    assert "kind: taken out, was preservative-treated wood" in why and "blocking" in why


def test_the_paper_is_issued_again_when_its_section_comes_back(project: Path, out: Path) -> None:
    whole = (project / "project.yaml").read_text("utf-8")
    without(project, "blocking", LATER)
    write(project, out, "--state", "draft")
    (project / "project.yaml").write_text(whole, "utf-8")
    changed(project / "project.yaml", (LATER[0], "issue_date: 2027-01-04"))
    done = write(project, out)
    assert CARPENTRY in contents(out) and f"withdrawn/2026-12-01/{CARPENTRY}" in contents(out)
    (paper,) = words_of(out, "addendum-2027-01-04.json")["papers"]
    assert (paper["file"], paper["kind"]) == (CARPENTRY, "issued again")
    assert "addendum-2026-12-01.docx" in contents(out), "an addendum that was issued is a record"
    assert "withdrawn" not in done.out
    found = contents(out)
    assert write(project, out).status == 0 and contents(out) == found, "written again, it is the same issue"


def test_edits_go_along_and_are_named(project: Path, out: Path) -> None:
    mine = edited(out / CARPENTRY)
    without(project, "blocking", LATER)
    done = write(project, out, "--state", "draft")
    place = f"withdrawn/2026-12-01/{CARPENTRY}"
    assert contents(out)[place] == mine and CARPENTRY not in contents(out)
    assert f"{CARPENTRY} was edited by hand and is kept in {place}" in done.out
    assert "+ Agreed on the telephone: brushed finish." in done.out


def test_the_new_text_beside_an_edited_paper_is_withdrawn_with_it(project: Path, out: Path) -> None:
    mine = edited(out / CARPENTRY)
    write(project, out)
    beside = CARPENTRY.replace(".docx", ".new.docx")
    new = contents(out)[beside]
    without(project, "blocking", LATER)
    write(project, out, "--state", "draft")
    found = contents(out)
    assert found[f"withdrawn/2026-12-01/{CARPENTRY}"] == mine
    assert found[f"withdrawn/2026-12-01/{beside}"] == new
    assert CARPENTRY not in found and beside not in found


def test_nothing_that_was_withdrawn_is_overwritten(project: Path, out: Path) -> None:
    whole = (project / "project.yaml").read_text("utf-8")
    for _ in (1, 2):
        (project / "project.yaml").write_text(whole, "utf-8")
        write(project, out)
        edited(out / CARPENTRY)
        without(project, "blocking")
        write(project, out, "--state", "draft")
    kept = {name for name in contents(out) if name.startswith("withdrawn/") and name.endswith(CARPENTRY)}
    assert kept == {f"withdrawn/2026-11-02/{CARPENTRY}", f"withdrawn/2026-11-02-2/{CARPENTRY}"}


def test_drawings_of_a_parapet_that_is_gone_are_withdrawn(tmp_path: Path) -> None:
    project, out = copied(CONFORMING, tmp_path / "project"), tmp_path / "out"
    cut(project, "P-3")
    assert write(project, out).status == 0
    cut(project, "P-2")
    done = write(project, out)
    found = contents(out)
    assert not [name for name in found if name.startswith("drawings/p-2")]
    gone = [name for name in found if name.startswith("withdrawn/2026-11-02/drawings/p-2")]
    assert len(gone) == 10 and "drawings/p-2-section.svg" in done.out


def test_answers_and_letters_are_records_and_stay(project: Path, out: Path) -> None:
    sheet = CONFORMING / "submittals" / "top-failing.yaml"
    assert run("review", project, sheet, "-o", out).status == 1
    assert run("letters", project, sheet, "-o", out).status == 0
    before = {
        name: data for name, data in contents(out).items() if name.startswith(("review", "request", "trans"))
    }
    assert len(before) == 4
    without(project, "blocking", LATER)
    write(project, out, "--state", "draft")
    assert before.items() <= contents(out).items()
    assert f"withdrawn/2026-12-01/{CARPENTRY}" in contents(out), "a run between two issues changes nothing"


def test_a_text_beside_that_is_no_longer_needed_leaves_unless_it_was_edited(project: Path, out: Path) -> None:
    old = (out / SECTION).read_bytes()
    beside = SECTION.replace(".docx", ".new.docx")
    edited(out / SECTION)
    write(project, out)
    (out / SECTION).write_bytes(old)
    write(project, out)
    assert beside not in contents(out) and f"withdrawn/2026-11-02/{beside}" in contents(out)
    edited(out / SECTION)
    write(project, out)
    mine = edited(out / beside)
    write(project, out)
    assert contents(out)[beside] == mine, "somebody works on it beside a paper that stands"


def test_an_issue_taken_back_takes_its_addendum_along(project: Path, out: Path) -> None:
    change = ("piece_length: 10 ft", "piece_length: 8 ft")
    changed(project / "project.yaml", change, LATER)
    write(project, out)
    assert "addendum-2026-12-01.docx" in contents(out)
    changed(project / "project.yaml", change[::-1])
    write(project, out)
    found = contents(out)
    assert "addendum-2026-12-01.docx" not in found
    assert "withdrawn/2026-12-01/addendum-2026-12-01.docx" in found


def test_two_issues_of_one_day_have_an_addendum_each(project: Path, out: Path) -> None:
    changed(project / "project.yaml", ("piece_length: 10 ft", "piece_length: 8 ft"), LATER)
    write(project, out)
    first = contents(out)["addendum-2026-12-01.docx"]
    changed(project / "project.yaml", ("piece_length: 8 ft", "piece_length: 9 ft"))
    write(project, out, "--state", "draft")
    found = contents(out)
    assert found["addendum-2026-12-01.docx"] == first and "addendum-2026-12-01-2.docx" in found
    changed(project / "project.yaml", ("piece_length: 9 ft", "piece_length: 7 ft"))
    write(project, out, "--state", "draft")
    assert "addendum-2026-12-01-3.docx" not in contents(out), "the same issue written again"


# the folder of another project


@pytest.fixture
def other(tmp_path: Path) -> Path:
    return shorter(tmp_path / "other", *OTHER)


@pytest.mark.parametrize("command", ["write", "review", "letters", "substitute", "register", "calc"])
def test_the_folder_of_another_project_is_refused(command: str, other: Path, out: Path) -> None:
    before = contents(out)
    given = {"review": "submittals/top-failing.yaml", "substitute": "substitutions/mesh.yaml"}
    files = []
    if command in given:
        files = [other / "given.yaml"]
        files[0].write_text(
            (CONFORMING / given[command]).read_text("utf-8").replace('"2601"', '"2602"'), "utf-8"
        )
    done = run(command, other, *files, "--plots" if command == "calc" else "-o", out)
    assert done.status == 2
    assert "holds the papers of 2601 Alder Street Offices, and this is 2602 Birch Street School" in done.err
    assert "--other-project" in done.err
    assert contents(out) == before


def test_a_folder_given_to_another_project_keeps_everything_and_makes_no_addendum(
    other: Path, out: Path, tmp_path: Path
) -> None:
    mine = edited(out / SECTION)
    before = contents(out)
    done = write(other, out, "--other-project")
    assert done.status == 0
    assert f"{SECTION} was edited by hand and is kept in withdrawn/2601/{SECTION}" in done.out
    found = contents(out)
    assert found[f"withdrawn/2601/{SECTION}"] == mine
    before.pop("manifest.json")
    assert {f"withdrawn/2601/{name}": data for name, data in before.items()}.items() <= found.items()
    assert not [name for name in found if name.startswith(("addendum", "marked")) or ".new" in name]
    alone = tmp_path / "alone"
    write(other, alone)
    assert {name: data for name, data in found.items() if not name.startswith("withdrawn/")} == contents(
        alone
    )


def test_a_register_leaves_with_its_project(project: Path, other: Path, tmp_path: Path) -> None:
    out = tmp_path / "register"
    first = run("register", project, "-o", out)
    assert first.status == 0 and "0 closed rounds" in first.out
    assert words_of(out, "manifest.json")["project"]["number"] == "2601"
    before = {name: data for name, data in contents(out).items() if name.startswith("submittal-register")}
    assert len(before) == 3
    refused = run("register", other, "-o", out)
    assert refused.status == 2 and "holds the papers of 2601" in refused.err
    unread = run("register", other, "-o", out, "--other-project", "--merge", tmp_path / "none.xlsx")
    assert unread.status == 2 and before.items() <= contents(out).items()
    done = run("register", other, "-o", out, "--other-project")
    assert done.status == 0 and "state 1" in done.out, "a register of its own"
    found = contents(out)
    assert {f"withdrawn/2601/{name}": data for name, data in before.items()}.items() <= found.items()
    assert words_of(out, "manifest.json")["project"]["number"] == "2602"


def test_letters_that_are_no_longer_drafted_are_named(project: Path, out: Path) -> None:
    sheet = CONFORMING / "submittals" / "top-failing.yaml"
    assert run("letters", project, sheet, "-o", out).status == 0
    done = run("letters", project, "-o", out)
    gone = [line for line in done.out.splitlines() if line.startswith("no longer drafted")]
    assert gone == [f"no longer drafted, left as it is: {out / 'transmittal.docx'}"]


def test_a_renamed_project_is_the_same_and_so_is_one_with_its_number_corrected(
    project: Path, out: Path
) -> None:
    path = project / "project.yaml"
    changed(path, OTHER[1], LATER)
    assert write(project, out).status == 0
    assert "addendum-2026-12-01.docx" in contents(out)
    changed(path, OTHER[0])
    assert write(project, out).status == 0
    assert run("letters", project, "-o", out).status == 0
    changed(path, ('number: "2602"', 'number: "2603"'), ("piece_length: 10 ft", "piece_length: 8 ft"))
    assert write(project, out).status == 2


def test_the_number_alone_tells_a_project(project: Path, out: Path) -> None:
    changed(project / "project.yaml", OTHER[0], ("piece_length: 10 ft", "piece_length: 8 ft"))
    done = write(project, out)
    assert done.status == 2 and "2602 Alder Street Offices" in done.err


def test_a_folder_that_an_earlier_program_wrote_is_known_by_the_title_of_its_issue(
    project: Path, out: Path, other: Path
) -> None:
    manifest = words_of(out, "manifest.json")
    assert manifest.pop("project") == {"number": "2601", "name": "Alder Street Offices"}
    del manifest["issue"]
    (out / "manifest.json").write_text(json.dumps(manifest), "utf-8")
    assert run("letters", other, "-o", out).status == 2
    without(project, "blocking", LATER)
    write(project, out, "--state", "draft")
    assert f"withdrawn/2026-12-01/{CARPENTRY}" in contents(out)
    assert words_of(out, "manifest.json")["project"]["number"] == "2601"


def test_a_manifest_that_names_files_elsewhere_moves_none(project: Path, out: Path, tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("mine", "utf-8")
    manifest = words_of(out, "manifest.json")
    manifest["issue"] += ["../mine.txt", "withdrawn/a.txt", "drawings"]
    (out / "manifest.json").write_text(json.dumps(manifest), "utf-8")
    (out / "withdrawn").mkdir()
    (out / "withdrawn" / "a.txt").write_text("old", "utf-8")
    before = contents(out)
    assert write(project, out).status == 0
    before.pop("manifest.json")
    assert before.items() <= contents(out).items()
    assert (tmp_path / "mine.txt").read_text("utf-8") == "mine"
