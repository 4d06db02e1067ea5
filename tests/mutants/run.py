"""Mutation testing: wrong changes of a module, one at a time, each against the tests of ``rooms.yaml``.

    python -m tests.mutants.run                      # every module of the file; about half an hour
    python -m tests.mutants.run units.compare        # one module
    python -m tests.mutants.run units.compare keeps  # one function of it

A change in a function is tried in a fork of one process in which everything is imported and collected: the function's
code is exchanged, and the tests run that reach it, those files alone. A change outside of functions (a table, a pattern)
is tried in a process that imports the changed module from the start. What survives is printed with its place, and is
either a hole in the tests or a row under ``equivalent`` with the reason why nobody can notice it.
"""

from __future__ import annotations

import ast
import contextlib
import functools
import gc
import importlib.abc
import importlib.util
import os
import pickle
import resource
import sys
import tempfile
import time
import types
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

from tests import plain_yaml
from tests.mutants.changes import Change, changes

ROOT = Path(__file__).parents[2]
ROOMS = Path(__file__).with_name("rooms.yaml")
CPU_SECONDS = 40  # of one change in a function; longer is a change that never ends, and is noticed
MEMORY = 4 << 30
WANTED = 90.0  # of a hundred changes that can be noticed, so many are killed in each module; else status 1
UNCHANGED = "the tests do not pass without any change"
_OPTIONS = [
    "-q",
    "-x",
    "-s",
    "-p",
    "no:cacheprovider",
    "-p",
    "no:randomly",
    "-p",
    "no:xdist",
    "-o",
    "addopts=",
]
_OPTIONS += ["--import-mode=importlib", "-W", "ignore::pytest.PytestAssertRewriteWarning"]
# To read these again for each change would take most of the time.
_OF_FILES = ("specgen.practice", "specgen.files", "specgen.audit", "specgen.requirements.catalogue_file")


@dataclass
class Result:
    """What became of the changes of one module."""

    module: str
    killed: int = 0
    equivalent: list[Change] = field(default_factory=list)
    survived: list[Change] = field(default_factory=list)

    @property
    def share(self) -> float:
        """How many of the changes that can be noticed were killed [%]."""
        return 100 * self.killed / max(1, self.killed + len(self.survived))

    @property
    def line(self) -> str:
        """The result in one line."""
        noticeable = self.killed + len(self.survived)
        return (
            f"{self.module}: {noticeable + len(self.equivalent)} changes, {self.killed} killed, "
            f"{len(self.equivalent)} equivalent, {len(self.survived)} survived: "
            f"{self.share:.1f} % killed of those that can be noticed"
        )


def rooms() -> dict[str, Any]:
    """The modules with their tests, and what is equivalent."""
    return dict(plain_yaml.load(ROOMS.read_text(encoding="utf-8")))


def source(module: str) -> Path:
    """The file of a module that is named from ``specgen`` on."""
    return ROOT / "specgen" / f"{module.replace('.', '/')}.py"


def tree_of(module: str) -> ast.Module:
    return ast.parse(source(module).read_text(encoding="utf-8"))


def _forked(work: Callable[[], object]) -> Any:
    """Do a piece of work in a child; None where the child did not come to its end."""
    with tempfile.TemporaryFile() as answer:
        child = os.fork()
        if not child:
            with contextlib.suppress(BaseException):
                pickle.dump(work(), answer)
                answer.flush()
                os._exit(0)
            os._exit(1)
        _, status = os.waitpid(child, 0)
        answer.seek(0)
        return pickle.load(answer) if status == 0 else None


def _bounded() -> None:
    resource.setrlimit(resource.RLIMIT_CPU, (CPU_SECONDS, CPU_SECONDS))
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))


def _silent() -> None:
    nowhere = os.open(os.devnull, os.O_WRONLY)
    for number in (1, 2):
        os.dup2(nowhere, number)


# Outside of functions: the changed module is imported from the start


