"""TF10: the flashing may wait as long as the plaster takes.

In the order of work the coping comes after the plaster, and the plaster after the top flashing: the flashing stands
in the sun while base coats are kept moist, the finish waits for them, and the plaster grows old enough to be loaded.
The planned exposure of the flashing is compared with the sum of these times, which leaves out lath and rain.

Right::

    - role: plaster
      kind: portland cement plaster
      cure_before_load: 14 days
    - role: top flashing
      kind: self-adhered butyl
      planned_exposure: 30 days

Wrong::

    - role: plaster
      kind: portland cement plaster
      cure_before_load: 14 days
    - role: top flashing
      kind: self-adhered butyl
      planned_exposure: 14 days
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component
from specgen.rules.held import each_layer
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok
from specgen.rules.wall import Wall
from specgen.units.compare import at_least
from specgen.units.quantity import Quantity, from_si

RULE = Rule(
    name="flashing waits for plaster",
    severity=Severity.RISK,
    applies_to="top flashing",
    reason="A flashing planned for less sun than the plaster takes is overdue on the day the coping could first be set.",
    basis=("flashing.waits_for_plaster", "field.moist_cure", "field.finish_wait", "plaster.cure_before_load"),
    remedy="Plan the exposure for the time that the plaster takes, with a flashing that allows it, or cover it.",
)


@each_layer("top flashing")
def check(wall: Wall, flashing: Component) -> Iterator[RuleResult]:
    """The planned exposure against the least time from the first coat to the coping."""
    planned, plaster = flashing.quantity("planned_exposure"), _between(wall, flashing)
    if plaster is None:
        yield not_applicable("no plaster stands between the flashing and the coping in the order of work")
    elif planned is None:
        yield not_applicable("how long the flashing is planned to wait is not stated")
    else:
        needed = _plaster_time(wall, plaster)
        seen, least = wall.beside(planned, "at least", needed)
        message = (
            f"the flashing is planned to wait {seen}; coats, finish, and the age of the plaster before the coping is set "
            f"take {least}"
        )
        say = ok if at_least(planned, needed) else fail
        yield say(message, flashing.at("planned_exposure"), flashing.id)


def _between(wall: Wall, flashing: Component) -> Component | None:
    """The plaster that is laid after the flashing and before the coping; None where there is none."""
    place = {step.component: number for number, step in enumerate(wall.order.steps)}
    copings = [place[one.id] for one in wall.parapet.all_of("coping") if one.id in place]
    for plaster in wall.parapet.all_of("plaster"):
        at = place.get(plaster.id)
        if at is not None and copings and place.get(flashing.id, at) < at < min(copings):
            return plaster
    return None


def _plaster_time(wall: Wall, plaster: Component) -> Quantity:
    """Moist cure of each base coat but the last, the wait of the finish, and the age at which it is loaded."""
    practice = wall.practice
    coats = plaster.values.get("coats")
    count = coats if isinstance(coats, int) else int(practice.quantity("plaster.coats").value)
    age = plaster.quantity("cure_before_load") or practice.quantity("plaster.cure_before_load")
    cure, wait = practice.quantity("field.moist_cure").value, practice.quantity("field.finish_wait").value
    return from_si(max(count - 2, 0) * cure + wait + age.value, "time", "days")
