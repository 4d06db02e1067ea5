"""MV03: a value that hangs on another is stated with it.

The force of braces says nothing without their height, the margin of a conductor head nothing where the scupper empties
into the open air, an alloy of aluminum nothing of a copper coping. Looks at the table of such values: where the other is
not stated it is asked for, and where it says otherwise one of the two is a slip.

Right::

    - role: coping
      kind: formed metal
      metal: aluminum
      alloy: 3003-H14

Wrong::

    - role: coping
      kind: formed metal
      metal: copper
      alloy: 3003-H14
"""

from collections.abc import Iterator

from specgen.model.finding import Severity
from specgen.model.project import Component, Record
from specgen.rules.hold import words
from specgen.rules.plausible.naming import title_of
from specgen.rules.rule import Rule, RuleResult, fail, not_applicable, ok, unknown
from specgen.rules.wall import Wall
from specgen.wall.differing import own_records, records_at

RULE = Rule(
    name="values stated alone",
    severity=Severity.RISK,
    applies_to="every record",
    reason="A value whose other half is missing or says otherwise is printed, and nothing is held against it.",
    basis=("table stated_together",),
    remedy="State the value that it belongs to, or take it out.",
)


def check(wall: Wall) -> Iterator[RuleResult]:
    """Each stated value that hangs on another, with that other."""
    found = []
    table = wall.practice.table("stated_together")
    for _, record in (*own_records(wall.project), *records_at(wall.parapet)):
        for row in table.where(what=record.what):
            if record.has(str(row["attribute"])):
                found.append(_beside(wall, record, str(row["attribute"]), str(row["needs"]), row["word"]))
    if not found:
        yield not_applicable("no value is stated that hangs on another")
    yield from found


def _beside(wall: Wall, record: Record, name: str, needs: str, held: object) -> RuleResult:
    """One value and what it hangs on, which stands in the same record or, as record.attribute, in the parapet."""
    of, _, attribute = needs.rpartition(".")
    other = wall.parapet if of else record
    layer = record.id if isinstance(record, Component) else ""
    title, hangs_on = _title(wall, record, name), _title(wall, other, attribute)
    if not other.has(attribute):
        missing = f"{layer and f'layer `{layer}`: '}add `{needs}`"
        return unknown(f"{title} is stated; {hangs_on} is not", missing, record.at(name), layer)
    stated = other.stated(attribute)
    if held and stated is not None and words(stated) != held:
        message = f"{title} is stated; {hangs_on} is {words(stated)}, which has none"
        return fail(message, record.at(name), layer)
    return ok(f"{title} is stated with {hangs_on}", record.at(name), layer)


def _title(wall: Wall, record: Record, name: str) -> str:
    """What a value is called, with the name of its place where that has one."""
    title = title_of(wall.practice.vocabulary, record, name)
    own = record.word("name") if record.what in ("scupper", "penetration") else None
    return f"{title} of {own}" if own else title
