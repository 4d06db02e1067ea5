"""One portfolio, assessed once by one process, that the other runs are held against."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.audit.portfolio import portfolio
from tests.chain.runs import Done, run
from tests.conftest import LONG

COUNT = 500 if LONG else 24


@pytest.fixture(scope="session")
def projects(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of the generated projects."""
    return portfolio(tmp_path_factory.mktemp("portfolio") / "all", COUNT)


@pytest.fixture(scope="session")
def audited(projects: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Done]:
    """The output folder of one uninterrupted run by one process, and what it printed."""
    out = tmp_path_factory.mktemp("audited")
    return out, run("audit", projects, "-o", out, "--jobs", 1, "--bad", "wrap w")
