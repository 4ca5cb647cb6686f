"""What lids and walls are both built of: boards, compound and fill, from data/options.toml."""

from __future__ import annotations

from functools import cache, lru_cache

from calc.catalogue import load
from calc.isolation.materials import ply
from calc.scheme import Layer, Ply


@cache
def board_plies(count: int) -> tuple[Ply, ...]:
    """So many of the boards that rooms are lined with. Source: data/options.toml."""
    board = load("options")["board"]
    return (ply(board["material"], board["thickness"]),) * count


@lru_cache(maxsize=256)
def layers_of(plies: tuple[Ply, ...], damped: bool) -> tuple[Layer, ...]:
    """Boards as they take height; compound lies between each two. Source: data/options.toml."""
    film = load("options")["damping"]
    layers: list[Layer] = []
    for number, board in enumerate(plies):
        if damped and number:
            layers.append(Layer("damping compound", film["thickness"], film["surface_mass"]))
        layers.append(Layer(board.material, board.thickness, board.surface_mass))
    return tuple(layers)


@lru_cache(maxsize=256)
def fill_thickness(depth: float) -> float:
    """Thickest batt or pair of batts [m] that a cavity of this depth [m] takes unpacked; 0 when none fits. Source: data/options.toml."""
    return max((t for t in load("options")["fill"]["thicknesses"] if t <= depth + 1e-9), default=0.0)


def plies_text(count: int, damped: bool) -> str:
    """The plies in words."""
    word = {1: "one ply", 2: "two plies", 3: "three plies"}[count]
    return f"{word} with damping compound" if damped else word
