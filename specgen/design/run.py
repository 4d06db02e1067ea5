"""Finds the calculations of this room and runs them."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping
from functools import lru_cache
from types import MappingProxyType, ModuleType

import specgen.design as room
from specgen.model.calculation import Calculation
from specgen.model.project import Parapet, Project
from specgen.practice.entries import Practice
from specgen.wall.memo import Memo


@lru_cache(maxsize=1)
def subjects() -> Mapping[str, ModuleType]:
    """Every module of this room that has a ``SUBJECT``, by subject, in alphabetical order.

    Raises:
        ValueError: two modules have the same subject.
    """
    found: dict[str, ModuleType] = {}
    for info in pkgutil.iter_modules(room.__path__):
        module = importlib.import_module(f"{room.__name__}.{info.name}")
        add_subject(found, module)
    return MappingProxyType(dict(sorted(found.items())))


def everyday(parapets: Iterable[Parapet] = ()) -> tuple[str, ...]:
    """The subjects that run without being asked for by name, in alphabetical order.

    A subject that is about some parapets alone (``ONLY_WHERE``) is among them where one of these is such.
    """
    walls = tuple(parapets)
    return tuple(
        name
        for name, module in subjects().items()
        if not getattr(module, "ON_REQUEST", False)
        and (not hasattr(module, "ONLY_WHERE") or any(module.ONLY_WHERE(wall) for wall in walls))
    )


def reported(project: Project) -> tuple[str, ...]:
    """The subjects that the basis report shows: those of every day, and the hours where a result of them is kept."""
    from specgen.design.hourly_moisture import SUBJECT as HOURS

    return (*everyday(project.parapets), *((HOURS,) if project.hourly else ()))


def add_subject(found: dict[str, ModuleType], module: ModuleType) -> None:
    """Add a module by its subject; a module without one is a tool of this room.

    Raises:
        ValueError: the subject is taken.
    """
    subject = getattr(module, "SUBJECT", None)
    if subject is None:
        return
    if subject in found:
        raise ValueError(f"calculation {subject!r} is in {found[subject].__name__} and in {module.__name__}")
    found[subject] = module


def calculate_all(
    project: Project,
    practice: Practice,
    subjects: Collection[str] | None = None,
    parapets: Collection[str] | None = None,
) -> tuple[Calculation, ...]:
    """Run calculations, parapet by parapet in the order of the project file.

    Args:
        project: the project.
        practice: the trade's numbers.
        subjects: which calculations; None for all but the expensive ones, whose module says ``ON_REQUEST``.
        parapets: which parapets, by name; None for all.

    Returns:
        One calculation a parapet and subject, finished or unknown.

    Raises:
        KeyError: no such subject, or no such parapet.
    """
    modules = _chosen(everyday(project.parapets) if subjects is None else subjects)
    wanted = [parapet for parapet in project.parapets if parapets is None or parapet.name in parapets]
    unknown = set(parapets or ()) - {parapet.name for parapet in wanted}
    if unknown:
        raise KeyError(f"no parapet {', '.join(sorted(unknown))}")
    memo = Memo(project, practice)
    return tuple(memo.at(module.calculate, parapet.name) for parapet in wanted for module in modules)


class OnDemand(Mapping[str, Calculation]):
    """The calculations of one parapet by subject, each made when it is first asked for, the expensive ones too.

    What nothing asks for is never calculated: a check of many parapets pays only for what its rules and
    requirements read. Iterating names every subject.
    """

    def __init__(self, memo: Memo, parapet: str) -> None:
        self._memo, self._parapet = memo, parapet

    def __getitem__(self, subject: str) -> Calculation:
        """The calculation; KeyError for a subject that does not exist."""
        return self._memo.at(_work(subject), self._parapet)

    def behind(self, subject: str) -> tuple[Calculation, ...]:
        """A calculation and those whose results it takes up, theirs included."""
        own = self[subject]
        others = self._memo.behind(_work(subject), self._parapet)
        return (own, *(one for one in others if isinstance(one, Calculation)))

    def __iter__(self) -> Iterator[str]:
        return iter(subjects())

    def __len__(self) -> int:
        return len(subjects())

    @property
    def made(self) -> Mapping[str, Calculation]:
        """Those that have been made so far."""
        return {name: self[name] for name in self if (_work(name), self._parapet) in self._memo.made}


def on_demand(memo: Memo) -> Mapping[str, OnDemand]:
    """Every calculation of every parapet of a memo's project, by parapet and then by subject."""
    return {parapet.name: OnDemand(memo, parapet.name) for parapet in memo.project.parapets}


def _work(subject: str) -> Callable[[Project, Parapet, Practice], Calculation]:
    work: Callable[[Project, Parapet, Practice], Calculation] = subjects()[subject].calculate
    return work


def _chosen(names: Collection[str]) -> list[ModuleType]:
    known = subjects()
    unknown = set(names) - set(known)
    if unknown:
        raise KeyError(f"no calculation {', '.join(sorted(unknown))}; known: {', '.join(known)}")
    return [module for subject, module in known.items() if subject in names]
