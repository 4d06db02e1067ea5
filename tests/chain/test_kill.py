"""A process killed at any moment of a write leaves whole files, old or new, loses none, and a rerun repairs."""

from __future__ import annotations

import json
import os
import random
import signal
import time
from pathlib import Path

import pytest

from specgen.files.writing import OutputFolder
from tests.chain.runs import contents

KILLS = 120 if os.environ.get("SPECGEN_LONG") == "1" else 6
pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="kills not tried: this system cannot fork")


def commit(folder: Path, files: dict[str, bytes]):
    out = OutputFolder(folder)
    for name, data in files.items():
        out.add(name, data)
    return out.commit()


def killed(folder: Path, files: dict[str, bytes], after: float) -> bool:
    """Whether the kill came before the end of the write."""
    child = os.fork()
    if child == 0:
        try:
            commit(folder, files)
        finally:
            os._exit(0)
    time.sleep(after)
    os.kill(child, signal.SIGKILL)
    _, status = os.waitpid(child, 0)
    return os.WIFSIGNALED(status)


@pytest.fixture(scope="module")
def issues(written) -> tuple[dict[str, bytes], dict[str, bytes]]:
    """The files of a real issue, and those of a later one: each with other bytes, one gone, one new."""
    names = [*sorted(contents(written))[:10], "trace.json"]  # a dozen files keep the repetitions short
    first = {name: data for name, data in contents(written).items() if name in names}
    second = {name: data[::-1] for name, data in first.items() if name != "trace.json"}
    return first, {**second, "addendum.docx": b"new" * 5000}


def test_killed_at_random_moments(issues, tmp_path):
    first, second = issues
    start = time.perf_counter()
    commit(tmp_path / "timed", first)
    commit(tmp_path / "timed", second)
    whole = time.perf_counter() - start
    chance = random.Random(20261125)
    inside = 0
    for number in range(KILLS):
        folder = tmp_path / f"out{number}"
        commit(folder, first)
        by_hand = chance.choice(sorted(set(first) & set(second)))
        (folder / by_hand).write_bytes(b"edited by hand")
        inside += killed(folder, second, chance.uniform(0.0, whole / 2))
        found = contents(folder)
        assert set(first) <= set(found)  # no older file is lost
        for name, data in found.items():
            if name == by_hand:
                assert data == b"edited by hand"
            elif name != "manifest.json" and ".specgen-" not in name:
                aside = name.replace(".new", "")
                assert data in (first.get(name), second.get(name), second.get(aside)), name  # whole
        json.loads(found["manifest.json"])
        done = commit(folder, second)
        assert [old for old, _ in done.beside] == [by_hand]
        found = contents(folder)
        assert {name: found[name] for name in second if name != by_hand} == {
            name: data for name, data in second.items() if name != by_hand
        }
        assert found[by_hand] == b"edited by hand" and found[done.beside[0][1]] == second[by_hand]
        assert not [name for name in found if ".specgen-" in name]
    assert inside >= KILLS // 3  # most kills fell into the write
