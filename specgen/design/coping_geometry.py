"""The pieces of a metal coping: section from the real build-up, blank, sheet yield, joints, fixings, cut list."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from specgen.design import coping_movement
from specgen.design.vapor_layers import WITHOUT_PART
from specgen.design.worksheet import GAP, HEIGHT, NUMBER, SHARE, Worksheet, calculation
from specgen.model.project import Parapet, Project, Record
from specgen.physics.coping_blank import (
    Blank,
    Section,
    coping_blank,
    divide_run,
    drip_projection,
    sheet_yield,
)
from specgen.practice.entries import Practice
from specgen.units.compare import computed_at_most, whole_steps
from specgen.units.quantity import from_si
from specgen.units.show import show
from specgen.units.spelling import fraction

SIXTEENTH = 0.0254 / 16.0  # m
SUBJECT = "coping geometry"
TITLE = "Pieces of the coping and their blanks"
SETS = (
    "build_up",
    "width",
    "width_over_drips",
    "rise",
    "outer_face",
    "outer_lap",
    "inner_leg",
    "girth",
    "bend_lines",
    "strips",
    "sheet_used",
    "straight_pieces",
    "piece_length",
    "corner_pieces",
    "end_pieces",
    "joints",
    "joint_spacing",
    "slot_length",
    "fixings_per_piece",
)
MEMBRANES = frozenset({"barrier", "roof turn-up"})  # thin: the usual thickness of the kind will do
VALIDITY = (
    "Formed metal copings on straight runs; section and pieces for the shop drawing, not a substitute for it."
)
LEAVES_OUT = (
    "Bend allowance, springback and the metal's own thickness.",
    "Tolerance of the wall: measure the wall before the pieces are cut.",
    "Cover plates, cleats and splice plates.",
    "Expansion building joints, which need a joint of the coping at the same place.",
)


@dataclass(frozen=True)
class Cut:
    """One line of a cut list: what, how many, length and blank width [m], parapets."""

    what: str
    count: int
    length_m: float
    girth_m: float
    parapets: tuple[str, ...]


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Section, blank and pieces of the coping of one parapet.

    Formulas: w = T + co + ci with c = d - k sin θ; girth = 2 (hem + k) + Fo + √(w² + (w s)²) + Fi;
    n l + (n + m - 1) g = L - Σ special pieces.

    Given: the temperatures that the joint gap depends on; the build-up with thicknesses, the coping's drips,
    legs and slope, length and corners. Of practice: stock, hem, drip, corner pieces. Unknown where a
    thickness or a dimension is missing.
    """
    thickness, gap, movement = _data(work)
    blank = coping_blank(_section(work, thickness))
    _blank(work, blank)
    _pieces(work, gap)
    _fixings(work, movement)


def _data(work: Worksheet) -> tuple[float, float, float]:
    """Build-up thickness, joint gap and movement; everything missing is named in one run."""
    coping = work.parapet.part("coping")
    if coping is None:
        raise work.stop("coping: a component with `role: coping` in the parapet's `top`")
    if not work.practice.kind("coping", coping.kind).metal:
        raise work.stop(f"not covered: the coping is {coping.kind}, the calculation is for formed metal")
    if work.word("coping.on_curve") == "formed to the curve":
        raise work.stop("not covered: the coping is formed to a curve, and its pieces are no flat blanks")
    thickness = build_up(work)
    for key in (
        "coping.outer_drip",
        "coping.inner_drip",
        "coping.inner_leg",
        "coping.slope",
        "parapet.length",
    ):
        if work.given(key) is None:
            work.missing.append(f"{key}: {work.title_of(key)}")
    if work.given("coping.outer_leg") is None and work.given("coping.outer_face_height") is None:
        work.missing.append(f"coping.outer_leg: {work.title_of('coping.outer_leg')}")
    moved = coping_movement.calculate(work.project, work.parapet, work.practice)
    work.missing += [f"{reason} ({moved.subject})" for reason in moved.missing]
    work.stop_if_missing()
    gap, movement = moved.result("joint_gap"), moved.result("movement")
    assert gap is not None
    assert movement is not None
    return thickness, gap.value, movement.value


