"""The options for each boundary of the room, built from the parts of data/options.toml and data/doors.toml."""

from __future__ import annotations

from functools import cache, lru_cache
from typing import Any

from calc.air_options import air_paths as air_paths
from calc.brief import Brief, SideKind
from calc.catalogue import load
from calc.isolation.assembly import Assembly, Cavity, Leaf
from calc.isolation.materials import ply
from calc.lid_options import bare_floor_assembly as bare_floor_assembly
from calc.lid_options import deck as deck
from calc.lid_options import empty_bay as empty_bay
from calc.lid_options import lid_assembly as lid_assembly
from calc.lid_options import lids as lids
from calc.lid_options import needs_joists as needs_joists
from calc.option_parts import board_plies, fill_thickness, layers_of, plies_text
from calc.scheme import DoorOption, FloorOption, Layer, Ply, WallOption

LINED_SIDES = frozenset({SideKind.FOUNDATION_BELOW, SideKind.FOUNDATION_ABOVE, SideKind.PARTY})


def _data() -> dict[str, Any]:
    return load("options")


# ---- walls


def _wall(key: str, part: dict[str, Any], count: int, damped: bool, partition: bool) -> WallOption:
    wall = _data()["wall"]
    boards, rows = board_plies(count), int(part.get("rows", 1))
    depth = part.get("plate_depth", rows * part["stud_depth"]) + part["gap"] + wall["support"][part["support"]]
    inner = sum(layer.thickness for layer in layers_of(boards, damped))
    outer = sum(board.thickness for board in boards) if partition else 0.0
    clip = part["support"] == "isolation clip"
    return WallOption(
        id=f"wall-{key}-{count}{'d' if damped else ''}",
        label=f"{part['text']}, {plies_text(count, damped)}{' a side' if partition else ''}",
        sides=frozenset({SideKind.OPEN}) if partition else LINED_SIDES,
        outer_plies=boards if partition else (),
        frame=part["frame"],
        stud_depth=part["stud_depth"],
        stud_spacing=wall["stud_spacing"],
        gap=part["gap"],
        support=part["support"],
        support_spacing=0.0 if part["support"] == "absent" else wall["support_spacing"],
        clip_spacing=wall["clip_spacing"] if clip else 0.0,
        fill=_data()["fill"]["material"],
        fill_thickness=fill_thickness(part.get("plate_depth", rows * part["stud_depth"])),
        inner_plies=boards,
        damped=damped,
        thickness=outer + depth + inner,
        carries_lid=part["carries_lid"],
    )


@cache
def _walls(partition: bool) -> tuple[WallOption, ...]:
    wall = _data()["wall"]
    parts = wall["partition" if partition else "lining"].items()
    return tuple(_wall(key, part, count, damped, partition) for key, part in parts for count, damped in wall[part["plies"]])


def walls(brief: Brief, kind: SideKind) -> tuple[WallOption, ...]:
    """Every wall for a side of this kind: partitions on open sides, linings before an existing wall elsewhere.

    Source: data/options.toml."""
    return _walls(kind is SideKind.OPEN)


def existing_wall(kind: SideKind, brief: Brief) -> Ply | None:
    """The wall that stands behind a lining; None on an open side. Source: data/options.toml."""
    if kind is SideKind.OPEN:
        return None
    if kind is SideKind.PARTY:
        row = _data()["party"][brief.shell.party]
        return ply(row["material"], row["thickness"])
    words = _data()["foundation"]
    thin = brief.shell.foundation == "wood"
    thickness = _data()["foundation_wood"]["thickness"] if thin else brief.shell.foundation_thickness
    return ply(words.get(brief.shell.foundation, words["unknown"]), thickness)


def wall_assembly(option: WallOption, kind: SideKind, brief: Brief) -> Assembly:
    """Wall as layers, from outside in. Source: geometry of the option and the brief."""
    return _wall_assembly(option, existing_wall(kind, brief))


@lru_cache(maxsize=4096)
def _wall_assembly(option: WallOption, existing: Ply | None) -> Assembly:
    wall = _data()["wall"]
    outer = Leaf(option.outer_plies) if existing is None else Leaf((existing,))
    boards = sum(layer.thickness for layer in layers_of(option.inner_plies, option.damped))
    new_outer = sum(board.thickness for board in option.outer_plies)
    return Assembly(
        id=option.id,
        element="wall",
        leaves=(outer, Leaf(option.inner_plies, option.damped)),
        cavities=(
            Cavity(
                depth=round(option.thickness - boards - new_outer, 6),  # whole micrometres: the sum of its parts, free of float noise
                fill=option.fill,
                fill_thickness=option.fill_thickness,
                frame=option.frame,
                frame_spacing=option.stud_spacing,
                support=option.support,
                support_spacing=0.0 if option.support == "absent" else wall["support_spacing"],
                clip_spacing=option.clip_spacing,
            ),
        ),
    )


# ---- doors, floors


def _door(key: str, row: dict[str, Any]) -> DoorOption:
    data = load("doors")
    panel, edge = data["panel"][row["panel"]], data["edge"][row["edge"]]
    lock = data["air_lock"][row["air_lock"]] if "air_lock" in row else None
    words = (panel["text"] if lock is None else f"{panel['two']} in series", edge["text"], lock["text"] if lock else "")
    return DoorOption(
        id=key,
        label=", ".join(word for word in words if word),
        leaves=2 if lock else 1,
        sealed=edge.get("threshold", False),
        leaf_mass=panel["leaf_mass"],
        area=row["area"],
        complete=panel.get("set", False),
        air_lock=lock["depth"] if lock else 0.0,
        lined=lock["lined"] if lock else False,
    )


def doors(brief: Brief) -> tuple[DoorOption, ...]:
    """Every door set that the room may get: leaf, edge and air lock. Source: data/doors.toml."""
    return _doors()


@cache
def _doors() -> tuple[DoorOption, ...]:
    return tuple(_door(key, row) for key, row in load("doors")["door"].items() if row.get("offered", True))


def floors(brief: Brief) -> tuple[FloorOption, ...]:
    """Every floor finish, the layers running up from the slab. Source: data/options.toml."""
    return _floors()


@cache
def _floors() -> tuple[FloorOption, ...]:
    return tuple(
        FloorOption(key, row["text"], tuple(Layer(each["name"], each["thickness"], each["surface_mass"]) for each in row["layers"]))
        for key, row in _data()["floor"].items()
    )
