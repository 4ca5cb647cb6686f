"""A construction as layers: leaves, the cavities between them, and what joins the leaves."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from calc.hashed import hashed_once
from calc.scheme import Ply


@hashed_once
@dataclass(frozen=True)
class Leaf:
    """One or more plies fixed face to face, not glued. ``damped``: a viscoelastic compound between the plies."""

    plies: tuple[Ply, ...]
    damped: bool = False

    @property
    def surface_mass(self) -> float:
        """Surface mass [kg/m2]."""
        return sum(ply.surface_mass for ply in self.plies)

    @property
    def thickness(self) -> float:
        """Thickness [m]."""
        return sum(ply.thickness for ply in self.plies)


@dataclass(frozen=True)
class Cavity:
    """Between one leaf and the next. Lengths m. The words are those of data/fills.toml and data/ties.toml.

    ``depth`` is the clear distance between the leaves; ``support`` carries the leaf after the cavity; spacings are 0 where
    there is nothing to space.
    """

    depth: float
    fill: str = "none"
    fill_thickness: float = 0.0
    frame: str = "none"
    frame_spacing: float = 0.0
    support: str = "absent"
    support_spacing: float = 0.0
    clip_spacing: float = 0.0


@hashed_once
@dataclass(frozen=True)
class Assembly:
    """``element``: wall | floor (walked-on side first) | door | glazing. One cavity less than leaves. ``measured`` holds published
    ratings ("stc", "iic"), with ``source`` saying where they stand."""

    id: str
    element: str
    leaves: tuple[Leaf, ...]
    cavities: tuple[Cavity, ...]
    measured: dict[str, Any] | None = None
    source: str = ""

    def __post_init__(self) -> None:
        if not self.leaves or len(self.cavities) != len(self.leaves) - 1:
            raise ValueError(f"assembly {self.id}: {len(self.leaves)} leaves need {max(len(self.leaves) - 1, 0)} cavities")

    @property
    def surface_mass(self) -> float:
        """Surface mass of the leaves [kg/m2]; frame and fill are not counted."""
        return sum(leaf.surface_mass for leaf in self.leaves)

    @property
    def thickness(self) -> float:
        """Overall thickness [m]."""
        return sum(leaf.thickness for leaf in self.leaves) + sum(cavity.depth for cavity in self.cavities)
