"""A request to build something else than specified: what is proposed, and what the requester says of it."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.files.marks import Mark
from specgen.model.project import Record
from specgen.model.submission import Product


@dataclass(frozen=True)
class AssemblyChange:
    """One value of the project file that the request would change: ``P-1.drainage layer.kind`` to ``mesh``."""

    path: str
    written: str
    mark: Mark
    meant: str = ""  # why the value is right, where it is not expected

    @property
    def text(self) -> str:
        """The change as ``path=value``."""
        return f"{self.path}={self.written}"


@dataclass(frozen=True)
class Request:
    """One substitution request: products, changes of the assembly, or both."""

    info: Record  # number, project, date, from, reason, cost, time
    products: tuple[Product, ...]
    changes: tuple[AssemblyChange, ...]
    path: str

    @property
    def number(self) -> str:
        """Its number, by which it is told apart from others."""
        return self.info.word("number") or ""
