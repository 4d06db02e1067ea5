"""A parapet may bear any printable name: every document is written, and names it."""

from __future__ import annotations

import io
import json
import os
import unicodedata
import zipfile
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from lxml import etree

from specgen.files.writing import OutputFolder
from specgen.render.issues import Record
from specgen.render.outputs import add_issue
from specgen.specification import specify
from specgen.work.inputs import read_inputs
from tests import plain_yaml
from tests.chain.runs import REPO, run

START = plain_yaml.load((REPO / "templates" / "new" / "project.yaml").read_text("utf-8"))
LONG = os.environ.get("SPECGEN_LONG") == "1"
NAMES = [
    "Parapet #1", "P-1 @ roof 2", "{{ 7 * 7 }}", "{% if %}", "a=b", "=1+1", "'quoted'", '"quoted"', "back\\slash", "P/1",
    "..", "CON", "a:b", "<b>P</b>", "P & Q", "[north]", "100 %", "P|1", "ü ß 漢字", "مرحبا", "e\u0301", "🏠", "1",
    "yes", "P,1; P.2", "~", "#", "@", "$1 \\1", "name" * 40,
]  # fmt: skip


def written(folder: Path, names: list[str]) -> OutputFolder:
    """An issue of the starter wall with its parapet under these names, in memory."""
    content: dict[str, Any] = {
        **START,
        "parapets": [{**START["parapets"][0], "name": name} for name in names],
    }
    folder.mkdir(exist_ok=True)
    text = plain_yaml.dump(content)
    (folder / "project.yaml").write_text(text, encoding="utf-8")
    output = OutputFolder(folder / "out")
    add_issue(output, specify(read_inputs(folder, None, False).assessed()), Record())
    return output


def words(data: bytes) -> str:
    """The text of a Word file."""
    with zipfile.ZipFile(io.BytesIO(data)) as package:
        return "".join(etree.fromstring(package.read("word/document.xml")).itertext())


def holds(output: OutputFolder, names: list[str]) -> None:
    contents = output.contents
    for name in names:
        shown = " ".join(name.split())
        assert any(shown in words(data) for file, data in contents.items() if file.endswith(".docx")), name
        data = [
            json.dumps(json.loads(data), ensure_ascii=False)
            for file, data in contents.items()
            if file.endswith(".json")
        ]
        assert any(json.dumps(shown, ensure_ascii=False)[1:-1] in text for text in data), name
    for file, data in contents.items():
        if file.endswith((".svg", ".html")):
            text = data.decode("utf-8")
            assert "{{" not in text or any("{{" in name for name in names), file
        if file.endswith(".svg"):
            etree.fromstring(data)


@pytest.mark.parametrize("name", NAMES if LONG else NAMES[:2])
def test_a_name(name: str, tmp_path: Path) -> None:
    holds(written(tmp_path, [name]), [name])


def test_many_names_at_once(tmp_path: Path) -> None:
    names = NAMES if LONG else NAMES[2:12]
    holds(written(tmp_path, names), names)


printable = (
    st.text(
        st.characters(exclude_categories=["Cc", "Cs", "Co", "Cn", "Cf", "Zl", "Zp"]), min_size=1, max_size=30
    )
    .map(lambda text: unicodedata.normalize("NFC", " ".join(text.split())))
    .filter(bool)
)


@settings(
    max_examples=300 if LONG else 2,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(st.lists(printable, min_size=1, max_size=3, unique=True))
def test_any_names(tmp_path: Path, names: list[str]) -> None:
    holds(written(tmp_path, names), names)


def test_through_the_command(tmp_path: Path) -> None:
    written(tmp_path, NAMES[:8] if LONG else NAMES[:2])
    done = run("write", tmp_path, "-o", tmp_path / "out")
    assert done.status in (0, 1, 3), done.err
