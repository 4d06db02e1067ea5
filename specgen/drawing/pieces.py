"""Every piece of a section."""

from __future__ import annotations

from specgen.drawing.frame import Frame, laps_of
from specgen.drawing.levels import Levels
from specgen.drawing.piece import (
    Build,
    Piece,
)
from specgen.drawing.pieces_roof import roof_pieces
from specgen.drawing.pieces_top import top_pieces
from specgen.drawing.pieces_wall import edge_pieces, wall_pieces
from specgen.drawing.sizes import Job


def pieces(job: Job, frame: Frame, levels: Levels) -> tuple[Piece, ...]:
    """Every piece, what lies behind first."""
    build = Build(job, frame, levels, laps_of(job))
    return (*roof_pieces(build), *wall_pieces(build), *edge_pieces(build), *top_pieces(build))
