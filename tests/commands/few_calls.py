"""A system with fewer calls, as Windows is one: no fork, no POSIX locks and limits, files in another encoding by default.

``python -m tests.commands.few_calls FOLDER`` runs the command lines of FOLDER/lines.json there, each in its turn, and
writes what came of them into FOLDER/done.json. Processes that are spawned have no more calls than this one.
"""

from __future__ import annotations

import importlib
import json
import multiprocessing
import os
import sys
import traceback
import warnings
from pathlib import Path

from tests.commands.windows import Windows, locks

ABSENT = ("fcntl", "resource", "pwd", "grp", "termios")
CALLS = (
    "fork",
    "forkpty",
    "killpg",
    "setsid",
    "getpgrp",
    "getpgid",
    "sched_getaffinity",
    "mkfifo",
    "geteuid",
    "getuid",
)
FLAGS = ("O_NOFOLLOW", "O_NONBLOCK", "O_DIRECTORY")


def take_away() -> None:
    """Leave this process what it would have there."""
    for needing in (
        "subprocess",
        "concurrent.futures.process",
        "multiprocessing.popen_spawn_posix",
        "tempfile",
    ):
        importlib.import_module(needing)  # of the standard library, which asks for calls of this system
    from specgen.files import atomic, lock

    sys.modules["msvcrt"] = locks()
    for module in (atomic, lock):
        module.os = Windows()  # type: ignore[attr-defined]
    for name in (*CALLS, *FLAGS):
        if hasattr(os, name):
            delattr(os, name)
    for name in ABSENT:
        sys.modules[name] = None  # type: ignore[assignment]
    multiprocessing.get_all_start_methods = lambda: ["spawn"]  # type: ignore[assignment]
    warnings.filterwarnings("error", category=EncodingWarning, module=r"specgen(\.|\Z)")


def run(words: list[str]) -> dict[str, object]:
    """A command line: its status, and what it printed; a traceback where it has one."""
    from click.testing import CliRunner

    from specgen.commands import main

    done = CliRunner().invoke(main, words)
    raised = done.exception is not None and not isinstance(done.exception, SystemExit)
    trace = "".join(traceback.format_exception(done.exception)) if raised else ""
    return {"status": done.exit_code, "out": done.stdout, "err": done.stderr, "trace": trace}


take_away()

if __name__ == "__main__":
    folder = Path(sys.argv[1])
    lines = json.loads((folder / "lines.json").read_text("utf-8"))
    (folder / "done.json").write_text(json.dumps([run(words) for words in lines]), "utf-8")
