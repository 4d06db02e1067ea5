"""The file ``accepted.yaml`` beside a project: what was accepted, when, by whom, with what result."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from specgen.files.inside import inside
from specgen.files.marks import InputProblem, Mark, refuse, shown
from specgen.files.yaml_reader import MarkedList, MarkedMap, read_yaml_text
from specgen.intake.formats import brought_up, read_file
from specgen.intake.records import RecordReader
from specgen.intake.values import described
from specgen.model.accepted import PAPERS, Acceptance
from specgen.practice.entries import Practice
from specgen.practice.shapes import shape

FILE_NAME = "accepted.yaml"
FILE = shape("acceptance file")
MOST_ACCEPTED = FILE["accepted"].most
EXAMPLE = "write `- submittal: submittals/barrier.yaml`, and below it `date`, `by` and `result`"


def load_accepted(path: Path, practice: Practice) -> tuple[Acceptance, ...]:
    """Read and check the record of what was accepted.

    Args:
        path: the YAML file; the papers that it names lie in its folder or below.
        practice: holds the vocabulary the file is checked against.

    Returns:
        The entries by date; those of one day in the order of the file.

    Raises:
        InputError: carries every problem found.
    """
    reader = _Reader(practice, path)
    entries = reader.entries(read_file(path, "acceptance"))
    refuse(reader.problems)
    return tuple(sorted(entries, key=lambda one: one.date))


def accepted_in(text: str, path: Path, practice: Practice) -> tuple[InputProblem, ...]:
    """What is wrong with the text of a record, before it is written.

    Args:
        text: of the whole file.
        path: where it is to stand; the papers that it names lie in its folder or below.
        practice: holds the vocabulary the file is checked against.
    """
    reader = _Reader(practice, path)
    root = read_yaml_text(text, str(path), want=dict)
    brought_up(root, "acceptance")
    reader.entries(root)
    return tuple(reader.problems)


class _Reader(RecordReader):
    ANSWERS = ("acceptance",)

    def __init__(self, practice: Practice, path: Path) -> None:
        super().__init__(practice)
        self.folder = path.parent
        self.first: dict[str, Mark] = {}  # where a file is first named

    def entries(self, root: MarkedMap) -> list[Acceptance]:
        """The entries; problems are collected, not raised."""
        self.strange_keys(root, FILE)
        if "accepted" not in root:
            if not self.problems:
                self.problem(root.mark, "`accepted` is missing", "add a line `accepted:` and a list below it")
            return []
        items, mark = root["accepted"], root.values_at["accepted"]
        if not isinstance(items, MarkedList):
            self.problem(mark, f"`accepted`: {described(items)} stands where a list is wanted", EXAMPLE)
            return []
        if len(items) > MOST_ACCEPTED:
            self.problem(mark, f"{len(items)} entries, at most {MOST_ACCEPTED}", "split the project")
            return []
        found = (self._entry(node, at) for node, at in zip(items, items.items_at, strict=True))
        return [one for one in found if one is not None]

    def _entry(self, node: Any, mark: Mark) -> Acceptance | None:
        before = len(self.problems)
        record = self.record(node, mark, "acceptance", tuple(shape("acceptance")))
        if not isinstance(node, MarkedMap):
            return None
        named = [key for key in PAPERS if key in node]
        if len(named) != 1:
            what = "names no paper" if not named else "names two papers"
            fix = f"give each entry one line: `{'` or `'.join(f'{key}: FILE' for key in PAPERS)}`"
            self.problem(mark, f"the entry {what}", fix)
            return None
        self._file(node[named[0]], node.values_at[named[0]], named[0])
        if len(self.problems) > before:
            return None
        return Acceptance(
            "acceptance", record.values, record.marks, mark, paper=named[0], file=node[named[0]]
        )

    def _file(self, written: Any, mark: Mark, key: str) -> None:
        if not isinstance(written, str) or not written.strip():
            self.problem(mark, f"`{key}` is {described(written)}, a file's name is wanted", EXAMPLE)
            return
        found = inside(self.folder, written)
        if found is None:
            fix = "put the file beside the project file, or in a folder below it"
            self.problem(mark, f"`{key}`: {shown(written)} leaves the project folder", fix)
        elif not found.is_file():
            self.problem(
                mark, f"`{key}`: no file {shown(written)}", "correct the name, or put the file there"
            )
        elif str(found) in self.first:
            line = self.first[str(found)].line
            self.problem(
                mark, f"`{key}`: {shown(written)} is accepted twice (first: line {line})", "delete one"
            )
        else:
            self.first[str(found)] = mark


def problem_of_number(given: str | None, project: str | None, mark: Mark) -> InputProblem | None:
    """The problem of a paper that names another project than the one it lies with."""
    if not given or given == project:
        return None
    what = f"the paper is for project `{given}`, this is project `{project}`"
    return InputProblem(mark, what, "accept it on its own project, or correct the number")
