"""Components without a kind: of one that nobody knows yet, or stated to be none; and what names components by id."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import replace

from specgen.files.marks import Mark
from specgen.intake.places import Share, check_places
from specgen.intake.values import UNKNOWN
from specgen.model.project import Parapet, Transition
from specgen.practice.trade_names import hint

NONE = "none"  # in place of a kind: the parapet has no component of the role
KINDLESS = (UNKNOWN, NONE)
Tell = Callable[[Mark, str, str], None]


def apart(parapet: Parapet, problem: Tell) -> Parapet:
    """A parapet whose lists hold components of known kind alone; the others stand apart.

    Args:
        parapet: with all that its file names.
        problem: notes a role that is stated to be none and is described as well.
    """
    every = tuple(parapet.components())
    if all(part.kind not in KINDLESS for part in every):
        return parapet
    absent = tuple(part for part in every if part.kind == NONE)
    for part in absent:
        values = ", ".join(f"`{name}`" for name in (*part.values, *part.unknown, *part.inapplicable))
        if values:
            message = f"`{part.id}` is stated to be none, and {values} beside it"
            problem(part.at("kind"), message, "state its kind, or delete the other values")
        if other := next((one for one in every if one.role == part.role and one.kind != NONE), None):
            message = f"the parapet `{parapet.name}` has no {part.role}, and one is described"
            problem(part.at("kind"), message, f"delete one of the two (the other: line {other.mark.line})")
    return replace(
        parapet,
        build_up=tuple(part for part in parapet.build_up if part.kind not in KINDLESS),
        top=tuple(part for part in parapet.top if part.kind not in KINDLESS),
        undecided=tuple(part for part in every if part.kind == UNKNOWN),
        absent=absent,
    )


def consistent(
    parapet: Parapet, problem: Tell, share: Share, unread: Collection[str], nameless: bool
) -> Parapet:
    """Component ids are unique, and what names a component names one that exists; laps of undecided ones are set aside.

    Args:
        parapet: its kindless components apart.
        problem: notes a problem of this parapet.
        share: notes one that other parapets of the type may have as well.
        unread: ids of components with problems.
        nameless: whether an id could not be read, so that none can be called missing.
    """
    ids: dict[str, Mark] = {}
    for part in (*parapet.components(), *parapet.undecided):
        if part.id in ids:
            fix = f"give one an `id:` (first: line {ids[part.id].line})"
            problem(part.mark, f"component id `{part.id}` is used twice", fix)
        ids.setdefault(part.id, part.mark)
    check_places(share, parapet, unread)
    none = {part.id for part in parapet.absent}
    for joint in parapet.transitions:
        for name, mark in _named(joint):
            if name in ids or name in unread or nameless:
                continue
            fix = hint(name, ids, f"components here: {', '.join(ids) or 'none yet; list it first'}")
            what = f"`{name}` is stated to be none, and meets another component" if name in none else ""
            share(mark, f"{what or f'no component `{name}`'} {{in}}", fix, parapet.name)
        upper, both = joint.word("upper"), (joint.first, joint.second)
        if upper in ids and upper not in both and all(end in ids for end in both):
            message = f"`upper`: `{upper}` is not one of the two that meet here"
            problem(joint.at("upper"), message, f"write {joint.first} or {joint.second}")
    waiting = {part.id for part in parapet.undecided}
    if not waiting:
        return parapet
    kept = (joint for joint in parapet.transitions if not waiting & {name for name, _ in _named(joint)})
    return replace(parapet, transitions=tuple(kept))


def _named(joint: Transition) -> list[tuple[str, Mark]]:
    """The components that a transition names, with the place of each name."""
    named = [(end, joint.at("between")) for end in (joint.first, joint.second)]
    return named + [(joint.word(key) or "", joint.at(key)) for key in ("upper", "tape") if joint.has(key)]
