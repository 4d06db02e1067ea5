"""specgen new: from answers, on a terminal and without one, and from worked examples."""

from __future__ import annotations

import contextlib
import os
import select
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from specgen.files.yaml_reader import read_yaml
from specgen.intake.project import load_project
from specgen.intake.start import QUESTIONS, UNKNOWN, scalar, start_text
from specgen.intake.worked import worked_examples
from specgen.practice.load import load_practice
from tests.chain.runs import REPO, contents, run

pty = pytest.importorskip("pty", reason="terminals of a process's own are not tested on this system")

PRACTICE = load_practice()
ANSWERS = {
    "name": "Mill: Yard # 4", "number": "0042", "issue-date": "2026-11-29", "units": "SI", "place": 'a "town"',
    "code": "IBC 2021", "climate-zone": "7", "wind-speed": "115 mph", "exposure": "C",
    "salt-water-distance": "12 km", "height": "40 ft", "roof-membrane": "TPO", "roof-slope": "1/4 in/ft",
    "construction-type": "V-B",
    "risk-category": "II", "seismic-design-category": "B", "parapet-height": "42 in", "inner-face": "stucco",
    "drained-area": "4200 ft2", "fire-rated": "no", "backup-wall": "concrete masonry", "work": "standing",
}  # fmt: skip


def options(answers: dict[str, str]) -> list[str]:
    return [word for name, value in answers.items() for word in (f"--{name}", value)]


def test_every_answer_stands_in_the_file_as_it_was_given(tmp_path: Path) -> None:
    assert set(ANSWERS) == {one.option for one in QUESTIONS}
    assert run("new", tmp_path / "w", *options(ANSWERS)).status == 0
    project = load_project(tmp_path / "w", PRACTICE)
    (parapet,) = project.parapets
    records = {
        "project": project.info,
        "site": project.site,
        "building": project.building,
        "parapet": parapet,
    }
    for one in QUESTIONS:
        if one.what in records and one.key != "existing":
            value = records[one.what].values[one.key]
            written = getattr(value, "text", {True: "yes", False: "no"}.get(value, str(value)))
            assert written == ANSWERS[one.option], one
    assert parapet.build_up[0].kind == "concrete masonry" and parapet.existing is not None


def test_the_file_is_short_names_its_schema_and_fits_it(tmp_path: Path) -> None:
    run("new", tmp_path / "w", *options(ANSWERS))
    lines = (tmp_path / "w" / "project.yaml").read_text().splitlines()
    assert len(lines) <= 40
    assert lines[0] == "# yaml-language-server: $schema=project.schema.json"
    schema = read_yaml(tmp_path / "w" / "project.schema.json")
    written = {**read_yaml(tmp_path / "w" / "project.yaml")}
    written["project"]["issue_date"] = "2026-11-29"
    assert not list(Draft202012Validator(schema).iter_errors(written))
    for key in ("corners", "ends", "steps", "scuppers", "penetrations", "existing", "family", "inner_face"):
        assert key in "\n".join(lines), key


def test_without_answers_nothing_is_stated_that_nobody_chose(tmp_path: Path) -> None:
    assert run("new", tmp_path / "mill").status == 0
    root = read_yaml(tmp_path / "mill" / "project.yaml", want=dict)
    assert root["project"].pop("name") == "mill"
    (parapet,) = root["parapets"]
    assert parapet.pop("name") == "P-1"
    stated = {
        value
        for record in (root["project"], root["site"], root["building"], parapet)
        for value in record.values()
    }
    assert stated == {UNKNOWN}
    assert run("check", tmp_path / "mill").status in (1, 3)  # read as it stands
    done = run("write", tmp_path / "mill", "-o", tmp_path / "out")
    assert done.status == 2 and not (tmp_path / "out").exists()
    wanted = {words for line in done.err.splitlines() if "fix:" in line for words in line.split("`")[1:2]}
    assert {"number: …", "issue_date: …", "place: …"} < wanted


@pytest.mark.parametrize("left_out", [one.option for one in QUESTIONS if one.option != "name"])
def test_an_open_question_is_a_line_to_uncomment(left_out: str) -> None:
    """With an answer, and without its # where it has one, the line is the one that the answer would have made."""
    full = {**ANSWERS, "work": "new"}
    text = start_text({key: value for key, value in full.items() if key != left_out}, PRACTICE)
    (question,) = (one for one in QUESTIONS if one.option == left_out)
    if left_out == "work":
        assert "existing: {}" not in text
        return
    (line,) = (line for line in text.splitlines() if UNKNOWN in line and f"{question.key}:" in line)
    stated = (
        line.rpartition("  # ")[0]
        .replace("# ", "", 1)
        .replace(UNKNOWN, scalar(full[left_out], question.field(PRACTICE).type))
    )
    if left_out != "backup-wall":
        assert stated in start_text(full, PRACTICE).splitlines()


