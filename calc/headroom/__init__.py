"""The stack under the joists: finished height in every zone, against code and own limits, and what each choice costs in height."""

from calc.headroom.cost import FloorCost, LidCost, floor_costs, lid_costs
from calc.headroom.limits import (
    HEIGHT_QUESTION,
    TOLERANCE,
    UNDERSIDE_QUESTION,
    HeightLimit,
    boxed_width,
    code_limit,
    door_head,
    slope_rule,
    soffit_layers,
    soffit_sides,
)
from calc.headroom.rules import findings
from calc.headroom.spots import HeightMap, Spot, height_map
from calc.headroom.zones import HeadroomResult, ZoneHeight, headroom, tightest

__all__ = [
    "HEIGHT_QUESTION",
    "TOLERANCE",
    "UNDERSIDE_QUESTION",
    "FloorCost",
    "HeadroomResult",
    "HeightLimit",
    "HeightMap",
    "LidCost",
    "Spot",
    "ZoneHeight",
    "boxed_width",
    "code_limit",
    "door_head",
    "findings",
    "floor_costs",
    "headroom",
    "height_map",
    "lid_costs",
    "slope_rule",
    "soffit_layers",
    "soffit_sides",
    "tightest",
]
