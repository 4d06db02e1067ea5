"""The wheel: built, installed into an empty environment, and used in an empty folder far from the repository."""

from __future__ import annotations

import ast
import importlib.metadata
import importlib.util
import json
import os
import re
import site
import subprocess
import sys
import venv
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.chain.runs import CONFORMING, REPO, SUBMITTAL, contents

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(
        importlib.util.find_spec("hatchling") is None or importlib.util.find_spec("build") is None,
        reason="wheel not built: hatchling or build is not installed",
    ),
]
EDITED_BY_WRITERS = ("clauses", "templates", "projects")


def done(*words: object, cwd: Path) -> str:
    """Run a program with nothing of this test's environment but the search path of programs."""
    keep = {key: os.environ[key] for key in ("PATH", "HOME", "SYSTEMROOT", "TEMP") if key in os.environ}
    ran = subprocess.run(
        [str(word) for word in words], cwd=cwd, env=keep, capture_output=True, text=True, timeout=180
    )
    assert ran.returncode == 0, ran.stdout + ran.stderr
    return ran.stdout


@pytest.fixture(scope="module")
def wheel(tmp_path_factory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    done(sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", folder, REPO, cwd=folder)
    (path,) = folder.glob("*.whl")
    return path


@pytest.fixture(scope="module")
def installed(wheel, tmp_path_factory) -> Path:
    """The programs folder of an environment that holds the wheel and, by reference, its dependencies."""
    home = tmp_path_factory.mktemp("environment") / "env"
    venv.create(home, with_pip=False, symlinks=os.name != "nt")
    programs = home / ("Scripts" if os.name == "nt" else "bin")
    python = programs / "python"
    done(
        sys.executable, "-m", "pip", "--python", python, "install", "--no-index", "--no-deps", wheel, cwd=home
    )
    asked = "import site; print(site.getsitepackages()[0])"
    own = Path(done(python, "-c", asked, cwd=home).strip())
    # A path named in a .pth file is searched, but .pth files in it are not read: no checkout comes in that way.
    (own / "dependencies.pth").write_text("\n".join(site.getsitepackages()) + "\n", "utf-8")
    return programs


def test_the_wheel_holds_the_package_and_what_writers_edit_and_nothing_else(wheel):
    names = set(zipfile.ZipFile(wheel).namelist())
    for folder in EDITED_BY_WRITERS:
        for path in (REPO / folder).rglob("*"):
            if path.is_file():
                assert f"specgen/carried/{path.relative_to(REPO).as_posix()}" in names
    for path in (REPO / "specgen").rglob("*"):
        if path.is_file() and "__pycache__" not in path.parts:
            assert path.relative_to(REPO).as_posix() in names
    assert {name.split("/")[0] for name in names if ".dist-info/" not in name} == {"specgen"}
    assert not [name for name in names if "__pycache__" in name or name.endswith(".pyc")]


def test_the_wheel_names_no_folder_of_this_machine(wheel):
    archive = zipfile.ZipFile(wheel)
    for name in archive.namelist():
        assert str(REPO).encode() not in archive.read(name), name


def test_the_distribution_has_a_name_of_its_own(wheel):
    """A registry holds a stranger's package called specgen: no message and no page lets anyone install that."""
    archive = zipfile.ZipFile(wheel)
    (metadata,) = [archive.read(name).decode() for name in archive.namelist() if name.endswith("METADATA")]
    assert "\nName: parapet-specgen\n" in metadata
    texts = {
        name: archive.read(name).decode() for name in archive.namelist() if name.endswith((".py", ".yaml"))
    }
    pages = (REPO / "README.md", REPO / "DEVELOPERS.md", *sorted((REPO / "docs" / "manual").glob("*.md")))
    texts |= {page.name: page.read_text("utf-8") for page in pages}
    assert not [
        name for name, text in texts.items() if re.search(r"pip install\s+['\"]?specgen|specgen\[", text)
    ]


def test_the_wheel_asks_for_what_it_imports(wheel):
    archive = zipfile.ZipFile(wheel)
    (metadata,) = [archive.read(name).decode() for name in archive.namelist() if name.endswith("METADATA")]
    asked = {one.lower() for one in re.findall(r"^Requires-Dist: ([\w.-]+)", metadata, re.MULTILINE)}
    assert "Requires-Python: >=3.11" in metadata
    imported = {
        module.split(".")[0]
        for name in archive.namelist()
        if name.endswith(".py")
        for module in modules(ast.parse(archive.read(name)))
    }
    strange = imported - set(sys.stdlib_module_names) - {"specgen"}
    packages = importlib.metadata.packages_distributions()
    wanted = {module: {one.lower() for one in packages[module]} for module in strange}
    assert {"docx", "yaml", "numpy", "jinja2", "click", "cerberus", "lxml"} <= strange
    assert not {module: names for module, names in wanted.items() if not names & asked}


def modules(tree: ast.AST) -> Iterator[str]:
    """The modules that a file imports from outside its own folder."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (one.name for one in node.names)
        elif isinstance(node, ast.ImportFrom) and not node.level:
            yield node.module or ""


def test_the_installed_package_knows_nothing_of_the_repository(installed, tmp_path):
    program = (
        "import json, sys, specgen\n"
        "from specgen.files.carried import carried\n"
        "places = [str(carried(name)) for name in ('clauses', 'templates', 'projects')]\n"
        "print(json.dumps([sys.path, specgen.__file__, places]))\n"
    )
    path, package, carried = json.loads(done(installed / "python", "-c", program, cwd=tmp_path))
    assert str(REPO) not in path
    home = str(installed.parent)
    assert package.startswith(home)
    assert all(place.startswith(home) for place in carried)


def test_the_first_job_of_a_new_user_runs_in_an_empty_folder(installed, tmp_path):
    specgen = installed / "specgen"
    assert re.fullmatch(r"specgen \d+\.\d+\.\d+\n", done(specgen, "--version", cwd=tmp_path))
    assert "specgen check my-wall" in done(specgen, "new", "my-wall", "--from", "commented", cwd=tmp_path)
    assert " checks passed, " in done(specgen, "check", "my-wall", cwd=tmp_path)
    assert "sections" in done(specgen, "write", "my-wall", "-o", "out", cwd=tmp_path)
    assert {path.name for path in tmp_path.iterdir()} == {"my-wall", "out"}
    assert len(list((tmp_path / "out").glob("[0-9]*.docx"))) >= 10
    assert (tmp_path / "out" / "project-manual.docx").exists()
    assert "ft" in done(specgen, "calc", "my-wall", cwd=tmp_path)
    assert "WB01" in done(specgen, "rules", cwd=tmp_path)


def test_the_installed_package_writes_what_the_checkout_writes(installed, tmp_path):
    specgen = installed / "specgen"
    done(specgen, "write", CONFORMING, "-o", "installed", cwd=tmp_path)
    done(specgen, "review", CONFORMING, SUBMITTAL, "-o", "installed", cwd=tmp_path)
    for command in (("write", CONFORMING), ("review", CONFORMING, SUBMITTAL)):
        done(sys.executable, "-c", CHECKOUT, REPO, *command, "-o", "checkout", cwd=tmp_path)
    first, second = contents(tmp_path / "installed"), contents(tmp_path / "checkout")
    assert first == second
    assert {"project-manual.docx", "basis-of-design.html", "submittal-checklist.xlsx"} <= set(first)
    assert any(name.startswith("review-") for name in first)


CHECKOUT = "import sys; sys.path.insert(0, sys.argv.pop(1)); from specgen.commands import main; main()"