BAD = [
    ("wind-speed", "3000 mph", "1 mph to 400 mph"),
    ("wind-speed", "115", "write a speed"),
    ("wind-speed", "115 psf", "write a speed"),
    ("exposure", "E", "choose: B, C, D"),
    ("fire-rated", "maybe", "write yes or no"),
    ("issue-date", "29.11.2026", "write it as 2026-11-02"),
    ("issue-date", "2026-13-01", "there is no date"),
    ("backup-wall", "CMU", "did you mean `concrete masonry`?"),
    ("roof-membrane", "mod bit", "did you mean `SBS-modified bitumen`?"),
    ("name", "a\x07b", "cannot be printed"),
    ("place", " ", "is empty"),
    ("work", "old", "choose: new, standing"),
    ("parapet-height", "0 in", "cannot be"),
]


@pytest.mark.parametrize(
    ("option", "words", "why"), BAD, ids=[f"{option} {words!r}" for option, words, _ in BAD]
)
def test_an_answer_that_cannot_be_used_writes_nothing(
    tmp_path: Path, option: str, words: str, why: str
) -> None:
    done = run("new", tmp_path / "w", *options({**ANSWERS, option: words}))
    assert done.status == 2
    assert done.err.startswith(f"--{option}: ") and why in done.err
    assert not (tmp_path / "w").exists()


def test_what_exists_is_left_as_it_is(tmp_path: Path) -> None:
    (tmp_path / "w").mkdir()
    (tmp_path / "w" / "notes.txt").write_text("mine")
    before = contents(tmp_path / "w")
    done = run("new", tmp_path / "w")
    assert done.status == 2 and "notes.txt exists" in done.err
    assert contents(tmp_path / "w") == before
    assert run("new").status == 2


def test_each_worked_example_is_copied(tmp_path: Path) -> None:
    for name, file in worked_examples().items():
        assert run("new", tmp_path / name, "--from", name).status == 0
        text = (tmp_path / name / "project.yaml").read_text()
        assert text.partition("\n")[2] == file.read_text()
    assert {path.name for path in (REPO / "projects").iterdir()} | {"commented"} == set(worked_examples())
    done = run("new", tmp_path / "x", "--from", "marine-libary")
    assert done.status == 2 and "did you mean `marine-library`?" in done.err
    mixed = run("new", tmp_path / "x", "--from", "marine-library", "--place", "a town")
    assert mixed.status == 2 and not (tmp_path / "x").exists()


# On a terminal


PROGRAM = """
import signal, sys
signal.signal(signal.SIGINT, signal.default_int_handler)  # a job in the background is born deaf to it
from specgen.commands import main
main(sys.argv[1:])
"""


class Terminal:
    """A process of `specgen new` on a terminal of its own."""

    def __init__(self, folder: Path, *words: str) -> None:
        self.screen, inner = pty.openpty()
        command = [sys.executable, "-c", PROGRAM, "new", str(folder), *words]
        environment = {**os.environ, "PYTHONPATH": str(REPO)}
        self.process = subprocess.Popen(command, stdin=inner, stdout=inner, stderr=inner, env=environment)
        os.close(inner)
        self.seen = ""

    def until(self, words: str) -> str:
        """What is printed until some words stand there."""
        while words not in self.seen:
            if not select.select([self.screen], [], [], 30)[0]:
                self.process.kill()
                raise AssertionError(self.seen)
            self.seen += os.read(self.screen, 65_536).decode()
        before, _, self.seen = self.seen.partition(words)
        return before

    def type(self, words: str) -> None:
        os.write(self.screen, words.encode())

    def status(self) -> int:
        with self.process:
            try:
                return self.process.wait(30)
            finally:
                self.process.kill()
                os.close(self.screen)


def test_a_terminal_asks_tells_a_bad_answer_with_its_range_and_asks_again(tmp_path: Path) -> None:
    given = {
        key: value for key, value in ANSWERS.items() if key not in ("wind-speed", "exposure", "climate-zone")
    }
    screen = Terminal(tmp_path / "w", *options(given))
    screen.until("climate zone (0A, 0B")
    screen.type("\n")
    screen.until("such as 115 mph) [unknown]: ")
    screen.type("3000 mph\n")
    assert "1 mph to 400 mph" in screen.until("such as 115 mph) [unknown]: ")
    screen.type("120 mph\n")
    screen.until("exposure category (B, C, D) [unknown]: ")
    screen.type("D\n")
    assert screen.status() == 0
    site = load_project(tmp_path / "w", PRACTICE).site
    assert (site.word("exposure"), site.word("climate_zone")) == ("D", None)
    assert site.values["wind_speed"].text == "120 mph"


def test_an_interrupt_leaves_nothing(tmp_path: Path) -> None:
    screen = Terminal(tmp_path / "w")
    screen.until("Name of the project (")
    for _ in range(20):  # one that comes just before Python waits for the line is seen with the next
        with contextlib.suppress(subprocess.TimeoutExpired):
            screen.process.send_signal(signal.SIGINT)
            screen.process.wait(1)
    assert screen.status() == 1
    assert list(tmp_path.iterdir()) == []