class _Changed(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Gives a module its changed code when it is imported."""

    def __init__(self, module: str, tree: ast.Module) -> None:
        self.name, self.path, self.tree = f"specgen.{module}", source(module), tree

    def find_spec(self, name: str, path: object, target: object = None) -> Any:
        if name != self.name:
            return None
        return importlib.util.spec_from_loader(name, self, origin=str(self.path))

    def exec_module(self, module: types.ModuleType) -> None:
        module.__file__ = str(self.path)
        exec(compile(self.tree, str(self.path), "exec"), module.__dict__)


def _from_the_start(module: str, number: int | None, files: Sequence[str]) -> bool:
    """Whether the tests pass with one change of a module, made before anything is imported."""
    _silent()
    _bounded()
    tree = tree_of(module)
    if number is not None:
        list(changes(tree))[number].made()
    sys.meta_path.insert(0, _Changed(module, tree))
    return all(pytest.main([*_OPTIONS, file]) == 0 for file in files)  # the first that fails tells


# Inside a function: its code is exchanged in a process that has everything


Name = tuple[str, int]  # qualified name and first line of a function
Reached = tuple[
    list[tuple[set[Name], float]], list[pytest.Item]
]  # of a file: what each test reaches, in seconds


def _codes(code: types.CodeType) -> Iterator[types.CodeType]:
    for inner in code.co_consts:
        if isinstance(inner, types.CodeType):
            yield inner
            yield from _codes(inner)


def _name(code: types.CodeType) -> Name:
    return code.co_qualname, code.co_firstlineno


class _Session:
    """A pytest plugin that, where tests would run, tries the changes of a module on them."""

    def __init__(self, module: str, numbers: Sequence[int], tell: Callable[[int, str], object]) -> None:
        self.module, self.numbers, self.tell = module, numbers, tell
        self.path = str(source(module))
        self.living: list[types.FunctionType] = []
        self.kept: list[Any] = []
        self.failed = False

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        self.failed = self.failed or report.failed

    @pytest.hookimpl(tryfirst=True)
    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self.kept = _kept()
        files: dict[str, list[pytest.Item]] = {}
        for item in session.items:
            files.setdefault(item.nodeid.split("::")[0], []).append(item)
        reached: list[Reached] = []
        for name, items in files.items():
            seen = _forked(lambda items=items: self._reach(items))  # type: ignore[misc]
            if seen is None:
                raise pytest.UsageError(f"{name} fails without any change")
            reached.append((seen, items))
        gc.unfreeze()  # `tests/conftest.py` sets what was collected aside, and nobody could find it here
        self.living = [one for one in gc.get_objects() if isinstance(one, types.FunctionType)]
        self.living = [one for one in self.living if one.__code__.co_filename == self.path]
        for number in self.numbers:
            outcome = _forked(lambda number=number: self._try(number, reached))  # type: ignore[misc]
            self.tell(number, outcome or "killed")
        return True

    def _reach(self, items: list[pytest.Item]) -> list[tuple[set[Name], float]]:
        """The functions of the module that each test of a file reaches, and its time."""
        self._forget()
        found: list[tuple[set[Name], float]] = []
        for place, item in enumerate(items):
            names: set[Name] = set()

            def trace(frame: types.FrameType, event: str, _: object, into: set[Name] = names) -> None:
                if frame.f_code.co_filename == self.path:
                    into.add(_name(frame.f_code))

            start = time.perf_counter()
            sys.settrace(trace)
            self._run(item, items[place + 1] if place + 1 < len(items) else None)
            sys.settrace(None)
            found.append((names, time.perf_counter() - start))
        if self.failed:
            raise AssertionError
        return found

    def _forget(self) -> None:
        for one in self.kept:
            one.cache_clear()

    def _run(self, item: pytest.Item, following: pytest.Item | None) -> None:
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=following)

    def _try(self, number: int, reached: list[Reached]) -> str:
        """Run the tests that reach one change: "killed", "survived", or that it has to be tried from the start."""
        _silent()
        _bounded()
        tree = tree_of(self.module)
        names = self._exchange(tree, list(changes(tree))[number])
        if names is None:
            return "from the start"
        chosen = [(seen, items) for seen, items in reached if any(names & one for one, _ in seen)]
        if not chosen:
            return "from the start"  # it runs when the module is imported, or never
        self._forget()
        order = list(dict.fromkeys([*self._that_reach(names, chosen), *_that_share(chosen)]))
        for place, item in enumerate(order):
            self._run(item, order[place + 1] if place + 1 < len(order) else None)
            if self.failed:
                return "killed"
        return "survived"

    def _that_reach(self, names: set[Name], chosen: list[Reached]) -> list[pytest.Item]:
        """The tests that reach some functions, the quickest first."""
        pairs = [
            (seconds, item)
            for seen, items in chosen
            for (reached, seconds), item in zip(seen, items, strict=True)
            if names & reached
        ]
        return [item for _, item in sorted(pairs, key=lambda pair: pair[0])]

    def _exchange(self, tree: ast.Module, change: Change) -> set[Name] | None:
        """Give the living functions their changed code; the functions that changed, None where that cannot be."""
        before = list(_codes(compile(tree, self.path, "exec")))
        change.made()
        after = list(_codes(compile(tree, self.path, "exec")))
        old = {_name(code): code for code in before}
        new = {_name(code): code for code in after}
        if len(old) != len(before) or set(old) != set(new):
            return None
        differ = {name for name, code in new.items() if code != old[name]}
        for function in self.living:
            if _name(function.__code__) in differ:
                code = new[_name(function.__code__)]
                if code.co_freevars != function.__code__.co_freevars:
                    return None
                function.__code__ = code
        return differ


def _that_share(chosen: list[Reached]) -> Iterator[pytest.Item]:
    """Tests of what another test of the file has made: a fixture of the file reached the function there."""
    for _, items in chosen:
        for item in items:
            fixtures = getattr(item, "_fixtureinfo").name2fixturedefs  # noqa: B009
            made = [one for several in fixtures.values() for one in several if one.baseid.startswith("tests")]
            if any(one.scope != "function" for one in made):
                yield item


def _kept() -> list[Any]:
    """What the functions of the house remember, but for what they read of files that do not change here."""
    found = [one for one in gc.get_objects() if isinstance(one, functools._lru_cache_wrapper)]
    homes = [(one, getattr(one, "__module__", "") or "") for one in found]
    return [one for one, home in homes if home.startswith("specgen.") and not home.startswith(_OF_FILES)]


def _inside(module: str, numbers: Sequence[int], files: Sequence[str]) -> Iterator[tuple[int, str]]:
    """What becomes of changes in functions, as it is found."""
    out, into = os.pipe()
    child = os.fork()
    if not child:
        os.close(out)
        _silent()
        session = _Session(module, numbers, lambda number, how: os.write(into, f"{number} {how}\n".encode()))
        os._exit(int(pytest.main([*_OPTIONS, *files], plugins=[session])))
    os.close(into)
    with os.fdopen(out) as lines:
        for line in lines:
            number, _, outcome = line.rstrip("\n").partition(" ")
            yield int(number), outcome
    if os.waitpid(child, 0)[1]:
        raise SystemExit(f"{module}: {UNCHANGED}")


def _outside(module: str, numbers: Sequence[int], files: Sequence[str]) -> Iterator[tuple[int, str]]:
    """What becomes of changes that are made before anything is imported, as it is found."""
    if _forked(lambda: _from_the_start(module, None, files)) is not True:
        raise SystemExit(f"{module}: {UNCHANGED}")
    for number in numbers:
        passed = _forked(lambda number=number: _from_the_start(module, number, files))  # type: ignore[misc]
        yield number, "survived" if passed else "killed"


def tried(module: str, files: Sequence[str], rows: Sequence[dict[str, str]], function: str = "") -> Result:
    """Try every change of a module (of one function), and print what survives."""
    every = list(changes(tree_of(module)))
    numbers = [n for n, one in enumerate(every) if not function or one.where.split(".")[-1] == function]
    result, start = Result(module), time.monotonic()
    later = [number for number in numbers if not every[number].inside]

    def outcomes() -> Iterator[tuple[int, str]]:
        inside = [number for number in numbers if every[number].inside]
        for number, outcome in _inside(module, inside, files) if inside else ():
            if outcome == "from the start":
                later.append(number)
            else:
                yield number, outcome
        if later:
            yield from _outside(module, later, files)

    for number, outcome in outcomes():
        change = every[number]
        if outcome == "killed":
            result.killed += 1
        elif any(row["in"] == change.where and row["change"] == change.text for row in rows):
            result.equivalent.append(change)
        else:
            result.survived.append(change)
            place = f"{source(module).relative_to(ROOT)}:{change.line}"
            print(f"{place}: {change.where or 'module'}: {outcome}: {change.text}", flush=True)
    for row in rows if not function else ():
        if not any(row["in"] == one.where and row["change"] == one.text for one in result.equivalent):
            print(f"{module}: {row['in']}: no such change survives: {row['change']}")
    print(f"{result.line} ({time.monotonic() - start:.0f} s)", flush=True)
    return result


def main(arguments: Sequence[str]) -> int:
    """Try the module that is named, or one function of it, or every module."""
    for name in (
        "numpy",
        "hypothesis",
        "jinja2",
        "docx",
        "openpyxl",
        "cerberus",
        "lxml.etree",
        "pint",
        "click",
    ):
        importlib.import_module(name)
    listed = rooms()
    function = arguments[1] if len(arguments) > 1 else ""
    shares = []
    for module in arguments[:1] or list(listed["modules"]):
        rows = [row for row in listed["equivalent"] or () if row["module"] == module]
        shares.append(tried(module, listed["modules"][module], rows, function).share)
    return 1 if min(shares) < WANTED else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
