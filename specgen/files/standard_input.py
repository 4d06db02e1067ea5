"""Standard input in place of a file: read once when a command line asks for it by ``-``, and named ``<stdin>``."""

from __future__ import annotations

from contextvars import ContextVar, Token
from pathlib import Path

STDIN = Path("<stdin>")
"""What stands for it wherever a file is named; what it names lies in the folder in which the program was called."""

_read: ContextVar[bytes | None] = ContextVar("read", default=None)


def hold(data: bytes) -> Token[bytes | None]:
    """Give what was read to whoever opens `STDIN`, until :func:`let_go`; a file of that name is a file otherwise."""
    return _read.set(data)


def let_go(token: Token[bytes | None]) -> None:
    """End what :func:`hold` began."""
    _read.reset(token)


def held(name: str | Path) -> bytes | None:
    """What was read of standard input, where the name stands for it; None for every other file.

    >>> token = hold(b"parapets: []")
    >>> held("<stdin>"), held("project.yaml")
    (b'parapets: []', None)
    >>> let_go(token)
    >>> held(STDIN) is None
    True
    """
    return _read.get() if str(name) == str(STDIN) else None
