"""Changes of a project file by names, as the page asks for them: text in, text out, and what was done in words.

Each function takes the text of the file, the project as it was read from it, and the practice of its office, and changes
the text at the marks of the values alone. Nothing is written to disk here, and what comes out is still to be read.
"""

from __future__ import annotations

from specgen.work.editing_file import Address, Edited
from specgen.work.editing_layers import (
    add_layer,
    add_transition,
    change_kind,
    move_layer,
    remove_layer,
    remove_transition,
)
from specgen.work.editing_tried import apply_edits
from specgen.work.editing_values import (
    Standing,
    set_because,
    set_meant,
    set_way,
    stated_at,
)

__all__ = [
    "Address",
    "Edited",
    "Standing",
    "add_layer",
    "add_transition",
    "apply_edits",
    "change_kind",
    "move_layer",
    "remove_layer",
    "remove_transition",
    "set_because",
    "set_meant",
    "set_way",
    "stated_at",
]
