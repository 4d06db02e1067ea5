"""Products with known values, in the ways manufacturers state them; seeded, invented."""

from __future__ import annotations

import random
from dataclasses import dataclass


@dataclass(frozen=True)
class Fact:
    """One attribute as a sheet states it, and what a careful reader makes of it."""

    attribute: str
    label: str
    ip: str  # "14 perms", or the word
    si: str  # "800 ng/Pa·s·m²", "" for words
    value: float | str  # SI, or the word of the vocabulary
    method: str
    condition: str  # as stated, "" where none
    wanted_condition: bool  # whether the attribute has one
    compare: str  # "", ">=" …, in words or signs; put before the value
    acceptable: bool  # a careful reader may take it as it is
    why: str  # why not


@dataclass(frozen=True)
class Truth:
    """One product."""

    role: str
    title: str
    opening: str
    facts: tuple[Fact, ...]


# attribute: labels, (ip, si, SI value) pairs, right method, wrong methods, condition, comparator that speaks for it
BARRIER = {
    "air_permeance": (
        ("Air permeance", "Air Permeability", "Air permeance of material", "AIR PERMEANCE"),
        (
            ("0.0009 cfm/ft²", "0.0045 L/s·m²", 4.572e-6),
            ("0.004 cfm/ft²", "0.02 L/s·m²", 2.032e-5),
            ("0.0003 cfm/ft²", "0.0015 L/(s·m²)", 1.524e-6),
            ("0.002 cfm/sq ft", "0.01 L/s·m²", 1.016e-5),
        ),
        ("ASTM E2178", "ASTM E2178-21", "ASTM E 2178"),
        ("ASTM E283", "ASTM D726"),
        ("75 Pa", "1.57 psf (75 Pa)", "0.3 in. w.g. (75 Pa)"),
        ("≤", "not more than", "less than", "maximum", "<"),
    ),
    "assembly_air_leakage": (
        ("Assembly air leakage", "Air leakage of assembly", "Air leakage, assembly"),
        (("0.04 cfm/ft²", "0.2 L/s·m²", 2.032e-4), ("0.0098 cfm/ft²", "0.05 L/s·m²", 4.978e-5)),
        ("ASTM E2357", "ASTM E2357-23"),
        ("ASTM E783",),
        ("75 Pa", "1.57 psf (75 Pa)"),
        ("≤", "not more than", "less than"),
    ),
    "vapor_permeance": (
        ("Vapor permeance", "Water vapor permeance", "Water Vapour Permeance", "Moisture vapor permeance"),
        (
            ("14 perms", "800 ng/Pa·s·m²", 8.0099e-10),
            ("12 perms", "687 ng/(Pa·s·m²)", 6.8656e-10),
            ("0.08 perms", "4.6 ng/Pa·s·m²", 4.577e-12),
            ("25 US perms", "1430 ng/Pa·s·m²", 1.43034e-9),
        ),
        (
            "ASTM E96 Procedure B",
            "ASTM E96/E96M-22, Procedure B",
            "ASTM E96 (Method B)",
            "ASTM E96, water method",
        ),
        ("ASTM E96 Procedure A", "ASTM E96", "ASTM F1249"),
        (),
        ("≥", "not less than", "at least", "minimum", ">"),
    ),
    "pull_adhesion": (
        ("Pull adhesion", "Pull-off adhesion", "Tensile adhesion", "Pull adhesion to substrate"),
        (("42 psi", "290 kPa", 289580.0), ("30 psi", "207 kPa", 206843.0), ("110 psi", "758 kPa", 758423.0)),
        ("ASTM D4541", "ASTM D4541-22", "ASTM D4541, Test Method E"),
        ("ASTM C297", "ASTM D7234"),
        (),
        ("≥", "not less than", "at least", "min."),
    ),
    "thickness": (
        ("Dry film thickness", "Thickness", "Membrane thickness"),
        (("40 mils", "1.0 mm", 1.016e-3), ("60 mil", "1.5 mm", 1.524e-3), ("20 mils", "0.5 mm", 5.08e-4)),
        ("",),
        (),
        (),
        ("≥", "minimum"),
    ),
    "exposure_limit": (
        ("UV exposure limit", "Maximum UV exposure", "Exposure limit"),
        (("180 days", "", 180 * 86400.0), ("90 days", "", 90 * 86400.0), ("12 weeks", "", 84 * 86400.0)),
        ("",),
        (),
        (),
        ("up to", "maximum", "not more than"),
    ),
    "service_temperature": (
        ("Maximum service temperature", "Service temperature", "In-service temperature"),
        (("250 °F", "121 °C", 121.111), ("180 °F", "82 °C", 82.222), ("240°F", "116°C", 115.556)),
        ("",),
        (),
        (),
        ("up to", "max."),
    ),
    "water_resistance": (
        ("Water penetration resistance", "Resistance to water penetration"),
        (("6.24 psf", "299 Pa", 298.77), ("15 psf", "718 Pa", 718.2)),
        ("ASTM E331", "ASTM E331-00(2023)"),
        ("AATCC 127",),
        (),
        ("≥", "at least"),
    ),
    "nail_sealability": (
        ("Nail sealability", "Self-sealability", "Fastener sealability"),
        (("Pass", "", "passes"), ("Passed", "", "passes"), ("No leakage", "", "passes")),
        ("ASTM D1970", "ASTM D1970-21"),
        ("AAMA 711",),
        (),
        (),
    ),
}
DRAINAGE = {
    "depth": (
        ("Drainage depth", "Depth", "Dimple height"),
        (("0.44 in", "11 mm", 0.011176), ("3/8 in", "9.5 mm", 0.009525), ("1/4 in", "6.4 mm", 0.00635)),
        ("",),
        (),
        (),
        ("≥", "minimum"),
    ),
    "vapor_permeance": (
        ("Vapor permeance", "Water vapor permeance"),
        (("0.05 perms", "2.9 ng/Pa·s·m²", 2.8607e-12), ("100 perms", "5720 ng/Pa·s·m²", 5.72135e-9)),
        ("ASTM E96 Procedure A", "ASTM E96 desiccant method", "ASTM E96/E96M Method A"),
        ("ASTM E96 Procedure B",),
        (),
        ("≤", "not more than"),
    ),
    "compressive_strength": (
        ("Compressive strength", "Compression strength"),
        (("5200 psf", "249 kPa", 248977.0), ("11,000 psf", "527 kPa", 526682.0)),
        ("ASTM D6364", "ASTM D6364-06(2018)"),
        ("ASTM D1621", "ISO 604"),
        (),
        ("≥", "at least"),
    ),
    "drainage_efficiency": (
        ("Drainage efficiency",),
        (("98 %", "", 0.98), ("95%", "", 0.95)),
        ("ASTM E2273", "ASTM E2273-18"),
        ("ASTM E2128",),
        (),
        ("≥", "not less than"),
    ),
}
SEALANT = {
    "movement": (
        ("Movement capability", "Joint movement capability"),
        (("50 %", "", 0.5), ("35 %", "", 0.35)),
        ("ASTM C719",),
        ("ASTM C1523",),
        (),
        (),
    ),
    "peel": (
        ("Adhesion in peel", "Peel adhesion", "Peel strength"),
        (("25 lbf/in", "4.4 N/mm", 4378.2), ("12 pli", "2.1 N/mm", 2101.5)),
        ("ASTM C794", "ASTM C794-18"),
        ("ASTM D903",),
        (),
        ("≥", "not less than"),
    ),
    "staining": (
        ("Staining of porous substrates", "Staining"),
        (("None", "", "none"), ("No staining", "", "none")),
        ("ASTM C1248",),
        ("ASTM C510",),
        (),
        (),
    ),
}
ROLES = {
    "barrier": (BARRIER, "Fluid-applied air and water barrier", "A liquid membrane for sheathed walls."),
    "drainage layer": (DRAINAGE, "Drainage mat", "Keeps a gap open behind cement plaster finishes."),
    "joint sealant": (SEALANT, "Elastomeric joint sealant", "One part, for joints that move."),
}


