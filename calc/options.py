"""The options for each boundary of the room, built from the parts of data/options.toml and data/doors.toml.

A lid never hangs a channel under a board that stays on the joists: that board would split the depth into a triple leaf. Boards
between the joists lie against the subfloor and add to its leaf, so a ceiling below them is a good double leaf.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from typing import Any

from calc.air_options import air_paths as air_paths
from calc.brief import Brief, SideKind
from calc.catalogue import load
from calc.isolation.assembly import Assembly, Cavity, Leaf
from calc.isolation.materials import ply
from calc.scheme import DoorOption, FloorOption, Layer, LidOption, Ply, WallOption
from calc.structure import clip_rating, own_joist_depth

GRAVITY = 9.81  # m/s2
LINED_SIDES = frozenset({SideKind.FOUNDATION_BELOW, SideKind.FOUNDATION_ABOVE, SideKind.PARTY})
FRAMES = {"i-joist": "wood I-joist"}  # frame word of the floor above; every other kind counts as solid joists
CLEARANCE = 0.013  # m; between an own joist set between the existing ones and the boards above it (common practice, no source)


def _data() -> dict[str, Any]:
    return load("options")


def _boards(count: int) -> tuple[Ply, ...]:
    board = _data()["board"]
    return (ply(board["material"], board["thickness"]),) * count


def _layers(plies: tuple[Ply, ...], damped: bool) -> tuple[Layer, ...]:
    """Boards as they take height; compound lies between each two."""
    film = _data()["damping"]
    layers: list[Layer] = []
    for number, board in enumerate(plies):
        if damped and number:
            layers.append(Layer("damping compound", film["thickness"], film["surface_mass"]))
        layers.append(Layer(board.material, board.thickness, board.surface_mass))
    return tuple(layers)


def fill_thickness(depth: float) -> float:
    """Thickest batt or pair of batts [m] that a cavity of this depth [m] takes unpacked; 0 when none fits. Source: data/options.toml."""
    return max((t for t in _data()["fill"]["thicknesses"] if t <= depth + 1e-9), default=0.0)


def _plies_text(count: int, damped: bool) -> str:
    word = {1: "one ply", 2: "two plies", 3: "three plies"}[count]
    return f"{word} with damping compound" if damped else word


# ---- lids


def clip_grid(mass: float, rating: float) -> tuple[float, float] | None:
    """Row and clip spacing [m] of the widest grid on which a clip carries ``mass`` [kg/m2] within its rating [N]; None where none does.

    Source: data/options.toml, lid grid.
    """
    grids = _data()["lid"]["grid"]["clip_grids"]
    return next(((float(rows), float(along)) for rows, along in grids if mass * GRAVITY * rows * along <= rating), None)


def _support_grid(brief: Brief, word: str, mass: float) -> tuple[float, float] | None:
    """Spacing of rows and along them [m] for what hangs with ``mass`` [kg/m2]; None where no clip of the person's rating carries it."""
    lid, grid = _data()["lid"], _data()["lid"]["grid"]
    if word == "isolation clip":
        return clip_grid(mass, clip_rating(brief.site))
    if word == "resilient channel":
        wide = brief.shell.joists.spacing > grid["wide_joists"]
        return float(grid["channel_rows_wide_joists" if wide else "channel_rows"]), 0.0
    return (float(lid["own_joist_spacing"]), 0.0) if word == "independent joists" else (0.0, 0.0)


def _lid(brief: Brief, between: int, key: str, count: int, damped: bool) -> LidOption | None:
    """One lid, or None where it cannot be built under these joists."""
    support, joists = _data()["lid"]["support"][key], brief.shell.joists
    own = support["word"] == "independent joists"
    above, below = _boards(between), _boards(count)
    boards = _layers(below, damped)
    mass = sum(layer.surface_mass for layer in boards)
    clear = joists.depth - sum(board.thickness for board in above)
    fill = fill_thickness(clear)
    own_depth = own_joist_depth(min(brief.shell.length, brief.shell.width), mass) if own else 0.0
    if own_depth is None or (key == "interleaved" and own_depth - support["drop"] > clear - CLEARANCE):
        return None
    stand_off = [Layer(support["text"], support["drop"], support["surface_mass"])] if support["drop"] else []
    if key == "below":
        stand_off = [Layer("clear gap under the joists", support["drop"], 0.0), Layer("own joists", own_depth, 0.0)]
    carried = sum(board.surface_mass for board in above) + fill * _data()["fill"]["density"]
    grid = _support_grid(brief, support["word"], mass + support["surface_mass"] + fill * _data()["fill"]["density"])
    if grid is None:
        return None
    first = f"{_plies_text(between, False)} against the subfloor between the joists; " if between else ""
    hung = "fixed to the joists" if key == "direct" else f"on {support['text']}"
    return LidOption(
        id=f"lid-{between}-{key}-{count}{'d' if damped else ''}",
        label=f"{first}{_plies_text(count, damped)} {hung}",
        between_joists=above,
        fill=_data()["fill"]["material"] if fill else "none",
        fill_thickness=fill,
        support=support["word"],
        support_spacing=grid[0],
        clip_spacing=grid[1],
        own_joist_depth=own_depth,
        plies=below,
        damped=damped,
        layers=(*stand_off, *boards),
        hung_mass=carried + (0.0 if own else mass + support["surface_mass"]),
    )


