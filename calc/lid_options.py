"""The ceilings to choose from, and the floor above them, built from the parts of data/options.toml.

A lid never hangs a channel under a board that stays on the joists: that board would split the depth into a triple leaf. Boards
between the joists lie against the subfloor and add to its leaf, so a ceiling below them is a good double leaf.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache
from typing import Any

from calc.brief import Brief
from calc.catalogue import load
from calc.isolation.assembly import Assembly, Cavity, Leaf
from calc.isolation.materials import ply
from calc.option_parts import board_plies, fill_thickness, layers_of, plies_text
from calc.scheme import Layer, LidOption, Ply
from calc.structure import clip_grid, clip_rating, own_joist_depth

FRAMES = {"i-joist": "wood I-joist"}  # frame word of the floor above; every other kind counts as solid joists
CLEARANCE = 0.013  # m; between an own joist set between the existing ones and the boards above it (common practice, no source)


def _data() -> dict[str, Any]:
    return load("options")


@dataclass(frozen=True)
class _Under:
    """What a lid is built under: kind, depth and spacing [m] of the joists, the shorter side of the shell [m], rating of a clip [N]."""

    kind: str
    depth: float
    spacing: float
    width: float
    rating: float


def _support_grid(under: _Under, word: str, mass: float) -> tuple[float, float] | None:
    """Spacing of rows and along them [m] for what hangs with ``mass`` [kg/m2]; None where no clip of the person's rating,
    fixed to these joists, carries it."""
    lid, grid = _data()["lid"], _data()["lid"]["grid"]
    if word == "isolation clip":
        return clip_grid(mass, under.rating, under.spacing)
    if word == "resilient channel":
        wide = under.spacing > grid["wide_joists"]
        return float(grid["channel_rows_wide_joists" if wide else "channel_rows"]), 0.0
    return (float(lid["own_joist_spacing"]), 0.0) if word == "independent joists" else (0.0, 0.0)


def _lid(under: _Under, between: int, key: str, count: int, damped: bool) -> LidOption | None:
    """One lid, or None where it cannot be built under these joists."""
    support = _data()["lid"]["support"][key]
    own = support["word"] == "independent joists"
    above, below = board_plies(between), board_plies(count)
    boards = layers_of(below, damped)
    mass = sum(layer.surface_mass for layer in boards)
    clear = under.depth - sum(board.thickness for board in above)
    fill = fill_thickness(clear)
    own_depth = own_joist_depth(under.width, mass) if own else 0.0
    if own_depth is None or (key == "interleaved" and own_depth - support["drop"] > clear - CLEARANCE):
        return None
    stand_off = [Layer(support["text"], support["drop"], support["surface_mass"])] if support["drop"] else []
    if key == "below":
        stand_off = [Layer("clear gap under the joists", support["drop"], 0.0), Layer("own joists", own_depth, 0.0)]
    carried = sum(board.surface_mass for board in above) + fill * _data()["fill"]["density"]
    grid = _support_grid(under, support["word"], mass + support["surface_mass"] + fill * _data()["fill"]["density"])
    if grid is None:
        return None
    first = f"{plies_text(between, False)} against the subfloor between the joists; " if between else ""
    hung = "fixed to the joists" if key == "direct" else f"on {support['text']}"
    return LidOption(
        id=f"lid-{between}-{key}-{count}{'d' if damped else ''}",
        label=f"{first}{plies_text(count, damped)} {hung}",
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


def lids(brief: Brief) -> tuple[LidOption, ...]:
    """Every ceiling that can be built under these joists.

    Trusses take no boards and no own joists between them. Joists that may not be touched leave independent ceilings only; where none of
    those spans the room, the hung ones are given all the same, and ``needs_joists`` says so. Source: data/options.toml.
    """
    shell, joists = brief.shell, brief.shell.joists
    under = _Under(joists.kind, joists.depth, joists.spacing, min(shell.length, shell.width), clip_rating(brief.site))
    return _lids(under, brief.limits.joists_may_be_touched) or _lids(under, True)


def empty_bay(lid: LidOption, joist_depth: float) -> float:
    """Depth [m] between joists of a depth [m] that boards and fill leave empty. Source: geometry of the option."""
    return joist_depth - sum(board.thickness for board in lid.between_joists) - lid.fill_thickness


def needs_joists(brief: Brief, lid: LidOption) -> bool:
    """Whether a lid hangs from joists that may not be touched. Source: geometry of the option and the brief."""
    return not brief.limits.joists_may_be_touched and lid.support != "independent joists"


@lru_cache(maxsize=64)
def _lids(under: _Under, touched: bool) -> tuple[LidOption, ...]:
    parts = _data()["lid"]
    found: list[LidOption | None] = []
    for key, support in parts["support"].items():
        own = support["word"] == "independent joists"
        if (not touched and not own) or (under.kind == "truss" and key == "interleaved"):
            continue
        bare_only = under.kind == "truss" or not touched
        for between in [0] if bare_only else parts["between"]:
            found += [_lid(under, between, key, *choice) for choice in parts["direct_plies" if key == "direct" else "plies"]]
    return tuple(lid for lid in found if lid is not None)


def deck(brief: Brief) -> tuple[Ply, ...]:
    """What lies over the joists, walked-on side first; unknown counts as the lighter. Source: data/options.toml."""
    return _deck(brief.shell.floor_above, brief.shell.subfloor)


@cache
def _deck(finish_word: str, subfloor_word: str) -> tuple[Ply, ...]:
    finish = _data()["floor_above"].get(finish_word, [])
    subfloor = _data()["subfloor"].get(subfloor_word, _data()["subfloor"]["unknown"])
    return tuple(ply(row["material"], row["thickness"]) for row in (*finish, *subfloor))


def lid_assembly(option: LidOption, brief: Brief) -> Assembly:
    """Floor above and lid as layers, walked-on side first. Own joists stand free of the floor, so nothing ties the leaves.

    Source: geometry of the option and the brief.
    """
    return _lid_assembly(option, deck(brief), brief.shell.joists.kind, brief.shell.joists.depth, brief.shell.joists.spacing)


@lru_cache(maxsize=4096)
def _lid_assembly(option: LidOption, over: tuple[Ply, ...], kind: str, depth: float, spacing: float) -> Assembly:
    own = option.support == "independent joists"
    stand_off = sum(layer.thickness for layer in option.layers[: len(option.layers) - len(layers_of(option.plies, option.damped))])
    return Assembly(
        id=option.id,
        element="floor",
        leaves=(Leaf((*over, *option.between_joists)), Leaf(option.plies, option.damped)),
        cavities=(
            Cavity(
                depth=depth - sum(board.thickness for board in option.between_joists) + stand_off,
                fill=option.fill,
                fill_thickness=option.fill_thickness,
                frame="separate rows of wood stud" if own else FRAMES.get(kind, "wood joist"),
                frame_spacing=spacing,
                support="absent" if own else option.support,
                support_spacing=0.0 if own else option.support_spacing,
                clip_spacing=option.clip_spacing,
            ),
        ),
    )


def bare_floor_assembly(brief: Brief) -> Assembly:
    """The floor above with nothing under it."""
    return Assembly("bare-floor", "floor", (Leaf(deck(brief)),), ())
