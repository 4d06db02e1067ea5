"""Liquid water in the drainage gap: does it drain what leaks in, and does it wick?"""

from __future__ import annotations

from specgen.design.driving_rain import rainfall
from specgen.design.facing import WATER
from specgen.design.gap_path import gap_height
from specgen.design.worksheet import GAP, NUMBER, SHARE, Unit, Worksheet, calculation
from specgen.model.source import Source, Status
from specgen.physics.constants import WATER_DENSITY_20C
from specgen.physics.gap import capillary_rise, drainage, smallest_gap

SUBJECT = "gap drainage"
TITLE = "Drainage of the gap behind the plaster"
SETS = ("regime", "use", "film", "capillary_rise", "smallest_gap")
WETS_FULLY = 0.0  # degrees of contact angle: the most that can wick
FACES = 1  # the water leaks in on the plaster side and runs down it
SECONDS_PER_HOUR = 3600.0
TRICKLE = Unit("volume flow", "gal/h", "L/h")
FOOT = 0.3048  # m
FLOW = Source(
    "Transport Phenomena, Bird, Stewart, Lightfoot", "", "falling film, plane Poiseuille flow", Status.MEMORY
)
WICKING = Source("Capillarity and Wetting Phenomena, de Gennes", "", "rise between plates", Status.MEMORY)
VALIDITY = (
    "Clean water at 20 °C in a gap between two plane faces; laminar slot (Reynolds to 1000) or laminar falling film "
    "(film Reynolds to 1500). Beyond, the regime is unknown."
)
LEAVES_OUT = (
    "The shape of dimples, filaments and grooves: the gap is its stated depth, clear over its unblocked part.",
    "Water held by the fabric and the filaments, and drops that bridge the gap.",
    "Local leaks at joints and penetrations: the leak is spread over the face.",
    "The outlet itself: an outlet that is closed or clogged drains nothing.",
)


@calculation(SUBJECT, TITLE, VALIDITY, LEAVES_OUT)
def calculate(work: Worksheet) -> None:
    """Regime and use of the gap in the wettest hour, capillary rise, and the smallest gap that serves.

    Formulas: slot q = ρ g b³/(12 μ); film q = ρ g δ³/(3 μ); rise h = 2 γ cosθ/(ρ g b), an upper bound in wide gaps;
    leak q = s r H/ρ per metre.

    Given: the weather file with hourly rain, or site.rain_event with its time and wind; the depth of the
    drainage layer and the height of the plastered face. Of practice: share of the rain that leaks, blocked
    share, accepted rise. Unknown without depth or rain.
    """
    work.require("drainage layer.depth")
    depth = work.input("b", "drainage layer.depth")
    height = gap_height(work)
    fall = rainfall(work)
    leak, clogged = work.practice_input("s", "gap.leak_share"), work.practice_input("c", "gap.clogged")
    most = fall.face_peak
    work.step("r", "rain on the outer face in an hour at its heaviest", most, WATER, "driving rain")
    flow = leak * most * height / SECONDS_PER_HOUR / WATER_DENSITY_20C
    run, name = (1.0, "1 m") if work.si else (FOOT, "1 ft")
    work.step("q", f"water to drain by {name} of wall", flow * run, TRICKLE, f"q = s r H/ρ × {name}")
    _drains(work, flow, depth, clogged)
    _wicks(work, flow / (1.0 - clogged), depth)


def _drains(work: Worksheet, flow: float, depth: float, clogged: float) -> None:
    work.cite(FLOW)
    found = drainage(flow, depth, FACES, clogged)
    regime = str(found.regime)
    work.result_word(
        "regime", "how the water drains", regime, "slot while laminar when full, else film on one face"
    )
    title = "water of the heaviest rain over the capacity of the unblocked gap; above 100 % it backs up"
    work.result("use", "u", title, float(found.use), SHARE, "u = q/(qmax (1 - c))")
    work.result("film", "δ", "thickness of the film", float(found.film_m), GAP, "δ = (3 μ q/(ρ g))^(1/3)")


def _wicks(work: Worksheet, flow: float, depth: float) -> None:
    work.cite(WICKING)
    rise = capillary_rise(depth, WETS_FULLY)
    bound = "upper bound" if rise.upper_bound else "narrow gap"
    title = f"capillary rise from water standing at the bottom, {bound}"
    height = float(rise.height_m)
    work.result("capillary_rise", "hc", title, height, GAP, "hc = 2 γ cosθ/(ρ g b), θ = 0")
    work.step("Bo", "Bond number", float(rise.bond), NUMBER, "ρ g b²/γ; above 0.25 hc is an upper bound")
    accepted = work.practice_input("hx", "gap.wick_height")
    least = smallest_gap(flow, accepted, WETS_FULLY, FACES)
    title = "smallest gap that drains and wicks no higher than accepted"
    formula = "b ≥ 2 γ cosθ/(ρ g hx) and b ≥ δ"
    work.result("smallest_gap", "bmin", title, float(least), GAP, formula)