@lru_cache(maxsize=16)
def lids(brief: Brief) -> tuple[LidOption, ...]:
    """Every ceiling that can be built under these joists.

    Trusses take no boards and no own joists between them. Joists that may not be touched leave independent ceilings only; where none of
    those spans the room, the hung ones are given all the same, and ``needs_joists`` says so. Source: data/options.toml.
    """
    touched = brief.limits.joists_may_be_touched
    return _lids(brief, touched) or _lids(brief, True)


def needs_joists(brief: Brief, lid: LidOption) -> bool:
    """Whether a lid hangs from joists that may not be touched. Source: geometry of the option and the brief."""
    return not brief.limits.joists_may_be_touched and lid.support != "independent joists"


def _lids(brief: Brief, touched: bool) -> tuple[LidOption, ...]:
    parts, joists = _data()["lid"], brief.shell.joists
    found: list[LidOption | None] = []
    for key, support in parts["support"].items():
        own = support["word"] == "independent joists"
        if (not touched and not own) or (joists.kind == "truss" and key == "interleaved"):
            continue
        bare_only = joists.kind == "truss" or not touched
        for between in [0] if bare_only else parts["between"]:
            found += [_lid(brief, between, key, *choice) for choice in parts["direct_plies" if key == "direct" else "plies"]]
    return tuple(lid for lid in found if lid is not None)


def deck(brief: Brief) -> tuple[Ply, ...]:
    """What lies over the joists, walked-on side first; unknown counts as the lighter. Source: data/options.toml."""
    finish = _data()["floor_above"].get(brief.shell.floor_above, [])
    subfloor = _data()["subfloor"].get(brief.shell.subfloor, _data()["subfloor"]["unknown"])
    return tuple(ply(row["material"], row["thickness"]) for row in (*finish, *subfloor))


def lid_assembly(option: LidOption, brief: Brief) -> Assembly:
    """Floor above and lid as layers, walked-on side first. Own joists stand free of the floor, so nothing ties the leaves.

    Source: geometry of the option and the brief.
    """
    joists = brief.shell.joists
    own = option.support == "independent joists"
    stand_off = sum(layer.thickness for layer in option.layers[: len(option.layers) - len(_layers(option.plies, option.damped))])
    return Assembly(
        id=option.id,
        element="floor",
        leaves=(Leaf((*deck(brief), *option.between_joists)), Leaf(option.plies, option.damped)),
        cavities=(
            Cavity(
                depth=joists.depth - sum(board.thickness for board in option.between_joists) + stand_off,
                fill=option.fill,
                fill_thickness=option.fill_thickness,
                frame="separate rows of wood stud" if own else FRAMES.get(joists.kind, "wood joist"),
                frame_spacing=joists.spacing,
                support="absent" if own else option.support,
                support_spacing=0.0 if own else option.support_spacing,
                clip_spacing=option.clip_spacing,
            ),
        ),
    )


def bare_floor_assembly(brief: Brief) -> Assembly:
    """The floor above with nothing under it."""
    return Assembly("bare-floor", "floor", (Leaf(deck(brief)),), ())


# ---- walls


def _wall(key: str, part: dict[str, Any], count: int, damped: bool, partition: bool) -> WallOption:
    wall = _data()["wall"]
    boards, rows = _boards(count), int(part.get("rows", 1))
    depth = part.get("plate_depth", rows * part["stud_depth"]) + part["gap"] + wall["support"][part["support"]]
    inner = sum(layer.thickness for layer in _layers(boards, damped))
    outer = sum(board.thickness for board in boards) if partition else 0.0
    clip = part["support"] == "isolation clip"
    return WallOption(
        id=f"wall-{key}-{count}{'d' if damped else ''}",
        label=f"{part['text']}, {_plies_text(count, damped)}{' a side' if partition else ''}",
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


def _walls(partition: bool) -> Iterator[WallOption]:
    wall = _data()["wall"]
    for key, part in wall["partition" if partition else "lining"].items():
        for count, damped in wall[part["plies"]]:
            yield _wall(key, part, count, damped, partition)


def walls(brief: Brief, kind: SideKind) -> tuple[WallOption, ...]:
    """Every wall for a side of this kind: partitions on open sides, linings before an existing wall elsewhere.

    Source: data/options.toml."""
    return tuple(_walls(partition=kind is SideKind.OPEN))


def existing_wall(kind: SideKind, brief: Brief) -> Ply | None:
    """The wall that stands behind a lining; None on an open side. A party wall is taken as hollow block. Source: data/options.toml."""
    if kind is SideKind.OPEN:
        return None
    if kind is SideKind.PARTY:
        return ply(_data()["party"]["material"], _data()["party"]["thickness"])
    words = _data()["foundation"]
    thin = brief.shell.foundation == "wood"
    thickness = _data()["foundation_wood"]["thickness"] if thin else brief.shell.foundation_thickness
    return ply(words.get(brief.shell.foundation, words["unknown"]), thickness)


def wall_assembly(option: WallOption, kind: SideKind, brief: Brief) -> Assembly:
    """Wall as layers, from outside in. Source: geometry of the option and the brief."""
    wall, existing = _data()["wall"], existing_wall(kind, brief)
    outer = Leaf(option.outer_plies) if existing is None else Leaf((existing,))
    boards = sum(layer.thickness for layer in _layers(option.inner_plies, option.damped))
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
    return tuple(_door(key, row) for key, row in load("doors")["door"].items() if row.get("offered", True))


def floors(brief: Brief) -> tuple[FloorOption, ...]:
    """Every floor finish, the layers running up from the slab. Source: data/options.toml."""
    return tuple(
        FloorOption(key, row["text"], tuple(Layer(each["name"], each["thickness"], each["surface_mass"]) for each in row["layers"]))
        for key, row in _data()["floor"].items()
    )
