"""Whether the proposed repair of a standing parapet answers what was found in it."""

from specgen.model.project import Existing
from specgen.practice.entries import Practice

TABLE = "existing_found"
ANYWHERE = "anywhere"
WET_WOOD = "wet wood"


def answers_to(found: str, place: str, practice: Practice) -> tuple[str, ...]:
    """The repairs known to answer what was found at a place, in the order of the table."""
    rows = practice.table(TABLE).where(found=found)
    return tuple(dict.fromkeys(str(row["repair"]) for row in rows if row["place"] in (ANYWHERE, place)))


def answered_by(found: str, place: str, existing: Existing, practice: Practice) -> tuple[str, ...]:
    """The proposed repairs that answer what was found at a place; empty if none does."""
    proposed = {one.word("what") for one in existing.repairs}
    return tuple(one for one in answers_to(found, place, practice) if one in proposed)
