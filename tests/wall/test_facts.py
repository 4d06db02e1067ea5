"""Each named condition, met and not met; a parapet without the component never meets it by accident."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from specgen.model.calculation import Calculation
from specgen.model.hourly import TOP
from specgen.model.project import Record
from specgen.units.quantity import parse
from specgen.wall.code import leakage_limit
from specgen.wall.facts import CALCULATED, CONDITIONS, drainage_vapor_tight
from specgen.wall.place import Place, part_of
from tests.hourly_results import cut_of, result_of, run_of

METAL = "kind: formed metal"
DRAINAGE = {"drainage layer": "kind: mesh"}
PLASTER = "kind: portland cement plaster"
LATH = "kind: expanded metal lath"
INSULATED = {"insulation": "kind: mineral wool", "barrier": "kind: fluid-applied"}
EXISTING = "existing: {%s}"
CORNER = "corners: [{name: C-1, turn: %s}]"
HEAD = "scuppers: [{name: S-1, use: primary, outlet: conductor head, head_overflow: %s}]"
CASES: list[tuple[str, dict[str, str], bool]] = [
    ("barrier is bonded", {"barrier": "kind: fluid-applied"}, True),
    ("barrier is bonded", {"barrier": "kind: building paper"}, False),
    ("barrier is bonded", {}, False),
    ("barrier is a fastened sheet", {"barrier": "kind: building paper"}, True),
    ("barrier is a fastened sheet", {"barrier": "kind: self-adhered"}, False),
    ("barrier is a fastened sheet", {}, False),
    ("top flashing is self-adhered", {"top flashing": "kind: self-adhered butyl"}, True),
    ("top flashing is self-adhered", {"top flashing": "kind: TPO"}, False),
    ("top flashing is self-adhered", {}, False),
    ("bridging tape is self-adhered", {"bridging tape": "kind: butyl tape"}, True),
    ("bridging tape is self-adhered", {"bridging tape": "kind: silicone sheet"}, False),
    ("top flashing is fluid-applied", {"top flashing": "kind: fluid-applied"}, True),
    ("top flashing is fluid-applied", {"top flashing": "kind: TPO"}, False),
    ("barrier stands on concrete", {"sheathing": "kind: concrete"}, True),
    ("barrier stands on concrete", {"framing": "kind: concrete masonry"}, True),
    ("barrier stands on concrete", {"sheathing": "kind: plywood", "framing": "kind: concrete"}, False),
    ("barrier stands on a board", {"sheathing": "kind: plywood"}, True),
    ("barrier stands on a board", {"sheathing": "kind: concrete"}, False),
    ("lath is expanded metal", {"lath": LATH}, True),
    ("lath is expanded metal", {"lath": "kind: welded wire lath"}, False),
    ("drainage layer is mesh", {"drainage layer": "kind: mesh"}, True),
    ("drainage layer is mesh", {"drainage layer": "kind: grooved mat"}, False),
    ("drainage by efficiency", {"drainage layer": "kind: mesh, drainage_efficiency: 95 %"}, True),
    (
        "drainage by efficiency",
        {"drainage layer": "kind: mesh, drainage_efficiency: 95 %, depth: 1/4 in"},
        False,
    ),
    ("drainage by depth", {"drainage layer": "kind: mesh, drainage_efficiency: 95 %, depth: 1/4 in"}, True),
    ("drainage by depth", {"drainage layer": "kind: mesh"}, True),
    ("drainage by depth", {"drainage layer": "kind: mesh, drainage_efficiency: 95 %"}, False),
    *(
        (f"coping is {metal}", {"coping": f"kind: formed metal, metal: {stated}"}, metal == stated)
        for metal in ("aluminum", "stainless steel", "galvanized steel", "copper")
        for stated in ("aluminum", "stainless steel", "galvanized steel", "copper")
    ),
    ("parapet is fire rated", {"parapet": "fire_rated: yes"}, True),
    ("parapet is fire rated", {"parapet": "fire_rated: no"}, False),
    ("parapet is fire rated", {}, False),
    ("coping is copper", {"coping": "kind: stone"}, False),
    ("coping is factory coated", {"coping": "kind: formed metal, metal: aluminum"}, True),
    ("coping is factory coated", {"coping": "kind: formed metal, metal: galvanized steel"}, True),
    ("coping is factory coated", {"coping": "kind: formed metal, metal: copper"}, False),
    ("coping is factory coated", {"coping": "kind: stone"}, False),
    ("weep screed is metal", {"weep screed": "kind: perforated weep screed, family: galvanized steel"}, True),
    ("weep screed is metal", {"weep screed": "kind: perforated weep screed, family: PVC"}, False),
    ("weep screed is metal", {}, False),
    ("lath stands on furring", {**INSULATED, "lath": LATH + ", over_insulation: furring"}, True),
    (
        "lath stands on furring",
        {**INSULATED, "lath": LATH + ", over_insulation: fasteners through the insulation"},
        False,
    ),
    ("lath stands on furring", {"lath": LATH + ", over_insulation: furring"}, False),
    ("coping is metal", {"coping": METAL}, True),
    ("coping is metal", {"coping": "kind: stone"}, False),
    ("coping is metal", {}, False),
    ("coping is dark metal", {"coping": METAL + ", color: dark"}, True),
    ("coping is dark metal", {"coping": METAL}, True),  # unknown color is taken as the hotter
    ("coping is dark metal", {"coping": METAL + ", color: medium"}, False),
    ("coping is dark metal", {"coping": "kind: stone, color: dark"}, False),
    ("coping has no anchors", {"coping": "kind: formed metal"}, True),
    ("coping has no anchors", {"coping": "kind: plaster-covered"}, True),
    ("coping has no anchors", {"coping": "kind: stone"}, False),
    ("coping has no anchors", {}, False),
    ("coping is not plaster", {"coping": "kind: stone"}, True),
    ("coping is not plaster", {"coping": "kind: plaster-covered"}, False),
    ("coping is not plaster", {}, False),
    ("weep screed stands above a roof", {"weep screed": "kind: vented weep screed, above_roof: 8 in"}, True),
    (
        "weep screed stands above a roof",
        {"weep screed": "kind: vented weep screed, above_earth: 8 in"},
        False,
    ),
    ("weep screed stands above earth", {"weep screed": "kind: vented weep screed, above_earth: 4 in"}, True),
    ("weep screed stands above earth", {"weep screed": "kind: vented weep screed"}, True),  # may be
    (
        "weep screed stands above earth",
        {"weep screed": "kind: vented weep screed, nothing_below: yes"},
        False,
    ),
    (
        "weep screed stands above earth",
        {"weep screed": "kind: vented weep screed, above_roof: unknown"},
        False,
    ),
    (
        "weep screed stands above paving",
        {"weep screed": "kind: vented weep screed, above_paving: 2 in"},
        True,
    ),
    ("weep screed stands above paving", {}, False),
    ("barrier is a wrap", {"barrier": "kind: mechanically fastened"}, True),
    ("barrier is a wrap", {"barrier": "kind: fluid-applied"}, False),
    ("coping is in segments", {"coping": METAL + ", on_curve: straight segments"}, True),
    ("coping is in segments", {"coping": METAL}, False),
    ("coping is fastened through", {"coping": METAL + ", exposed_fasteners: yes"}, True),
    ("coping is fastened through", {"coping": METAL + ", exposed_fasteners: no"}, False),
    (
        "flat top is fastened through",
        {"top flashing": "kind: self-adhered butyl, fasteners_through: yes"},
        True,
    ),
    ("flat top is fastened through", {"top flashing": "kind: self-adhered butyl"}, False),
    (
        "barrier laps over a weep screed",
        {"barrier": "kind: fluid-applied", "weep screed": "kind: vented weep screed"},
        True,
    ),
    ("barrier laps over a weep screed", {"barrier": "kind: fluid-applied"}, False),
    ("sheathing is a board", {"sheathing": "kind: plywood"}, True),
    ("sheathing is a board", {"sheathing": "kind: concrete masonry"}, False),
    ("sheathing is a board", {}, False),
    ("barrier is fluid-applied", {"barrier": "kind: fluid-applied"}, True),
    ("barrier is fluid-applied", {"barrier": "kind: self-adhered"}, False),
    ("barrier stands on wood", {"sheathing": "kind: OSB"}, True),
    ("barrier stands on wood", {"sheathing": "kind: glass-mat gypsum"}, False),
    ("barrier stands on wood", {}, False),
    ("lath behind the plaster", {"plaster": PLASTER, "lath": LATH}, True),
    ("lath behind the plaster", {"plaster": PLASTER}, False),
    ("lath over a drainage layer", {**DRAINAGE, "lath": LATH}, True),
    ("lath over a drainage layer", {"lath": LATH}, False),
    ("lath is fastened through the barrier", {"lath": LATH, "barrier": "kind: self-adhered"}, True),
    ("lath is fastened through the barrier", {"barrier": "kind: self-adhered"}, False),
    ("lath is not self-furred", {"lath": LATH}, True),
    ("lath is not self-furred", {"lath": "kind: self-furred expanded metal lath"}, False),
    ("lath is not self-furred", {}, False),
    ("finish is not cement", {"plaster": PLASTER + ", finish: acrylic finish"}, True),
    ("finish is not cement", {"plaster": PLASTER + ", finish: elastomeric coating"}, True),
    ("finish is not cement", {"plaster": PLASTER + ", finish: cement finish"}, False),
    ("finish is not cement", {"plaster": PLASTER}, False),
    ("plaster returns into a horizontal face", {"plaster": PLASTER + ", horizontal_return: yes"}, True),
    ("plaster returns into a horizontal face", {"plaster": PLASTER + ", horizontal_return: no"}, False),
    ("plaster returns into a horizontal face", {"plaster": PLASTER}, True),  # may be
    ("plaster returns into a horizontal face", {"plaster": PLASTER + ", horizontal_return: unknown"}, False),
    ("roof turn-up is bituminous", {"roof turn-up": "kind: SBS-modified bitumen"}, True),
    ("roof turn-up is bituminous", {"roof turn-up": "kind: TPO"}, False),
    ("roof turn-up is bituminous", {}, False),
    ("coping is stone or precast", {"coping": "kind: stone"}, True),
    ("coping is stone or precast", {"coping": "kind: precast concrete"}, True),
    ("coping is stone or precast", {"coping": METAL}, False),
    ("coping is stone or precast", {"coping": "kind: plaster-covered"}, False),
    ("blocking is treated", {"blocking": "kind: preservative-treated wood"}, True),
    ("blocking is treated", {"blocking": "kind: plywood"}, False),
    ("blocking is treated", {}, False),
    ("blocking is plywood", {"blocking": "kind: plywood"}, True),
    ("blocking is plywood", {"blocking": "kind: untreated wood"}, False),
    ("wall", {"plaster": PLASTER}, True),
    ("wall", {"parapet": "outer_face: stone"}, False),
    ("existing", {"parapet": EXISTING % ""}, True),
    ("existing", {}, False),
    ("repairs", {"parapet": EXISTING % "repairs: [{what: replace coping}]"}, True),
    ("repairs", {"parapet": EXISTING % ""}, False),
    ("corners", {"parapet": CORNER % "inside"}, True),
    ("corners", {}, False),
    ("inside corners", {"parapet": CORNER % "inside"}, True),
    ("inside corners", {"parapet": CORNER % "outside"}, False),
    ("outside corners", {"parapet": CORNER % "outside"}, True),
    ("outside corners", {"parapet": CORNER % "inside"}, False),
    ("ends", {"parapet": "ends: [{name: E-1}]"}, True),
    ("ends", {}, False),
    ("steps", {"parapet": "steps: [{name: S-1, height: 18 in}]"}, True),
    ("steps", {}, False),
    ("building joints", {"parapet": "joints: [{name: J-1, what: seismic, width: 4 in}]"}, True),
    ("building joints", {}, False),
    (
        "penetrations",
        {**DRAINAGE, "parapet": "penetrations: [{name: N-1, what: pipe, through: drainage layer}]"},
        True,
    ),
    ("penetrations", {}, False),
    *(
        (
            f"{what}s",
            {**DRAINAGE, "parapet": f"penetrations: [{{name: N-1, what: {one}, through: drainage layer}}]"},
            met,
        )
        for what in ("lightning conductor", "davit", "fall-protection anchor")
        for one, met in ((what, True), ("pipe", False))
    ),
    ("scuppers", {"parapet": "scuppers: [{name: S-1, use: primary}]"}, True),
    ("conductor heads", {"parapet": "scuppers: [{name: S-1, use: primary, outlet: conductor head}]"}, True),
    ("conductor heads", {"parapet": "scuppers: [{name: S-1, use: primary}]"}, False),
    ("conductor heads without overflow openings", {"parapet": HEAD % "no"}, True),
    ("conductor heads without overflow openings", {"parapet": HEAD % "yes"}, False),
    ("scuppers", {}, False),
    ("solid framing", {"framing": "kind: concrete"}, True),
    ("solid framing", {"framing": "kind: wood studs", "sheathing": "kind: concrete"}, False),
    ("solid wall", {"framing": "kind: wood studs", "sheathing": "kind: concrete"}, True),
    ("solid wall", {"framing": "kind: wood studs", "sheathing": "kind: OSB"}, False),
    ("outside insulation", {"insulation": "kind: mineral wool", "barrier": "kind: self-adhered"}, True),
    ("outside insulation", {"barrier": "kind: self-adhered", "insulation": "kind: mineral wool"}, False),
    ("outside insulation", {"insulation": "kind: mineral wool"}, False),
]


@pytest.mark.parametrize(
    ("parts", "tight"),
    [
        ({"drainage layer": "kind: dimpled sheet"}, True),
        ({"drainage layer": "kind: mesh"}, False),
        (
            {"drainage layer": "kind: mesh, vapor_permeance: 0.1 perm, meant: {vapor_permeance: laminated}"},
            True,
        ),
        ({"drainage layer": "kind: mesh, vapor_permeance: 0.1 perm"}, False),  # a value of a sheet
        ({"drainage layer": "kind: dimpled sheet, vapor_permeance: 0.11 perm"}, False),
        ({"plaster": PLASTER}, False),
    ],
)
def test_a_drainage_layer_is_vapor_tight_by_its_value_or_its_kind(
    parts: dict[str, str], tight: bool, place: Callable[..., Place]
) -> None:
    assert drainage_vapor_tight(place(parts)) is tight


@pytest.mark.parametrize(("name", "parts", "met"), CASES)
def test_a_condition(name: str, parts: dict[str, str], met: bool, place: Callable[..., Place]) -> None:
    assert CONDITIONS[name](place(parts or {"plaster": "kind: portland cement plaster"})) is met


@pytest.mark.parametrize(
    ("kind", "results", "met"),
    [
        ("mesh", {"needs_vapor_tight": "yes", "limit_met": "no"}, True),
        ("mesh", {"needs_vapor_tight": "yes", "limit_met": "yes"}, False),  # it meets the limit as it is
        ("dimpled sheet", {"needs_vapor_tight": "yes", "limit_met": "yes"}, True),
        ("mesh", {"needs_vapor_tight": "no", "limit_met": "yes"}, False),
        ("mesh", {"needs_vapor_tight": "no limit stated", "limit_met": "no limit stated"}, True),
        ("dimpled sheet", {"needs_vapor_tight": "less tight will do", "limit_met": "yes"}, True),
        ("mesh", None, False),
    ],
)
def test_the_inward_drive(
    kind: str,
    results: dict[str, str] | None,
    met: bool,
    place: Callable[..., Place],
    calculate: Callable[..., Any],
) -> None:
    done = [calculate("vapor drive", **results)] if results else []
    found = place({"drainage layer": f"kind: {kind}"}, *done)
    assert CALCULATED["inward drive needs a vapor-tight drainage layer"](found) is met


def test_an_unknown_calculation_leaves_what_the_project_describes(place: Callable[..., Place]) -> None:
    """A dimpled sheet stays vapor-tight where the drive cannot be calculated; a mesh is asked for nothing."""
    open_one = Calculation("vapor drive", "t", "P-1", (), (), {}, (), "", (), missing=("site temperature",))
    needed = CALCULATED["inward drive needs a vapor-tight drainage layer"]
    assert needed(place({"drainage layer": "kind: dimpled sheet"}, open_one)) is True
    assert needed(place({"drainage layer": "kind: mesh"}, open_one)) is False


@pytest.mark.parametrize(
    ("site", "below", "met"),
    [
        ({"ground_snow_load": parse("20 psf", "pressure")}, "entrance, planting", True),
        ({"climate_zone": "6A"}, "walk", True),
        ({"climate_zone": "6A"}, "planting, lower roof", False),
        ({"climate_zone": "6A", "ground_snow_load": parse("0 psf", "pressure")}, "walk", False),
        ({"climate_zone": "2A"}, "walk", False),
        ({}, "walk", False),  # neither is stated
    ],
)
def test_snow_above_people(place: Callable[..., Place], site: dict[str, Any], below: str, met: bool) -> None:
    found = place({"parapet": f"below_edge: [{below}]"})
    bare = {name: value for name, value in found.project.site.values.items() if name == "place"}
    project = replace(found.project, site=replace(found.project.site, values=bare | site))
    assert CONDITIONS["snow above people"](replace(found, project=project)) is met


def test_hours_hold(place: Callable[..., Place]) -> None:
    found = place({})
    name = found.parapet.name
    fails = run_of(0.0, holds=False)
    for kept, met in (
        ({}, False),
        ({name: result_of(name)}, True),
        ({name: result_of(name, cut_of(), cut_of([fails], cut=TOP))}, False),
        ({"another": result_of("another")}, False),
    ):
        project = replace(found.project, hourly=kept)
        assert CONDITIONS["hours hold"](replace(found, project=project)) is met


@pytest.mark.parametrize("group", ["film", "fastening"])
def test_what_is_prescribed_by_choice(place: Callable[..., Place], group: str) -> None:
    condition = CONDITIONS[f"{group} is prescriptive"]
    for values, met in (
        ({}, True),
        ({"method": "performance"}, False),
        ({"method": "performance", f"method_{group}": "prescriptive"}, True),
        ({f"method_{group}": "performance"}, False),
    ):
        assert condition(by_method(place(DRAINAGE), values)) is met


def test_the_drainage_layer_is_specified_one_way(place: Callable[..., Place]) -> None:
    both = place({"drainage layer": "kind: mesh, drainage_efficiency: 95 %, depth: 1/4 in"})
    for method, by_efficiency in (("performance", True), ("prescriptive", False)):
        chosen = by_method(both, {"method_drainage": method})
        assert CONDITIONS["drainage by efficiency"](chosen) is by_efficiency
        assert CONDITIONS["drainage by depth"](chosen) is not by_efficiency


def by_method(place: Place, values: dict[str, str]) -> Place:
    info = replace(place.project.info, values={**place.project.info.values, **values})
    return replace(place, project=replace(place.project, info=info))


@pytest.mark.parametrize(
    ("parts", "type_", "height", "wall", "foam"),
    [
        ({"insulation": "kind: extruded polystyrene"}, "II-B", "12 ft", True, True),
        ({"insulation": "kind: extruded polystyrene"}, "V-A", "76 ft", False, False),
        ({"insulation": "kind: mineral wool"}, "II-B", "12 ft", False, False),
        (
            {"barrier": "kind: fluid-applied", "drainage layer": "kind: dimpled sheet"},
            "I-B",
            "41 ft",
            True,
            False,
        ),
        (
            {"barrier": "kind: fluid-applied", "drainage layer": "kind: dimpled sheet"},
            "I-B",
            "37 ft",  # the parapet of the fixture is 36 in high
            False,
            False,
        ),
        (
            {"barrier": "kind: fluid-applied", "plaster": f"{PLASTER}, thickness: 7/8 in"},
            "I-B",
            "76 ft",
            False,
            False,
        ),
        ({"barrier": "kind: fluid-applied", "drainage layer": "kind: mesh"}, "", "76 ft", False, False),
    ],
)
def test_a_wall_is_fire_tested(
    place: Callable[..., Place], parts: dict[str, str], type_: str, height: str, wall: bool, foam: bool
) -> None:
    found = place(parts)
    values = {"height": parse(height), **({"construction_type": type_} if type_ else {})}
    building = replace(found.project.building, values=values)
    here = replace(found, project=replace(found.project, building=building))
    assert CONDITIONS["wall is fire tested"](here) is wall
    assert CONDITIONS["foam is fire tested"](here) is foam


@pytest.mark.parametrize(
    ("category", "height", "speed", "exposure", "code", "earthquake", "wind"),
    [
        ("D", "28 ft", "115 mph", "B", "IBC 2021", True, False),
        ("D", "27 ft", "149 mph", "B", "IBC 2021", False, False),
        ("C", "60 ft", "150 mph", "B", "IBC 2024", False, True),
        ("C", "60 ft", "154 mph", "B", "IBC 2018", False, False),
        ("C", "60 ft", "155 mph", "B", "IBC 2015", False, True),
        ("F", "60 ft", "140 mph", "C", "IBC 2021", True, True),
        ("F", "60 ft", "141 mph", "C", "IBC 2018", True, False),
        ("F", "60 ft", "142 mph", "C", "IBC 2018", True, True),
        ("E", "", "139 mph", "D", "", True, False),
        ("E", "", "140 mph", "D", "", True, True),
        ("", "60 ft", "", "", "", False, False),
    ],
)
def test_special_inspections(
    place: Callable[..., Place],
    category: str,
    height: str,
    speed: str,
    exposure: str,
    code: str,
    earthquake: bool,
    wind: bool,
) -> None:
    found = place({})
    building = {"height": parse(height)} if height else {}
    building |= {"seismic_design_category": category} if category else {}
    site = ({"wind_speed": parse(speed)} if speed else {}) | ({"exposure": exposure} if exposure else {})
    site |= {"code": code} if code else {}
    project = replace(
        found.project,
        building=replace(found.project.building, values=building),
        site=replace(found.project.site, values=site),
    )
    here = replace(found, project=project)
    assert CONDITIONS["cladding is inspected"](here) is earthquake
    assert CONDITIONS["wall is inspected for wind"](here) is wind


@pytest.mark.parametrize(
    ("plaster", "inspected"),
    [
        ("", True),
        (PLASTER, True),
        (f"{PLASTER}, thickness: 7/8 in", True),
        (f"{PLASTER}, thickness: 7/16 in", False),
    ],
)
def test_light_cladding_is_not_inspected(place: Callable[..., Place], plaster: str, inspected: bool) -> None:
    here = place(
        {"plaster": plaster} if plaster else {}, building="height: 60 ft, seismic_design_category: D"
    )
    assert CONDITIONS["cladding is inspected"](here) is inspected


@pytest.mark.parametrize(
    ("others", "type_", "height", "excepted"),
    [
        ({}, "I-B", "76 ft", True),
        ({}, "V-B", "76 ft", False),  # no test is asked for: nothing is relied on
        ({}, "I-B", "30 ft", False),
        ({"drainage layer": "kind: mesh"}, "I-B", "76 ft", False),
        ({"framing": "kind: wood studs"}, "III-A", "76 ft", False),
        ({"plaster": f"{PLASTER}, thickness: 7/8 in"}, "I-B", "76 ft", False),  # the plaster excepts it
    ],
)
def test_a_barrier_of_low_heat_release(
    place: Callable[..., Place], others: dict[str, str], type_: str, height: str, excepted: bool
) -> None:
    barrier = {"barrier": "kind: fluid-applied, low_heat_release: true"}
    found = place(barrier | others, building=f"height: {height}, construction_type: {type_}")
    site = replace(found.project.site, values={"code": "IBC 2021"})
    here = replace(found, project=replace(found.project, site=site))
    assert CONDITIONS["barrier is excepted by its heat release"](here) is excepted


@pytest.mark.parametrize(
    ("deck", "on_deck"), [("concrete deck", True), ("membrane on the deck", True), ("", False)]
)
@pytest.mark.parametrize(
    ("leakage", "tested", "verified"),
    [
        ("whole building test", True, False),
        ("design and installation verification", False, True),
        ("", False, False),
    ],
)
def test_air_barrier_of_the_building(
    place: Callable[..., Place], deck: str, on_deck: bool, leakage: str, tested: bool, verified: bool
) -> None:
    found = place({})
    values = {"roof_air_barrier": deck, "air_leakage": leakage}
    building = replace(found.project.building, values={name: word for name, word in values.items() if word})
    here = replace(found, project=replace(found.project, building=building))
    assert CONDITIONS["air barrier on the deck"](here) is on_deck
    assert CONDITIONS["building is tested for air leakage"](here) is tested
    assert CONDITIONS["air barrier is verified"](here) is verified


@pytest.mark.parametrize(
    ("code", "energy", "key"),
    [
        ("IBC 2021", "", "air.leakage"),
        ("IBC 2024", "", "air.leakage_2024"),
        ("IBC 2024", "IECC", "air.leakage_2024"),
        ("IBC 2024", "ASHRAE 90.1-2019", "air.leakage_ashrae"),
        ("IBC 2018", "ASHRAE 90.1-2022", "air.leakage_ashrae_2022"),
        ("", "", "air.leakage"),
    ],
)
def test_air_leakage_by_its_edition(place: Callable[..., Place], code: str, energy: str, key: str) -> None:
    found = place({})
    site = replace(found.project.site, values={"code": code} if code else {})
    building = replace(found.project.building, values={"energy_standard": energy} if energy else {})
    here = replace(found, project=replace(found.project, site=site, building=building))
    assert leakage_limit(here.project) == key
    assert CONDITIONS["air leakage by IECC 2024"](here) is (key == "air.leakage_2024")


def test_a_plastered_wall(place: Callable[..., Place]) -> None:
    found = place({})
    for face in ("stucco", "metal panel"):
        wall = replace(found.parapet, values={**found.parapet.values, "outer_face": face})
        assert CONDITIONS["wall is plastered"](replace(found, parapet=wall)) is (face == "stucco")
    assert CONDITIONS["wall is plastered"](place({"plaster": PLASTER}))


def test_an_overflow_scupper(place: Callable[..., Place]) -> None:
    found, mark = place(DRAINAGE), place(DRAINAGE).parapet.mark
    for use in ("primary", "overflow"):
        scupper = Record("scupper", {"name": "S-1", "use": use}, {}, mark)
        wall = replace(found.parapet, scuppers=(scupper,))
        met = CONDITIONS["overflow scuppers"](replace(found, parapet=wall))
        assert met is (use == "overflow")
        part = part_of(wall, "scupper")
        assert part is not None and (part.id, part.kind) == ("S-1", "flanged sleeve")
    assert part_of(found.parapet, "scupper") is None


WOODS = {"sheathing": "kind: plywood%s", "framing": "kind: wood studs%s"}


@pytest.mark.parametrize(
    ("type_", "stated", "treated"),
    [
        ("III-A", "", True),
        ("II-B", "", True),
        ("V-A", "", False),
        ("", "", False),
        ("III-A", "none", False),
        ("V-A", "UCFA", True),
        ("", "UCFB", True),
    ],
)
@pytest.mark.parametrize("role", ["sheathing", "framing"])
def test_wood_in_a_wall_is_treated(
    place: Callable[..., Place], role: str, type_: str, stated: str, treated: bool
) -> None:
    condition = CONDITIONS[f"{role} is fire-retardant-treated"]
    own = {role: WOODS[role] % (f", fire_treatment: {stated}" if stated else "")}
    building = f"construction_type: {type_}" if type_ else "use: offices"
    assert condition(place(own, building=building)) is treated
    standing = {**own, "parapet": EXISTING % ""}  # wood that stands is what it is
    assert condition(place(standing, building=building)) is (stated in ("UCFA", "UCFB"))
    steel = {role: "kind: glass-mat gypsum" if role == "sheathing" else "kind: cold-formed steel studs"}
    assert not condition(place(steel, building=building))


@pytest.mark.parametrize(
    ("building", "true"),
    [
        ("guard: by parapet height", "people are guarded by the parapet"),
        ("guard: by railing", "people are guarded by a railing"),
        ("guard: by roof access plan", "people are guarded by the roof access plan"),
        ("guard: no access near the edge", "nobody has access to the edge"),
        ("nfpa_285: by letter, nfpa_285_basis: exception of the code", "wall is excepted from the fire test"),
        ("nfpa_285: by letter, nfpa_285_basis: tested assembly", ""),
        ("construction_type: II-A, wood_blocking: accepted", "wood blocking is answered"),
        ("wood_blocking: accepted", "wood blocking is answered"),
        ("construction_type: III-A, wood_blocking: accepted", ""),
        ("construction_type: II-A", ""),
    ],
)
def test_an_answer_on_safety(place: Callable[..., Place], building: str, true: str) -> None:
    here = place({"blocking": "kind: plywood"}, building=building)
    assert {name for name in ANSWERED if CONDITIONS[name](here)} == ({true} if true else set())


def test_a_country_that_is_covered(place: Callable[..., Place]) -> None:
    found = place({})
    assert CONDITIONS["country is covered"](found)
    abroad = replace(found.project, site=replace(found.project.site, values={"country": "Germany"}))
    assert not CONDITIONS["country is covered"](replace(found, project=abroad))


ANSWERED = {
    "people are guarded by the parapet",
    "people are guarded by a railing",
    "people are guarded by the roof access plan",
    "nobody has access to the edge",
    "wall is excepted from the fire test",
    "wood blocking is answered",
}


def test_every_condition_is_covered_both_ways() -> None:
    apart = {
        "film is prescriptive",
        "fastening is prescriptive",
        "overflow scuppers",
        "barrier carries air",  # of several layers: test_several_layers
        "wall is fire tested",  # by the building: test_a_wall_is_fire_tested
        "foam is fire tested",
        "barrier is excepted by its heat release",  # test_a_barrier_of_low_heat_release
        "cladding is inspected",  # by the building and the site: test_special_inspections
        "wall is inspected for wind",
        "wall is plastered",  # by its faces: test_a_plastered_wall
        "air barrier on the deck",  # by the building: test_air_barrier_of_the_building
        "building is tested for air leakage",
        "air leakage by IECC 2024",  # test_air_leakage_by_its_edition
        "air barrier is verified",
        "snow above people",  # by the site: test_snow_above_people
        "sheathing is fire-retardant-treated",  # by the type of construction: test_wood_in_a_wall_is_treated
        "framing is fire-retardant-treated",
        "curved plan",  # by the parapet's radius: tests/rules/PC02.yml
        "primer is described",  # by the laps: tests/rules/TF12.yml
        "country is covered",  # by the site: test_a_country_that_is_covered
        "hours hold",  # by the kept result: test_hours_hold
        "existing wall is surveyed",  # by its record: tests/sections/test_standing_walls.py
        "existing wall is not surveyed",
        "asbestos is not ruled out",
        "lead is not ruled out",
        "polychlorinated biphenyls are not ruled out",
        "work is lead-safe renovation",
        "work may be lead-safe renovation",
        *ANSWERED,
    }
    for answer in (True, False):
        assert {name for name, _, met in CASES if met is answer} | apart == set(CONDITIONS)