def product(seed: int, conditions_apart: bool = False) -> Truth:
    """One product. With ``conditions_apart`` methods and conditions are always stated and right."""
    rnd = random.Random(seed)
    role = rnd.choices(list(ROLES), weights=(6, 2, 2))[0]
    table, title, opening = ROLES[role]
    names = rnd.sample(list(table), k=min(len(table), rnd.randint(3, 6)))
    facts = tuple(_fact(rnd, name, table[name], conditions_apart) for name in names)
    return Truth(role, f"{title} {chr(65 + seed % 26)}", opening, facts)


def _fact(rnd: random.Random, name: str, row: tuple, apart: bool) -> Fact:
    labels, values, methods, wrong, conditions, comparators = row
    ip, si, value = rnd.choice(values)
    method, condition, why = rnd.choice(methods), rnd.choice(conditions) if conditions else "", ""
    trouble = 1.0 if apart else rnd.random()
    if wrong and trouble < 0.12:
        method, why = rnd.choice(wrong), "another method"
    elif method and trouble < 0.2:
        method, why = "", "no method"
    elif condition and trouble < 0.3:
        condition, why = rnd.choice(("", "300 Pa", "6.24 psf (300 Pa)")), "no or another condition"
    compare = rnd.choice(comparators) if comparators and rnd.random() < 0.35 else ""
    if compare in ("min.",):
        ip = f"{ip} {compare}"
        compare = ""
    if compare == "max.":
        compare = "maximum"
    return Fact(
        name, rnd.choice(labels), ip, si, value, method, condition, bool(conditions), compare, not why, why
    )
