"""Changes of a project file by names, as the page asks for them: text in, text out, and what was done in words.

Each function takes the text of the file, the project as it was read from it, and the practice of its office, and changes
the text at the marks of the values alone. Nothing is written to disk here, and what comes out is still to be read.
"""

from __future__ import annotations

from specgen.work.editing_file import Address, Edited
from specgen.work.editing_kinds import change_kind
from specgen.work.editing_layers import (
    add_layer,
    add_transition,
    move_layer,
    remove_layer,
    remove_transition,
    state_none,
)
from specgen.work.editing_parapets import (
    add_parapet,
    add_place,
    make_type,
    remove_parapet,
    remove_place,
    rename_parapet,
    set_type,
)
from specgen.work.editing_tried import apply_edits
from specgen.work.editing_values import (
    ValueStanding,
    as_the_type,
    set_because,
    set_meant,
    set_way,
    stated_at,
)

__all__ = [
    "Address",
    "Edited",
    "ValueStanding",
    "add_layer",
    "add_parapet",
    "add_place",
    "add_transition",
    "apply_edits",
    "as_the_type",
    "change_kind",
    "make_type",
    "move_layer",
    "remove_layer",
    "remove_parapet",
    "remove_place",
    "remove_transition",
    "rename_parapet",
    "set_because",
    "set_meant",
    "set_type",
    "set_way",
    "state_none",
    "stated_at",
]
