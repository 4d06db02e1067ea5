"""The conforming project written and reviewed once for all tests of the chain."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.chain.runs import CONFORMING, SUBMITTAL, run


@pytest.fixture(scope="session")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder that ``specgen write`` made of the conforming project."""
    folder = tmp_path_factory.mktemp("written")
    assert run("write", CONFORMING, "-o", folder).status == 0
    return folder


@pytest.fixture(scope="session")
def reviewed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder that ``specgen review`` made of the three submittals."""
    folder = tmp_path_factory.mktemp("reviewed")
    submittals = sorted(SUBMITTAL.parent.glob("*.yaml"))
    assert run("review", CONFORMING, *submittals, "-o", folder).status == 1
    return folder