def build_up(work: Worksheet) -> float:
    """Thickness from face to face: the layers summed, or what the project states where that is more."""
    total, missing = 0.0, []
    for number, part in enumerate(work.parapet.build_up, 1):
        if part.role in WITHOUT_PART:
            continue
        name = "depth" if part.role == "drainage layer" else "thickness"
        rows = work.practice.table("materials").where(role=part.role, kind=part.kind)
        if part.has(name):
            total += work.part_input(f"d{number}", f"{name} of {part.id}", part, name)
        elif part.role in MEMBRANES and rows and rows[0]["thickness"] is not None:
            title = f"{name} of {part.id} ({part.kind})"
            total += work.table_input(f"d{number}", "materials", rows[0], "thickness", title)
        else:
            missing.append(f"{part.id}.{name}: {name} of the {part.role} ({part.kind})")
    if not work.parapet.build_up:
        missing.append("build_up: the layers of the parapet")
    if work.given("parapet.thickness") is None:
        work.missing += missing
        return total
    stated = work.input("Ts", "parapet.thickness")
    if missing:
        named = ", ".join(text.split(":")[0] for text in missing)
        work.leaves_out.append(f"Not every layer has a thickness ({named}): the stated thickness is taken.")
        return stated
    work.step("Td", "thickness of the layers", total, GAP, "Td = Σd")
    return max(stated, total)


def _section(work: Worksheet, thickness: float) -> Section:
    kick, angle = work.practice_input("k", "coping.kick"), work.practice_input("θ", "coping.kick_angle")
    hem = work.practice_input("h", "coping.hem")
    outer, inner = work.input("do", "coping.outer_drip"), work.input("di", "coping.inner_drip")
    fall = work.input("s", "coping.slope")
    toward = work.input_word("", "coping.slope_toward") if work.word("coping.slope_toward") else "roof"
    out = drip_projection(kick, angle)
    if min(outer, inner) < out:
        least = show(work.quantity(out, GAP), work.project.system)
        raise work.stop(f"out of range: a drip of less than {least}, what its own bend projects (k sin θ)")
    work.result("build_up", "T", "thickness of the parapet, finishes included", thickness, GAP, "max(Ts, Σd)")
    width = thickness + outer + inner - 2.0 * out
    formula = "w = T + do + di - 2 k sin θ"
    work.result("width", "w", "width between the legs", width, GAP, formula)
    over = thickness + outer + inner
    work.result("width_over_drips", "wd", "width over the drips", over, GAP, "wd = T + do + di")
    ridge = toward == "both sides"
    rise = (width / 2.0 if ridge else width) * fall
    work.result("rise", "r", "rise of the top", rise, GAP, "r = w s; over half the width with a ridge")
    block = _blocking(work)
    high, low = block + (0.0 if ridge else rise), block
    extra_out, extra_in = (low, high) if toward == "outer face" else (high, low)
    face = _outer_face(work, extra_out)
    leg = work.input("li", "coping.inner_leg") + extra_in
    title = "height of the interior face, from the top edge to the drip"
    work.result("inner_leg", "Fi", title, leg, GAP, "Fi = li + blocking, and rise where it is the high side")
    down = -fall if toward == "outer face" else fall
    return Section(width, face, leg, down, ridge, kick, angle, hem)


def _blocking(work: Worksheet) -> float:
    blocking = work.parapet.part("blocking")
    if blocking is not None and blocking.has("thickness"):
        return work.part_input("tb", "thickness of the blocking", blocking, "thickness")
    work.leaves_out.append("No blocking thickness is given: the usual one is taken (blocking.thickness).")
    return work.practice_input("tb", "coping.top_thickness")


