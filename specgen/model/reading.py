"""What is read of a project while something is worked out from it.

Records and lists tell the reader of the moment what they were asked for. Nothing is told while nobody reads: then a
look at a value costs one look at a context variable more.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, ItemsView, Iterator, Mapping
from contextvars import ContextVar
from typing import Generic, TypeVar, overload

T = TypeVar("T")
V = TypeVar("V")
Read = tuple[int, object]  # identity of the object that was asked, and what for

WHOLE = None  # asked for everything the object holds


class Reader:
    """Collects what one piece of work reads of a project, and whose results it asks for.

    What was read for a result that is lent, and holds all of a wall, is kept apart from what is read for itself.
    """

    __slots__ = ("asked", "borrowed", "reads")

    reads: set[Read]
    borrowed: set[Read]
    asked: dict[tuple[Hashable, str], object]  # by what was worked out and at which parapet


READER: ContextVar[Reader | None] = ContextVar("reader", default=None)


def tell(owner: object, what: object) -> None:
    """Tell the reader of the moment that something of an object was asked for."""
    reader = READER.get()
    if reader is not None:
        reader.reads.add((id(owner), what))


class Named(Mapping[str, V], Generic[V]):
    """Values by name that tell which of them are asked for.

    >>> dict(Named({"metal": "aluminum"})), Named({"metal": "aluminum"}) == {"metal": "aluminum"}
    ({'metal': 'aluminum'}, True)
    """

    __slots__ = ("_held",)

    def __init__(self, held: Mapping[str, V]) -> None:
        self._held = dict(held)

    @overload
    def get(self, name: str, /) -> V | None: ...
    @overload
    def get(self, name: str, /, default: V | T) -> V | T: ...
    def get(self, name: str, /, default: V | T | None = None) -> V | T | None:
        """The value of a name, or ``default``."""
        reader = READER.get()
        if reader is not None:
            reader.reads.add((id(self), name))
        return self._held.get(name, default)

    def __getitem__(self, name: str) -> V:
        tell(self, name)
        return self._held[name]

    def __contains__(self, name: object) -> bool:
        reader = READER.get()
        if reader is not None:
            reader.reads.add((id(self), name))
        return name in self._held

    def __iter__(self) -> Iterator[str]:
        tell(self, WHOLE)
        return iter(self._held)

    def items(self) -> ItemsView[str, V]:
        """Every name with its value."""
        tell(self, WHOLE)
        return self._held.items()

    def __len__(self) -> int:
        tell(self, WHOLE)
        return len(self._held)

    def __eq__(self, other: object) -> bool:
        tell(self, WHOLE)
        return self._held == (other._every() if isinstance(other, Named) else other)

    __hash__ = None  # type: ignore[assignment]

    def _every(self) -> Mapping[str, V]:
        tell(self, WHOLE)
        return self._held

    def __repr__(self) -> str:
        return repr(self._held)


def named(held: Mapping[str, V]) -> Named[V]:
    """Values by name that tell which of them are asked for; what tells already stays the same object."""
    return held if isinstance(held, Named) else Named(held)


class _TellingField:
    """A field of a frozen dataclass that tells when it is asked for."""

    def __init__(self, name: str) -> None:
        self.name, self.what = name, ("field", name)

    def __get__(self, owner: object, kind: type | None = None) -> object:
        if owner is None:
            return self
        reader = READER.get()
        if reader is not None:
            reader.reads.add((id(owner), self.what))
        return owner.__dict__[self.name]

    def __set__(self, owner: object, value: object) -> None:
        owner.__dict__[self.name] = value


def tells(*names: str) -> Callable[[type[T]], type[T]]:
    """Makes fields of a frozen dataclass tell when they are asked for; stands above ``@dataclass``."""

    def decorated(made: type[T]) -> type[T]:
        for name in names:
            setattr(made, name, _TellingField(name))
        return made

    return decorated
