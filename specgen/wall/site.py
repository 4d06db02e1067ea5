"""Conditions of the site and its climate at one parapet."""

from __future__ import annotations

from specgen.units.compare import at_most
from specgen.wall.place import Place

PEOPLE = ("walk", "entrance", "terrace", "street or drive")  # what may lie below the edge where people pass


def cold_climate(place: Place) -> bool:
    """Whether the site lies in a climate zone with a cold winter; False too where no zone is stated."""
    zone = place.project.site.word("climate_zone")
    return zone is not None and zone in place.practice.entry("climate.cold_zones").words()


def near_salt_water(place: Place) -> bool | None:
    """Whether salt in the air decides on metals; None where the site looks coastal and its distance is not stated."""
    site = place.project.site
    distance = site.quantity("salt_water_distance")
    if distance is not None:
        return at_most(distance, place.practice.quantity("site.salt_water"))
    marine = (site.word("climate_zone") or "").endswith("C")
    coastal = marine or site.word("terrain") == "open water" or site.word("exposure") == "D"
    return None if coastal else False


def snow_lies(place: Place) -> bool | None:
    """Whether snow lies at the site: by its ground snow load, else by its zone; None where neither is stated."""
    site = place.project.site
    load, zone = site.quantity("ground_snow_load"), site.word("climate_zone")
    if load is not None:
        return bool(load.value)
    return None if zone is None else zone in place.practice.entry("climate.snow_zones").words()


def people_below(place: Place) -> tuple[str, ...]:
    """What lies below the outer edge where people pass, as stated."""
    return tuple(one for one in place.parapet.words("below_edge") if one in PEOPLE)


def snow_above_people(place: Place) -> bool:
    """Whether snow lies on a parapet below which people pass."""
    return snow_lies(place) is True and bool(people_below(place))
