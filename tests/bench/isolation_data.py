"""The published data that the isolation engine is fitted to and judged by."""

from __future__ import annotations

import re
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calc.bands import octave_loss
from calc.isolation.assembly import Assembly, Cavity, Leaf
from calc.isolation.materials import ply
from calc.isolation.reader import read_assemblies
from calc.isolation.tested import tested_assemblies

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Spectra:
    """Constructions with published bands: ``values`` (n, 7) octaves 63 Hz-4 kHz or thirds 50-125 Hz (then two more are nan)."""

    assemblies: tuple[Assembly, ...]
    families: tuple[str, ...]
    thirds: NDArray[np.bool_]
    values: Array

    def errors(self, loss: Array) -> Array:
        """Predicted less published [dB], (n, 7), nan where nothing is published; ``loss`` (n, 21)."""
        low = np.concatenate([loss[:, :5], np.full((loss.shape[0], 2), np.nan)], axis=1)
        return np.asarray(np.where(self.thirds[:, None], low, octave_loss(loss)) - self.values)


def spectra() -> Spectra:
    """tests/bench/spectra.toml."""
    rows: list[dict[str, Any]] = tomllib.loads((Path(__file__).parent / "spectra.toml").read_text())["row"]
    thirds = np.array(["thirds" in row for row in rows])
    levels = [[*list(row.get("thirds", ())), "", ""] if "thirds" in row else row["octaves"] for row in rows]
    values = np.array([[np.nan if v == "" else float(v) for v in row] for row in levels])
    assemblies = read_assemblies({"assembly": [row["assembly"] for row in rows]})
    return Spectra(assemblies, tuple(row["family"] for row in rows), thirds, values)


def block(assembly: Assembly) -> str:
    """Table block of a code-table id: "NBC-W15a" -> "W15"."""
    found = re.fullmatch(r"NBC-([A-Z]+\d+)[a-z]*", assembly.id)
    return found[1] if found else assembly.id


FAMILIES = {
    "wood studs": ("W1", "W2"),
    "wood studs, channel": ("W3", "W4", "W5", "W6"),
    "staggered": ("W7", "W9", "W10"),
    "separate rows": ("W13", "W15", "W16"),
    "light steel": ("S2", "S3", "S4", "S6", "S9"),
    "heavy steel": ("S10", "S11"),
    "block": ("B1", "B4", "B5", "B6", "B7", "B8", "B10"),
    "concrete": ("F1",),
    "floor, direct": ("F3", "F4"),
    "floor, furring": ("F5",),
    "floor, triple": ("F7",),
    "floor, channel": ("F8", "F9", "F11"),
    "topping, direct": ("F12", "F13", "F16", "F17"),
    "topping, channel": ("F14",),
}


def family(assembly: Assembly) -> str:
    """Family of a code-table row. Raises KeyError for a block that is in none."""
    blocks = {name: key for key, names in FAMILIES.items() for name in names}
    return blocks[block(assembly)]


def linings() -> tuple[tuple[Assembly, ...], Array]:
    """Lined block of another laboratory, tests/bench/linings.toml, and its STC, (n,)."""
    found, classes = [], []
    block = Leaf((ply("hollow concrete block, normal weight, sealed", 0.19),))
    board = Leaf((ply("gypsum board type X", 0.0159),))
    for row in tomllib.loads((Path(__file__).parent / "linings.toml").read_text())["lining"]:
        for place, value in enumerate(row["stc"]):
            fill, both = place >= 2, place % 2 == 1
            frame, support, depth = row.get("frame", "none"), row.get("support", "absent"), row["depth"]
            cavity = Cavity(depth, "glass fibre" if fill else "none", depth if fill else 0.0, frame, 0.61, support, 0.61)
            if value:
                leaves = (board, block, board) if both else (block, board)
                found.append(Assembly(row["name"], "wall", leaves, (cavity,) * (len(leaves) - 1)))
                classes.append(float(value))
    return tuple(found), np.array(classes)


def rated() -> tuple[tuple[Assembly, ...], Array]:
    """The tested assemblies with an STC, and those, (n,)."""
    tests = tuple(a for a in tested_assemblies() if a.measured and "stc" in a.measured)
    return tests, np.array([float((a.measured or {})["stc"]) for a in tests])