def _outer_face(work: Worksheet, above: float) -> float:
    """Height of the outer face; above is what lies between its top edge and the cladding."""
    if work.given("coping.outer_face_height"):
        face = work.input("Fo", "coping.outer_face_height")
    else:
        face = work.input("lo", "coping.outer_leg") + above
    title = "height of the outer face, from the top edge to the drip"
    formula = "as stated, else lo + blocking + rise on the high side"
    work.result("outer_face", "Fo", title, face, GAP, formula)
    title = "lap of the exterior face over the cladding that this face leaves"
    work.result("outer_lap", "lo", title, max(0.0, face - above), GAP, "Fo less blocking and rise")
    return face


def _blank(work: Worksheet, blank: Blank) -> None:
    formula = "2 (h + k) + Fo + √(w² + r²) + Fi; two slants with a ridge"
    work.result("girth", "G", "girth, the width of the blank", blank.girth_m, GAP, formula)
    listed = "; ".join(
        f"{bend.name} at {shop_words(bend.at_m, work.si)} turned {bend.turned_deg:.3g}°"
        for bend in blank.bends
    )
    work.result_word("bend_lines", "bends from the outer edge of the blank", listed)
    stock = work.practice_input("B", "coping.stock_width")
    strips, used = sheet_yield(blank.girth_m, stock)
    work.result("strips", "ns", "blanks side by side in one sheet", strips, NUMBER, "whole part of B/G")
    title = "part of the sheet used; 0: the blank is wider than the sheet and needs a seam"
    work.result("sheet_used", "y", title, used, SHARE, "y = ns G/B")


def _pieces(work: Worksheet, gap: float) -> None:
    length = work.input("L", "parapet.length")
    given = work.given("coping.piece_length")
    wanted = (
        work.input("l", "coping.piece_length") if given else work.practice_input("l", "coping.piece_length")
    )
    stock = work.practice_input("ls", "coping.stock_length")
    if not computed_at_most(wanted, stock):
        work.leaves_out.append("The piece is longer than the stock sheet: the sheet's length is taken.")
        wanted = stock
    work.step("g", "joint gap", gap, GAP, f"from the calculation {coping_movement.SUBJECT}")
    corners, ends = len(work.parapet.corners), len(work.parapet.ends)
    special: tuple[float, ...] = ()
    if corners:
        usual, over = work.practice_input("lc", "coping.corner_leg"), work.value_of("width_over_drips")
        legs = tuple(corner_leg(work.practice, one, over) for one in work.parapet.corners)
        if max(legs) > usual:
            work.practice_input("li", "coping.corner_inner")
            title = "leg of an outside corner piece of this wide coping"
            work.step("lo", title, max(legs), HEIGHT, "lo = wd + li, more than lc")
        special += legs
    if ends:
        special += (work.practice_input("le", "coping.end_leg"),) * ends
    run = divide_run(length, special, wanted, gap)
    formula = "fewest n with n l + (n + m - 1) g = L - Σ special, l no longer than the piece"
    work.result("straight_pieces", "n", "straight pieces, all of one length", run.pieces, NUMBER, formula)
    work.result("piece_length", "lp", "length of each straight piece", run.piece_m, HEIGHT, formula)
    work.result("corner_pieces", "nc", "corner pieces of this parapet", corners, NUMBER, "corners listed")
    work.result("end_pieces", "ne", "end pieces with an end dam", ends, NUMBER, "ends listed")
    work.result("joints", "j", "joints", run.joints, NUMBER, "j = n + nc + ne - 1")
    work.result("joint_spacing", "e", "spacing of the joints", run.piece_m + gap, HEIGHT, "e = lp + g")


def corner_leg(practice: Practice, corner: Record, over: float) -> float:
    """Length of each leg of a corner piece on the outer edge [m].

    Args:
        practice: holds the usual length, and that on the inner edge of an outside corner.
        corner: the place.
        over: width of the coping over its drips [m].
    """
    usual, inner = (practice.quantity(f"coping.corner_{one}").value for one in ("leg", "inner"))
    return max(usual, over + inner) if corner.word("turn") == "outside" else usual


