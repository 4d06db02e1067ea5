"""Control joints of the plastered outer face: the fewest that keep every panel within its limits."""

from __future__ import annotations

from dataclasses import dataclass

from specgen.design.worksheet import AREA, HEIGHT, NUMBER, Worksheet, calculation
from specgen.model.project import Parapet, Project, Record
from specgen.physics.panels import MOST_PANELS, PanelLayout, PanelLimits, panel_layout
from specgen.practice.entries import Practice
from specgen.units.compare import computed_at_least
from specgen.units.show import feet_and_inches

SUBJECT = "plaster panels"
TITLE = "Control joints of the plastered face"
SETS = (
    "vertical_joints",
    "horizontal_joints",
    "vertical_at",
    "horizontal_at",
    "largest_area",
    "largest_side",
    "largest_ratio",
    "control_joint",
    "casing_bead",
    "corner_bead",
    "weep_screed",
)
VALIDITY = "Rectangular faces of lath and plaster with joints through the whole height or length."
LEAVES_OUT = (
    "Openings, changes of substrate and building joints that the project file does not place: each needs a joint.",
    "The roof-side face where it is plastered: lay it out in the same way.",
    "The finish: a joint may follow a reveal of the design instead.",
)
BEYOND_STEP = "The face beyond a step stands at another height: lay it out by itself."


@dataclass(frozen=True)
class Face:
    """A plastered face for a drawing: length and height [m], and its joints, so many of them of the building."""

    length_m: float
    height_m: float
    layout: PanelLayout
    of_building: int


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Fewest control joints of the outer face of one parapet, their places, and the lengths of beads.

    Formulas: panel area, longer side and ratio of sides at most the limits of ASTM C1063, or the project's own
    where they are stricter.

    Given: length, plastered height, and corners, building joints and scuppers with a position. Of practice: the
    limits. Unknown where the length is missing, the face is not plaster, or no layout fits.
    """
    face = _face(work)
    _joints(work, face)
    _beads(work, face)


def face_of(project: Project, parapet: Parapet, practice: Practice) -> Face | None:
    """The face and its joints for a drawing; None where the calculation is unknown."""
    work = Worksheet(SUBJECT, TITLE, project, parapet, practice, VALIDITY, list(LEAVES_OUT))
    with work.writing():
        return _face(work)
    return None


def _face(work: Worksheet) -> Face:
    if work.parapet.part("plaster") is None:
        raise work.stop("not covered: the build-up has no plaster")
    work.require("parapet.length", "parapet.height")
    length = work.input("L", "parapet.length")
    if work.given("parapet.plaster_height"):
        height = work.input("H", "parapet.plaster_height")
    else:
        height = work.input("H", "parapet.height")
        work.leaves_out.append(
            "No plastered height is given: the parapet's height above the roof is taken. Plaster that runs on "
            "below the roof, down to the next weep screed, makes taller panels (parapet.plaster_height)."
        )
    if work.parapet.steps:
        work.leaves_out.append(BEYOND_STEP)
    limits = PanelLimits(
        _limit(work, "A", "panel_area"), _limit(work, "a", "panel_length"), _limit(work, "ρ", "panel_ratio")
    )
    fixed = _fixed(work, length)
    if length > MOST_PANELS * min(limits.length_m, limits.ratio * height):
        raise work.stop(
            f"not covered: a face of more than {MOST_PANELS} panels; split the parapet at a building joint"
        )
    layout = panel_layout(length, height, limits, fixed)
    if fixed:
        free = panel_layout(length, height, limits)
        if layout.added > free.added + 1:  # a joint off the grid costs one more; beyond that it stands badly
            work.leaves_out.append(
                f"The joints that must exist ask for {layout.added} more, a face without them for {free.added}: "
                "two of them, or one and an end, stand close together; see whether one can move."
            )
    return Face(length, height, layout, sum(_within(one, length) for one in work.parapet.joints))


def _limit(work: Worksheet, symbol: str, name: str) -> float:
    """A limit of the standard, or the project's own where that is stricter; both stand on the sheet."""
    standard = work.practice_input(symbol, f"plaster.{name}")
    if not work.given(f"plaster.{name}"):
        return standard
    own = work.input(f"{symbol}'", f"plaster.{name}")
    return min(standard, own)


