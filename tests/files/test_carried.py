from pathlib import Path

import pytest

from specgen.files import carried as module
from specgen.files.carried import carried


@pytest.fixture
def package(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(module, "_PACKAGE", tmp_path / "specgen")
    return tmp_path / "specgen"


def test_the_carried_folder_of_an_installed_package_comes_first(package: Path) -> None:
    for folder in (package / "carried" / "clauses", package.parent / "clauses"):
        folder.mkdir(parents=True)
    (package.parent / "pyproject.toml").touch()
    assert carried("clauses") == package / "carried" / "clauses"


def test_a_checkout_has_it_at_the_top(package: Path) -> None:
    (package.parent / "templates").mkdir()
    (package.parent / "pyproject.toml").touch()
    assert carried("templates") == package.parent / "templates"


def test_a_strange_folder_beside_an_installed_package_is_not_taken(package: Path) -> None:
    (package.parent / "templates").mkdir()
    with pytest.raises(FileNotFoundError, match="the folder 'templates' of specgen is missing"):
        carried("templates")


def test_other_names_are_refused() -> None:
    with pytest.raises(ValueError, match=r"no carried folder '../x'"):
        carried("../x")
