"""The order of a parapet's layers: what stands outside what, on which side, and what lies next to it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from specgen.model.project import Component, Parapet
from specgen.practice.entries import Practice


def nearest(parapet: Parapet, part: Component, role: str) -> tuple[Component, ...]:
    """The components of a role that lie nearest to a component of the same list; all of them in another list."""
    found = parapet.all_of(role)
    for parts in (parapet.build_up, parapet.top):
        at = _places(parts)
        here = [other for other in found if other.id in at and other.id != part.id]
        if part.id in at and here:
            least = min(abs(at[other.id] - at[part.id]) for other in here)
            return tuple(other for other in here if abs(at[other.id] - at[part.id]) == least)
    return found


def beside(parapet: Parapet, part: Component, *roles: str) -> tuple[Component, ...]:
    """The components of these roles that lie against a component of the same list."""
    for parts in (parapet.build_up, parapet.top):
        at = _places(parts)
        if part.id in at:
            return tuple(one for one in parts if one.role in roles and abs(at[one.id] - at[part.id]) == 1)
    return ()


def stated_order(parapet: Parapet) -> tuple[str, ...]:
    """The components that the parapet names as its order of work, the first to be installed first."""
    return tuple(name for one in (parapet.word("work_order") or "").split(",") if (name := one.strip()))


def joined_to(parapet: Parapet, part: Component, role: str) -> tuple[Component, ...]:
    """The components of a role that a component meets at a joint as described, in the order of the file."""
    return tuple(other for other in parapet.all_of(role) if parapet.between(part, other))


def lapping_screed(parapet: Parapet) -> Component | None:
    """The barrier that meets the weep screed: the first that is joined to it, else the outermost."""
    screed = parapet.part("weep screed")
    met = joined_to(parapet, screed, "barrier") if screed else ()
    return met[0] if met else parapet.part("barrier")


def outside_of(parapet: Parapet, part: Component | None, role: str) -> bool:
    """Whether a layer of a role stands between a layer and the outer face."""
    at = _places(parapet.build_up)
    return part is not None and any(one.role == role for one in parapet.build_up[: at.get(part.id, 0)])


def outer_side(parapet: Parapet, role: str) -> tuple[Component, ...]:
    """The components of a role on the outer side of the framing; all of them where no framing is listed."""
    inner = {part.id for part in roof_side(parapet, role)}
    return tuple(part for part in parapet.all_of(role) if part.id not in inner)


def roof_side(parapet: Parapet, *roles: str) -> tuple[Component, ...]:
    """The components of these roles on the roof side of the framing."""
    order = [part.role for part in parapet.build_up]
    behind = parapet.build_up[order.index("framing") + 1 :] if "framing" in order else ()
    return tuple(part for part in behind if part.role in roles)


def same_side(parapet: Parapet, part: Component, role: str) -> tuple[Component, ...]:
    """The components of a role on the side of the framing on which a component stands."""
    outer = {one.id for one in outer_side(parapet, part.role)}
    return outer_side(parapet, role) if part.id in outer else roof_side(parapet, role)


def roof_side_barrier(parapet: Parapet) -> Component | None:
    """The barrier of a plastered roof side that laps a low base flashing, and that the top flashing laps in its place."""
    flashing, turn_up = parapet.part("top flashing"), parapet.part("roof turn-up")
    if flashing is None or turn_up is None or parapet.between(flashing, turn_up):
        return None
    if len(parapet.all_of("barrier")) == 1:
        return None
    laps = (part for part in roof_side(parapet, "barrier") if parapet.between(part, turn_up))
    return next(laps, None)


def layers_between(parapet: Parapet, practice: Practice, one: Component, other: Component) -> bool:
    """Whether another layer of the same list lies between two components; pieces at an edge do not count."""
    for parts in (parapet.build_up, parapet.top):
        at = _places(parts)
        if one.id in at and other.id in at:
            first, last = sorted((at[one.id], at[other.id]))
            return any(not practice.vocabulary.roles[part.role].edge for part in parts[first + 1 : last])
    return False


def _places(parts: Sequence[Component]) -> Mapping[str, int]:
    """Where each component stands in a list: its id is its own in a parapet, and told apart faster than its values."""
    return {part.id: number for number, part in enumerate(parts)}
