"""``docs/questions.md``: the order of the questions on three half-filled walls, held against a practitioner's.

``python -m tests.explain.questions_page`` writes it.
"""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path
from textwrap import fill
from typing import Any

from specgen.assessment import assess
from specgen.intake.project import load_project
from specgen.intake.start import start_text
from specgen.model.question import OpenQuestions
from specgen.practice.load import load_practice
from specgen.work.questions import questions_of
from tests import plain_yaml
from tests.chain.bare import bare

ROOT = Path(__file__).parents[2]
PAGE = ROOT / "docs" / "questions.md"
WALLS: list[Mapping[str, Any]] = plain_yaml.load(Path(__file__).with_suffix(".yaml").read_text("utf-8"))
SURVEY = ("hazardous_materials", "surveyed", "surveyed_by")
SHOWN = 12
HEAD = """\
# Questions in an architect's order

What a half-filled project leaves open, in the order in which `specgen check --questions` asks, beside what a
practitioner would ask first by common practice. Written by `python -m tests.explain.questions_page`; the
practitioner's lists and the judgements stand in `tests/explain/questions_page.yaml`.

Each open value is tried at its possible answers, the rest as in worked examples, and the conclusions that differ are
counted: a finding by the worst that an answer makes of it, a paragraph that comes or goes, a limit that changes, a
calculation that becomes possible. The order is that of the counts. It does not weigh what a failure costs, what an
answer costs, or what must be known before something else can be chosen.
"""


def project_of(key: str, folder: Path) -> Path:
    """The project file of a wall of this page."""
    if key == "bare":
        return bare(ROOT / "tests" / "stated" / "mixed-humid-midrise", folder / key)
    file = folder / "project.yaml"
    if key == "start":
        file.write_text(start_text({"name": "start"}, load_practice()), "utf-8")
        return file
    content = plain_yaml.load(
        (ROOT / "tests" / "stated" / "existing-repair" / "project.yaml").read_text("utf-8")
    )
    for name in SURVEY:
        content["parapets"][0]["existing"].pop(name)
    file.write_text(plain_yaml.dump(content), "utf-8")
    return file


def asked(key: str) -> OpenQuestions:
    """The questions of a wall of this page."""
    with tempfile.TemporaryDirectory() as folder:
        practice = load_practice()
        return questions_of(assess(load_project(project_of(key, Path(folder)), practice), practice))


def section(wall: Mapping[str, Any], found: OpenQuestions) -> Iterator[str]:
    """The lines of one wall."""
    yield from (f"## {wall['title']}", "", str(wall["how"]), "")
    yield from ("| No. | question | decides | who |", "|---|---|---|---|")
    for one in found.questions[:SHOWN]:
        yield f"| {one.number} | {one.question} | {one.decides} | {one.who} |"
    if len(found.questions) > SHOWN:
        yield f"\n{len(found.questions) - SHOWN} more follow."
    number = {one.key: str(one.number) for one in found.questions}
    words = {one.key: one.question for one in found.questions}
    yield from ("", "| a practitioner's order | question | computed order |", "|---|---|---|")
    for place, key in enumerate(wall["asks"], start=1):
        yield f"| {place} | {words.get(key, key)} | {number.get(key, 'not asked')} |"
    for title, key in (("Where they agree", "agree"), ("Where they differ", "differ")):
        yield from ("", fill(f"**{title}.** {wall[key]}", 130, break_long_words=False))
    yield ""


def page() -> str:
    """The whole page."""
    parts = [HEAD, *("\n".join(section(wall, asked(wall["key"]))) for wall in WALLS)]
    return "\n".join(parts)


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8")
