"""HM01: the hourly result that a project asks for is kept, and is of the wall as it is described.

Looks at `site.hourly` and at the file that `specgen hourly` keeps beside the project. A result is of this wall where its
key, the sum of all that it was made from, is that of the wall, the weather, the practice, and the program now. Where the
study is required, a result that is not there or no longer holds leaves the wall unknown. A result that no longer holds
of a project that does not ask for one is a question: nothing is decided by it any more.

Right::

    site: {climate_zone: 4A}

Wrong::

    site: {hourly: required}
"""

from collections.abc import Iterator

from specgen.design.hourly_kept import HOLDS, STALE, wanted
from specgen.model.finding import Severity
from specgen.rules.hourly.kept import rests_on, run_command, stands
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall

RULE = Rule(
    name="hourly result kept",
    severity=Severity.QUERY,
    applies_to="parapet",
    reason="A result of another wall, weather, or program decides nothing about this one.",
    basis=("hours.kept",),
    remedy="Run `specgen hourly` on the project. It keeps the result beside the project file.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """The kept result and its key."""
    found, asked, mark = stands(wall), wanted(wall.project), wall.project.site.at("hourly")
    lacks = "; ".join(found.now.missing)
    if found.state == HOLDS and found.result is not None:
        yield ok("an hourly result is kept that holds for this wall", because=rests_on(found.result))
    elif found.state == STALE and asked:
        message = "the kept hourly result was made of another wall, weather, or program"
        yield unknown(
            f"{message}; missing for its key: {lacks}" if lacks else message, run_command(wall), mark
        )
    elif asked:
        yield unknown("an hourly result is required, and none is kept", run_command(wall), mark)
    elif found.state == STALE:
        message = "the kept hourly result was made of another wall, weather, or program, and decides nothing"
        yield fail(f"{message}; missing for its key: {lacks}" if lacks else message)
    else:
        yield not_applicable("the project asks for no hourly result, and none is kept")
