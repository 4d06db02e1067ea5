"""Results worked again from what a sheet prints: a reader with the sheet alone comes to the same numbers.

Every example, in either language of units, where a closed formula leads from the inputs to the results. The formulas
are those that the sheets print, written here once more; nothing of the calculations is called for them.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

from specgen.design.run import calculate_all
from specgen.design.sheet import sheet
from specgen.design.sheet_md import markdown
from specgen.intake.project import load_project
from specgen.model.calculation import CalcLine, Calculation
from specgen.practice.load import load_practice
from specgen.units.quantity import Quantity, from_si, to_unit
from specgen.units.show import read_back, show_on_sheet

EXAMPLES = sorted(Path("tests/stated").glob("*/project.yaml"))
INCH, FOOT, LBF, GALLON = 0.0254, 0.3048, 4.4482216152605, 0.003785411784
PSF, GPM = LBF / FOOT**2, GALLON / 60
GRAVITY = 9.80665
FOUR_DIGITS = 1e-3  # steps and results print four digits: 0.05 %, twice where one stands on another

Values = dict[str, float]


def printed(lines: list[CalcLine], system: str) -> Values:
    """The printed numbers by symbol, read back to the SI base; pounds before SI where both stand there."""
    found: Values = {}
    for line in lines:
        if isinstance(line.value, Quantity) and line.symbol:
            text = show_on_sheet(line.value, system).split(" (")[0]
            found[line.symbol] = read_back(text, {line.value.dimension}).value
    return found


def wind(v: Values, calc: Calculation) -> Values:
    """ASCE 7: q = 0.613 Kz Kzt Kd Ke V² in Pa and m/s, p = q GCp; straight in log A between the ends named."""
    z = v["h"] + v["hp"]
    kz = v["c"] * (max(z, v["zmin"]) / v["zg"]) ** (2 / v["α"])
    ke = math.exp(-0.0000362 * v["ze"] / FOOT) if "ze" in v else v["Ke"]
    pressure = 0.613 * kz * v["Kzt"] * v["Kd"] * ke * v["V"] ** 2
    gcp = {}
    for line in calc.steps:
        if line.symbol.startswith("GCp,"):
            ends = re.match(r"(\S+) at (.+) to (\S+) at (.+), straight", line.formula)
            assert ends is not None, line.formula
            small, large = (read_back(ends[at], {"area"}).value for at in (2, 4))
            share = min(max(math.log(v["A"] / small) / math.log(large / small), 0.0), 1.0)
            gcp[line.symbol[4:]] = float(ends[1]) + share * (float(ends[3]) - float(ends[1]))
    before = calc.results["velocity_pressure"].formula.startswith("q = 0.00256 Kz Kzt Kd")
    found = {"q": pressure if before else pressure / v["Kd"]}
    for mark in ("5", "4", "in", "2", "3"):
        found[f"p{mark}"] = max(pressure * abs(gcp[mark]), v["pmin"])
        found[f"p{mark}a"] = v["f"] * found[f"p{mark}"]
    found |= {"Rf": v["SF"] * found["p5a"], "Rt": v["SF"] * found["p3a"], "Ri": v["SF"] * found["p3a"]}
    for name, back in (("pA", "2"), ("pA3", "3"), ("pB", "5")):
        found[name] = max(pressure * (gcp["in"] - gcp[back]), v["pmin"])
    return found


def parapet_wind(v: Values, _calc: Calculation) -> Values:
    found = {"pd": v["fd"] * max(v["pA"], v["pB"])}
    for case in "AB":
        for end, factor in (("", 1.0), ("s", v["f"])):
            found[f"V{case}{end}"] = factor * v[f"p{case}"] * v["hp"]
            found[f"M{case}{end}"] = factor * v[f"p{case}"] * v["hp"] ** 2 / 2
    return found


def seismic(v: Values, _calc: Calculation) -> Values:
    later = "CAR" in v
    factor = v["Hf"] / v["Rμ"] * v["CAR"] / v["Rpo"] if later else v["ap"] * v["1 + 2z/h"] / v["Rp"]
    share = v["SDS"] * v["Ip"] * min(max(v["k"] * factor, v["kmin"]), v["kmax"])
    pressure = share * v["w"]
    found = {"VE": pressure * v["hp"], "ME": pressure * v["hp"] ** 2 / 2}
    return {"Fp/Wp": share, **found, **{f"{name}s": v["f"] * value for name, value in found.items()}}


def movement(v: Values, calc: Calculation) -> Values:
    coldest = v["Tw"] - v["ΔTn"]
    closing, opening = (v["α"] * v["L"] * one for one in (v["Th"] - v["Ti"], v["Ti"] - coldest))
    gap, step = (
        calc.results["joint_gap"].value,
        INCH / 16 if "1/16" in calc.results["joint_gap"].formula else 0.001,
    )
    assert isinstance(gap, Quantity)
    rounded = math.ceil(round((closing + v["m"]) / step, 6)) * step
    return {
        "ΔT": v["Th"] - coldest,
        "ΔL": v["α"] * v["L"] * (v["Th"] - coldest),
        "g": rounded,
        "gh": rounded - closing,
        "gc": rounded + opening,
        "lc": opening,
        "lx": max(v["L"] * (rounded - v["m"]) / closing, v["L"]),
    }


def scuppers(v: Values, _calc: Calculation) -> Values:
    """Q = 2.9 b h^1.5 [gpm, in]: every scupper of the examples is a weir."""
    second = v.get("i2", v.get("k", 0.0) * v["i1"])
    heads = {}
    for mark in (one[1:] for one in v if re.fullmatch("b[po][0-9]+", one)):
        flow = (v["i1"] if mark[0] == "p" else second) * v[f"A{mark}"] / GPM
        heads[mark] = (flow / (2.9 * v[f"b{mark}"] / INCH)) ** (2 / 3) * INCH
        assert heads[mark] <= v[f"H{mark}"]
    first = max((one for one in heads if one[0] == "p"), key=lambda one: heads[one])
    last = max((one for one in heads if one[0] == "o"), key=lambda one: heads[one] + v[f"ds{one}"])
    depth = v[f"ds{last}"] + heads[last]
    return {
        "hp": heads[first],
        "hp/H": heads[first] / v[f"H{first}"],
        "dh": heads[last],
        "dh/H": heads[last] / v[f"H{last}"],
        "d": depth,
        "R": 5.193 * PSF * (depth + v.get("dp", 0.0)) / INCH,
        "f": v["hu"] - depth,
        "s": v["hu"] - depth - v["f0"],
    }


def lath(v: Values, _calc: Calculation) -> Values:
    weight, lever = (
        v["ρ"] * GRAVITY * v["t"],
        v["t"] / 2 + sum(v[one] for one in v if re.fullmatch("e[0-9]+", one)),
    )
    shear, pull = weight * v["sx"] * v["sy"], v["p"] * v["sx"] * v["sy"]
    bending = v["k"] * shear * lever * v["SFb"] / (v["fy"] * v["d"] ** 3 / 6)
    used = pull * v["SFw"] / v["P"]
    found = {"w": weight, "e": lever, "V": shear, "T": pull, "Pn": v["SFw"] * pull, "uw": used, "ub": bending}
    return found | {"u": used + bending, "smax": v["sy"] / (used + bending)}


AGAIN: dict[str, Callable[[Values, Calculation], Values]] = {
    "coping wind": wind,
    "parapet wind": parapet_wind,
    "parapet seismic": seismic,
    "coping movement": movement,
    "scuppers": scuppers,
    "lath fasteners": lath,
}
TAKEN_UP = {
    "parapet wind": ("pA", "pB"),
    "lath fasteners": ("p",),
}  # results of another sheet, printed as steps


@cache
def found(path: Path) -> tuple[Calculation, ...]:
    practice = load_practice()
    made = calculate_all(load_project(path, practice), practice, list(AGAIN))
    return tuple(one for one in made if one.done and "none in" not in str(one.results.get("share", "")))


@pytest.mark.parametrize("system", ["inch-pound", "SI"])
@pytest.mark.parametrize("subject", AGAIN)
def test_the_results_follow_from_what_is_printed(subject: str, system: str) -> None:
    count = 0
    for calc in (one for path in EXAMPLES for one in found(path) if one.subject == subject):
        inputs = printed(list(calc.inputs), system)
        steps = printed(list(calc.steps), system)
        inputs |= {one: steps[one] for one in TAKEN_UP.get(subject, ())}
        again, shown = AGAIN[subject](inputs, calc), printed(list(calc.results.values()), system)
        assert set(again) == set(shown), calc.parapet
        for symbol, value in shown.items():
            at = FOUR_DIGITS * max(abs(value), inputs.get("hu", 0.0), inputs.get("m", 0.0))
            assert again[symbol] == pytest.approx(value, abs=at), (calc.parapet, symbol)
        count += 1
    assert count >= 2


def test_water_that_nobody_notices_is_printed_as_that() -> None:
    """5.266 × 10⁻⁶ gr/ft² tells a reader nothing; the unrounded value stays in the data."""
    trace = from_si(3.7e-9, "mass per area", "gr/ft2")
    line = CalcLine("m", "left", trace)
    calc = Calculation("s", "t", "P-1", (), (), {"left": line}, (), "", ())
    for made in (sheet(calc), markdown(calc)):
        assert "less than 0.01 gr/ft²" in made and "10⁻" not in made
    assert to_unit(trace, "gr/ft2") == pytest.approx(5.3e-6, rel=0.01)
    assert show_on_sheet(from_si(0.0, "mass per area", "gr/ft2"), "inch-pound") == "0 gr/ft²"
    assert show_on_sheet(read_back("0.005 gr/ft2", {"mass per area"}), "inch-pound") == "0.005 gr/ft²"