def _fixings(work: Worksheet, movement: float) -> None:
    clearance = work.practice_input("c", "coping.slot_clearance")
    title = "length of the slotted holes of the interior face and the cleat"
    work.result("slot_length", "lt", title, movement + clearance, GAP, "lt = ΔL + c, ΔL of one piece")
    spacing = work.practice_input("sf", "coping.inner_fastener_spacing")
    piece = work.value_of("piece_length")
    count = whole_steps(piece / spacing)
    work.result(
        "fixings_per_piece",
        "nf",
        "fasteners of the interior face in one piece",
        count,
        NUMBER,
        "lp/sf, raised",
    )


def shop_words(length_m: float, si: bool) -> str:
    """A length of a blank as a shop lays it out: inches to the sixteenth, or whole millimeters.

    >>> shop_words(0.4384, False), shop_words(0.4384, True), shop_words(0.0127, False)
    ('17 1/4 in', '438 mm', '1/2 in')
    """
    return f"{length_m * 1e3:.0f} mm" if si else f"{fraction(round(length_m / SIXTEENTH))} in"


def cut_list(project: Project, practice: Practice) -> tuple[Cut, ...]:
    """The pieces of all parapets, like ones together; a corner that two parapets list by one name counts once.

    Returns:
        Straight pieces first, then corner and end pieces; a parapet without a result is left out.
    """
    cuts: dict[tuple[str, float, float], Cut] = {}
    seen: set[str] = set()
    end = practice.quantity("coping.end_leg").value
    for parapet in project.parapets:
        calc = calculate(project, parapet, practice)
        names = ("girth", "piece_length", "straight_pieces", "width_over_drips")
        girth, piece, count, over = (calc.result(name) for name in names)
        if girth is None or piece is None or count is None or over is None:
            continue
        fresh = [place for place in parapet.corners if place.word("name") not in seen]
        seen.update(str(place.word("name")) for place in fresh)
        legs = Counter(corner_leg(practice, place, over.value) for place in fresh)
        for what, number, length in (
            ("straight piece", round(count.value), piece.value),
            *(("corner piece, each leg", number, leg) for leg, number in legs.items()),
            ("end piece", len(parapet.ends), end),
        ):
            if number:
                _add(cuts, Cut(what, number, length, girth.value, (parapet.name,)))
    order = ("straight piece", "corner piece, each leg", "end piece")
    return tuple(sorted(cuts.values(), key=lambda cut: (order.index(cut.what), -cut.girth_m, -cut.length_m)))


def _add(cuts: dict[tuple[str, float, float], Cut], cut: Cut) -> None:
    key = (cut.what, round(cut.length_m, 4), round(cut.girth_m, 4))  # a shop does not cut to 0.1 mm
    known = cuts.get(key)
    if known:
        parapets = (*known.parapets, *cut.parapets)
        cut = Cut(cut.what, known.count + cut.count, known.length_m, known.girth_m, parapets)
    cuts[key] = cut


def blank_of(project: Project, parapet: Parapet, practice: Practice) -> tuple[Blank, float] | None:
    """The blank and its piece length [m] for a drawing; None where the calculation is unknown."""
    work = Worksheet(SUBJECT, TITLE, project, parapet, practice, VALIDITY, list(LEAVES_OUT))
    blank = None
    with work.writing():
        thickness, gap, _ = _data(work)
        blank = coping_blank(_section(work, thickness))
        _pieces(work, gap)
    return None if blank is None or work.missing else (blank, work.value_of("piece_length"))


def show_cut(cut: Cut, system: str) -> str:
    """One line of a cut list for a terminal."""
    unit = "mm" if system == "SI" else "in"
    length, girth = (show(from_si(size, "length", unit), system) for size in (cut.length_m, cut.girth_m))
    return f"{cut.count:>4}  {cut.what}, {length} long, blank {girth} wide: {', '.join(cut.parapets)}"