def _fixed(work: Worksheet, length: float) -> list[float]:
    """Corners, building joints and scuppers along the face: a joint stands at each."""
    found = []
    for place in (*work.parapet.corners, *work.parapet.joints, *work.parapet.scuppers):
        title = f"position of {place.word('name')}, a joint that must exist"
        if place.has("position"):
            at = work.part_input("xj", title, place, "position")
            if _within(place, length):
                found.append(at)
    return found


def _within(place: Record, length: float) -> bool:
    """Whether a place stands along the face; a corner at its end is its edge."""
    at = place.si("position") or 0.0
    return at > 0.0 and not computed_at_least(at, length)


def _joints(work: Worksheet, face: Face) -> None:
    layout = face.layout
    how = (
        "fewest joints within A, a and ρ, each the stricter of standard and project; equal panels between "
        "joints that must exist"
    )
    vertical, horizontal = len(layout.vertical_m), len(layout.horizontal_m)
    title = "vertical joints, building joints included" if face.of_building else "vertical control joints"
    work.result("vertical_joints", "nv", title, vertical, NUMBER, how)
    work.result("horizontal_joints", "nh", "horizontal control joints", horizontal, NUMBER, how)
    title = "vertical joints, from the left end"
    work.result_word("vertical_at", title, _listed(work, layout.vertical_m))
    title = "horizontal joints, from the weep screed"
    work.result_word("horizontal_at", title, _listed(work, layout.horizontal_m))
    area, side = layout.greatest_area_m2, layout.greatest_side_m
    work.result("largest_area", "Ap", "largest panel", area, AREA, "Ap ≤ A")
    work.result("largest_side", "ap", "longest side of a panel", side, HEIGHT, "ap ≤ a")
    work.result("largest_ratio", "ρp", "largest ratio of sides", layout.greatest_ratio, NUMBER, "ρp ≤ ρ")


def _beads(work: Worksheet, face: Face) -> None:
    layout = face.layout
    vertical, parted = len(layout.vertical_m) - face.of_building, len(work.parapet.joints)
    joints = vertical * face.height_m + len(layout.horizontal_m) * face.length_m
    how = "lj = (nv - nb) H + nh L, nb building joints" if face.of_building else "lj = nv H + nh L"
    work.result("control_joint", "lj", "length of control joint", joints, HEIGHT, how)
    ends = len(work.parapet.ends)
    casing = face.length_m + (ends + 2 * parted) * face.height_m
    title, how = "length of casing bead, at the top and at rising walls", "lb = L + H per end"
    if parted:
        title, how = f"{title}, and on both sides of building joints", f"{how} + 2 H per building joint"
    work.result("casing_bead", "lb", title, casing, HEIGHT, how)
    outside = sum(corner.word("turn") == "outside" for corner in work.parapet.corners)
    title = "length of corner bead at outside corners"
    work.result("corner_bead", "lc", title, outside * face.height_m, HEIGHT, "lc = H per outside corner")
    work.result("weep_screed", "lw", "length of weep screed", face.length_m, HEIGHT, "lw = L")


def _listed(work: Worksheet, places: tuple[float, ...]) -> str:
    return ", ".join(place_words(place, work.si) for place in places) or "none"


def place_words(place_m: float, si: bool) -> str:
    """Where a joint stands, as it is laid out: feet, inches and eighths, or whole millimeters.

    >>> place_words(2.612, False), place_words(2.612, True)
    ('8 ft 6 7/8 in', '2612 mm')
    """
    return f"{place_m * 1e3:.0f} mm" if si else feet_and_inches(place_m)
