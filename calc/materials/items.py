"""The catalogue of things to buy: data/items.toml with the prices of data/prices.toml, and how a part of a scheme finds its item."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import Any

from calc.catalogue import load
from calc.materials.quantities import screw_length
from calc.scheme import Ply


@dataclass(frozen=True)
class Item:
    """One thing to buy.

    ``package`` is how much of ``unit`` one package holds; ``price`` is that of one package, invented, in the person's currency.
    """

    id: str
    label: str
    short: str  # the name at a task
    group: str
    unit: str  # m | m2 | m3 | piece | h | day
    package: float
    package_label: str
    waste: float  # share, 0..1
    waste_source: str
    hours_per_unit: float  # a person's hours to build in one unit
    task: str  # id of data/tasks.toml
    price: float
    spare: float  # share of boards and lumber beyond what layout and cut plan take, 0..1
    by_surface: bool  # whole packages a surface before waste
    made: bool  # made to measure: one piece a line, paid by what it measures
    facts: MappingProxyType[str, Any]  # what chooses the item: material, thickness, depth, ...


_COMMON = frozenset(
    {"label", "short", "group", "unit", "package", "package_label", "waste", "waste_source", "hours_per_unit", "task", "round", "spare"}
)


@cache
def items() -> MappingProxyType[str, Item]:
    """All items by id."""
    prices = load("prices")["price"]
    return MappingProxyType({item_id: _item(item_id, table, float(prices[item_id])) for item_id, table in load("items").items()})


def _item(item_id: str, table: dict[str, Any], price: float) -> Item:
    return Item(
        id=item_id,
        label=table["label"],
        short=table.get("short", table["label"]),
        group=table["group"],
        unit=table["unit"],
        package=table["package"],
        package_label=table["package_label"],
        waste=table["waste"],
        waste_source=table["waste_source"],
        hours_per_unit=table["hours_per_unit"],
        task=table["task"],
        price=price,
        spare=table.get("spare", 0.0),
        by_surface=table.get("round") == "surface",
        made=table.get("round") == "made",
        facts=MappingProxyType({key: value for key, value in table.items() if key not in _COMMON}),
    )


def item(item_id: str) -> Item:
    """One item. Raises KeyError with the id for an unknown one."""
    return items()[item_id]


@cache
def board_item(ply: Ply) -> Item:
    """The board to buy for a ply: same material, thickness within 1 mm. Raises ValueError when the catalogue has none."""
    same = [each for each in items().values() if each.facts.get("material") == ply.material]
    near = [each for each in same if abs(each.facts["thickness"] - ply.thickness) <= 0.001]
    if not near:
        raise ValueError(f"items.toml has no board for {ply.material!r} of {ply.thickness * 1000:.1f} mm")
    return min(near, key=lambda each: abs(each.facts["thickness"] - ply.thickness))


@cache
def lumber_item(depth: float, kind: str) -> Item:
    """The shallowest stud or joist not shallower than ``depth`` [m] (2 mm allowed); ``kind`` wood or steel.

    Raises ValueError when there is none.
    """
    same = sorted((each for each in items().values() if each.facts.get("kind") == kind), key=lambda each: float(each.facts["depth"]))
    for each in same:
        if each.facts["depth"] + 0.002 >= depth:
            return each
    raise ValueError(f"items.toml has no {kind} member {depth * 1000:.0f} mm deep")


@cache
def batt_items(fill: str, thickness: float) -> tuple[Item, ...]:
    """Batts that make up a fill thickness [m], thickest first; one batt may be compressed by a third of the thinnest.

    Raises ValueError for an unknown fill.
    """
    sizes = sorted((each for each in items().values() if each.facts.get("fill") == fill), key=lambda each: -float(each.facts["thickness"]))
    if not sizes:
        raise ValueError(f"items.toml has no batt of {fill!r}")
    thinnest = float(sizes[-1].facts["thickness"])
    chosen: list[Item] = []
    left = thickness
    while left > 0.35 * thinnest:
        # The closest single batt that fits in what is left, else the thinnest, pressed in.
        fits = next((each for each in sizes if each.facts["thickness"] <= left + 0.003), sizes[-1])
        chosen.append(fits)
        left -= float(fits.facts["thickness"])
    return tuple(chosen)


@cache
def door_item(leaf_mass: float) -> Item:
    """The door whose leaf mass [kg/m2] is nearest."""
    return min((each for each in items().values() if "mass" in each.facts), key=lambda each: abs(float(each.facts["mass"]) - leaf_mass))


@cache
def floor_item(layer: str) -> Item:
    """The floor item one of whose words stands in the name of a floor layer. Raises ValueError when none does."""
    for each in items().values():
        if any(word in layer.lower() for word in each.facts.get("words", ())):
            return each
    raise ValueError(f"items.toml has no floor item for the layer {layer!r}")


@cache
def duct_item(part: str, bore: float) -> Item:
    """The smallest ``part`` (duct | elbow) with at least this bore [m]; 1 mm allowed. Raises ValueError when there is none."""
    same = sorted((each for each in items().values() if each.facts.get("part") == part), key=lambda each: float(each.facts["bore"]))
    for each in same:
        if each.facts["bore"] + 0.001 >= bore:
            return each
    raise ValueError(f"items.toml has no {part} with a bore of {bore * 1000:.0f} mm")


def largest_bore() -> float:
    """Bore [m] of the largest duct sold."""
    return max(float(each.facts["bore"]) for each in items().values() if each.facts.get("part") == "duct")


@cache
def screw_lengths() -> tuple[float, ...]:
    """The lengths [m] of the board screws in the catalogue."""
    return tuple(float(each.facts["length"]) for each in items().values() if each.id.startswith("board_screw"))


def screw_item(buried: float, bite: float, behind: float | None = None) -> Item:
    """The shortest board screw for a depth of board [m] and a bite [m]; it may reach ``behind`` [m] past the boards, None: any depth.

    Raises ValueError when none is long enough, or that one would reach through the channel to the framing and bridge the isolation.
    """
    screws = {float(each.facts["length"]): each for each in items().values() if "length" in each.facts}
    found = screw_length(buried, bite, tuple(screws))
    if behind is not None and found - buried > behind + 1e-6:
        reach, free = (found - buried) * 1000.0, behind * 1000.0
        raise ValueError(
            f"the screw for {buried * 1000.0:.0f} mm of board reaches {reach:.0f} mm behind it, where only {free:.0f} mm are free"
        )
    return screws[found]
