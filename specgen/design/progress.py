"""How far a long study is: the study tells its share from inside, and whoever runs it may listen."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

Listener = Callable[[float], None]

_listener: ContextVar[Listener | None] = ContextVar("listener", default=None)


@contextmanager
def listening(listener: Listener) -> Iterator[None]:
    """Hand every share that is told within to a listener.

    >>> heard = []
    >>> with listening(heard.append):
    ...     tell(0.5)
    >>> tell(1.0)
    >>> heard
    [0.5]
    """
    token = _listener.set(listener)
    try:
        yield
    finally:
        _listener.reset(token)


def tell(share: float) -> None:
    """Say which share of a study is done [-], 0 to 1; nothing happens where nobody listens."""
    listener = _listener.get()
    if listener is not None:
        listener(share)
