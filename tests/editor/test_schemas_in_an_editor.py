"""The JSON Schemas as an editor uses them: nothing is marked in the worked examples, mistakes are told, keys are offered.

The editor's side is the language server of YAML files that most editors run, over standard input and output. The
schemas themselves are held against the metaschema by a validator of its own.
"""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from specgen.commands.schema import FILES
from specgen.intake.json_schema_own import own_names, with_names
from specgen.practice.load import load_practice
from specgen.work.schemas import file_schema
from tests.conftest import LONG
from tests.editor.language_server import LanguageServer, server

ROOT = Path(__file__).parents[2]
HERE = Path(__file__).parent
NODE = shutil.which("node") or ""
DEMO = ROOT / "projects" / "mixed-humid-midrise"
PLACES = {
    "project": "project.yaml",
    "submittal": "submittals/*.yaml",
    "request": "substitutions/*.yaml",
    "office": "office.yaml",
    "schedule": "schedule.yaml",
    "acceptance": "accepted.yaml",
    "comments": "comments.yaml",
}
BROKEN = """\
project: {name: Sample}
site: {temp_summer: 30 furlong, climate_zone: 9Z}
quality: {warranty_roof: 20 furlong}
parapets:
  - name: P-1
    heigth: 42 in
    height: 3 perm
    build_up:
      - role: plaster
        kind: wood
        cure_before_load: 3 in
    transitions:
      - between: [barrier, ]
        upper: _
"""
MARKED = {
    (2, "Write a temperature: degF, degC, K; or unknown."),
    (2, "climate_zone"),
    (3, "Write a time: day, h, week, year."),
    (6, "Property heigth is not allowed."),
    (7, "Write a length: in, ft, mm, m; or unknown."),
    (10, '"portland cement plaster"'),
    (11, "Write a time: day, h, week, year; or unknown."),
}

pytestmark = pytest.mark.skipif(not LONG, reason="a server of an editor: run by make test-long")


@pytest.fixture(scope="module")
def editor(tmp_path_factory: pytest.TempPathFactory) -> Iterator[LanguageServer]:
    if not NODE or not (HERE / "node_modules" / "yaml-language-server").is_dir():
        pytest.skip("no language server of YAML files: run `npm install` in tests/editor")
    folder, practice = tmp_path_factory.mktemp("schemas"), load_practice()
    patterns = {}
    for kind in FILES:
        schema = file_schema(kind, practice)
        schema = with_names(schema, own_names(DEMO)) if kind == "project" else schema
        file = folder / f"{kind.replace(' ', '-')}.json"
        file.write_text(json.dumps(schema), "utf-8")
        patterns[file.as_uri()] = [f"**/{kind.replace(' ', '-')}-*.yaml"]
    with server(HERE, patterns, NODE) as one:
        yield one


def test_nothing_is_marked_in_the_worked_examples(editor: LanguageServer) -> None:
    files = [
        (kind, path)
        for kind, place in PLACES.items()
        for folder in ("projects", "tests/stated")
        for path in sorted((ROOT / folder).glob(f"*/{place}"))
    ]
    files.append(("project", ROOT / "templates" / "new" / "project.yaml"))
    marked = {
        str(path.relative_to(ROOT)): editor.opened(
            f"file:///walls/{kind}-{number}.yaml", path.read_text("utf-8")
        )
        for number, (kind, path) in enumerate(files)
    }
    assert {path: found for path, found in marked.items() if found} == {}
    assert len(marked) > 25


def test_mistakes_are_told_in_words_and_keys_are_offered(editor: LanguageServer) -> None:
    uri = "file:///walls/project-broken.yaml"
    marked = editor.opened(uri, BROKEN.replace("_\n", "\n"))  # an editor's line may end with a space
    for line, words in MARKED - {(2, "climate_zone")}:
        assert any(at == line and words in message for at, message in marked), (line, words, marked)
    assert any(at == 2 and '"0A"' in message for at, message in marked)

    shown = editor.hover(uri, 7, 6)
    assert "Height above the finished roof; write a length: in, ft, mm, m." in shown and "42 in" in shown
    assert "Portland cement plaster" in editor.hover(uri, 10, 10)
    kinds = editor.completions(uri, 10, 15)
    assert {"portland cement plaster", "polymer-modified cement plaster", "unknown", "none"} <= set(kinds)
    keys = editor.completions(uri, 11, 9)
    assert keys["coats"].startswith("Number of coats; write a whole number.")
    ids = editor.completions(uri, 13, 27)
    assert {"barrier", "coping"} <= set(ids)  # of the project that the schema was printed for
    assert {"barrier", "coping"} <= set(editor.completions(uri, 14, 16))


@pytest.mark.parametrize("kind", FILES)
def test_a_validator_of_its_own_accepts_the_schemas(kind: str, tmp_path: Path) -> None:
    pytest.importorskip("check_jsonschema", reason="a second validator of schemas: install the extra `test`")
    file = tmp_path / "schema.json"
    file.write_text(json.dumps(file_schema(kind, load_practice())), "utf-8")
    words = ["--check-metaschema", str(file)]
    done = subprocess.run([sys.executable, "-m", "check_jsonschema", *words], capture_output=True, text=True)
    assert done.returncode == 0, done.stdout
