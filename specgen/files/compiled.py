"""What ships with specgen and is read at every start, kept in the form that Python loads at once.

It stands where Python keeps the compiled modules of the package, and as safely: who can write there can change the
program. Only what ships is kept, never a file of a project or an office. The form belongs to the bytes it was made
from and to the program that made it; where either differs, or the folder cannot be written, it is made anew.
"""

from __future__ import annotations

import contextlib
import marshal
import os
import sys
from collections.abc import Callable, Iterable
from functools import lru_cache
from importlib.util import cache_from_source, source_hash
from pathlib import Path
from typing import Any

from specgen.files import yaml_events, yaml_reader, yaml_scalars
from specgen.files.yaml_reader import read_yaml

PACKAGE = Path(__file__).parents[1]
_MAKERS = (yaml_events.__file__, yaml_reader.__file__, yaml_scalars.__file__, __file__)
_HASH = 8  # bytes


def shipped_yaml(path: Path) -> Any:
    """A YAML file of the package, as plain maps and lists without marks.

    Raises:
        InputError: as of :func:`specgen.files.yaml_reader.read_yaml`.
    """
    if not path.is_relative_to(PACKAGE) or not path.is_file():
        return read_yaml(path)
    name = "-".join(path.relative_to(PACKAGE).parts)
    return compiled(name, [path.read_bytes()], lambda: _plain(read_yaml(path)))


def compiled(name: str, made_from: Iterable[bytes], make: Callable[[], Any]) -> Any:
    """What is made from some bytes, as it was made before.

    Args:
        name: names what is made, apart from everything else that is kept.
        made_from: all that it depends on besides the reader of YAML files.
        make: makes it: maps, lists, tuples, words, numbers, code; nothing else can be kept.
    """
    key = source_hash(b"\0".join([_program(), *made_from]))
    file = Path(cache_from_source(str(PACKAGE / f"{name}.py"))).with_suffix(".kept")
    with contextlib.suppress(OSError, ValueError, EOFError, TypeError):
        held = file.read_bytes()
        if held[:_HASH] == key and held[_HASH : 2 * _HASH] == source_hash(held[2 * _HASH :]):
            return marshal.loads(held[2 * _HASH :])  # noqa: S302 - as safe as a compiled module, see above
    made = make()
    if not sys.dont_write_bytecode:
        with contextlib.suppress(OSError, ValueError):
            _write(file, key, marshal.dumps(made))
    return made


def _write(file: Path, key: bytes, data: bytes) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    aside = file.with_suffix(f".{os.getpid()}")
    aside.write_bytes(key + source_hash(data) + data)
    aside.replace(file)


@lru_cache(maxsize=1)
def _program() -> bytes:
    return source_hash(b"\0".join(Path(name).read_bytes() for name in _MAKERS))


def _plain(node: Any) -> Any:
    if isinstance(node, dict):
        return {key: _plain(value) for key, value in node.items()}
    return [_plain(value) for value in node] if isinstance(node, list) else node
