"""What a seller must be told of goods that are bought to a size or a capacity, where the assessment knows it."""

from __future__ import annotations

from collections.abc import Mapping

from calc.brief import Brief
from calc.isolation.duct_way import duct_size
from calc.materials.fittings import DOOR_HEIGHT
from calc.materials.items import items
from calc.scheme import DoorOption, Scheme
from calc.unit_format import format_flow, format_length, format_nominal, format_power
from calc.ventilation.air import AirResult
from calc.ventilation.design import AirDesign
from calc.ventilation.words import draught

CUT_TO_THE_LEAF = ("door_frame", "door_bottom", "threshold")


def order_sizes(brief: Brief, scheme: Scheme, air: AirResult, design: AirDesign) -> Mapping[str, str]:
    """By item: size, flow or power to order, in the person's units. An item that is not in it has its size in its name.

    Raises as duct_size. Source: the numbers that door, window and air are computed with.
    """
    return {**_door(scheme.door, brief.units), **_sash(brief), **_ducts(brief, scheme, design), **_machines(brief, air, design)}


def _door(door: DoorOption, units: str) -> dict[str, str]:
    size = _by(door.area / DOOR_HEIGHT, DOOR_HEIGHT, units)
    leaves = {name: size for name, each in items().items() if "mass" in each.facts}
    return leaves | dict.fromkeys(CUT_TO_THE_LEAF, f"for a leaf of {size}")


def _sash(brief: Brief) -> dict[str, str]:
    clear = _by(brief.shell.escape_width, brief.shell.escape_height, brief.units)
    return {"second_sash": f"{clear} clear through both sashes; measure the reveal before you order"}


def _ducts(brief: Brief, scheme: Scheme, design: AirDesign) -> dict[str, str]:
    units = brief.units
    duct = f"for a square duct of {format_nominal(duct_size(brief, scheme.air_path).casing, units)}"
    faces = [
        f"{format_nominal(run.grille.width, units)} × {format_nominal(run.grille.height, units)} for the {run.name}"
        for run in (design.supply, design.extract)
    ]
    return {"grille": ", ".join(faces), "weather_hood": duct, "flexible_connector": duct, "duct_takeoff": duct}


def _machines(brief: Brief, air: AirResult, design: AirDesign) -> dict[str, str]:
    flow, most = format_flow(air.fresh_air, brief.units), max(design.supply.pressure, design.extract.pressure)
    duty = f"{flow} against {draught(most, brief.units)} at its quiet speed"
    cooling = f"about {format_power(air.cooling_W)} of cooling, damp included"
    return {"heat_recovery_unit": f"both ways {duty}", "inline_fan": duty, "cooling_unit": cooling}


def _by(width: float, height: float, units: str) -> str:
    return f"{format_length(width, units)} × {format_length(height, units)}"
