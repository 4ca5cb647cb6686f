"""What the lid asks of the joists, of its own joists, of the clips and of the slab: screens, never a design."""

from calc.structure.beam import (
    PSI,
    Wood,
    allowed_dead_load,
    allowed_span,
    bending_span,
    candidates,
    deflection_span,
    live_deflection,
    wood,
)
from calc.structure.ceiling import own_joist_depth
from calc.structure.clip import clip_grid, clip_joists, clip_load, clip_rating, clip_weight, framing_step, hung_on_clips, inch_grid
from calc.structure.screen import (
    ENGINEER,
    PASSES,
    SCREEN,
    SIZE_QUESTIONS,
    STOP,
    StructureResult,
    existing_dead_load,
    findings,
    hung_parts,
    live_load,
    screen,
)
from calc.structure.slab import line_load_capacity, wall_line_load

__all__ = [
    "ENGINEER",
    "PASSES",
    "PSI",
    "SCREEN",
    "SIZE_QUESTIONS",
    "STOP",
    "StructureResult",
    "Wood",
    "allowed_dead_load",
    "allowed_span",
    "bending_span",
    "candidates",
    "clip_grid",
    "clip_joists",
    "clip_load",
    "clip_rating",
    "clip_weight",
    "deflection_span",
    "existing_dead_load",
    "findings",
    "framing_step",
    "hung_on_clips",
    "hung_parts",
    "inch_grid",
    "line_load_capacity",
    "live_deflection",
    "live_load",
    "own_joist_depth",
    "screen",
    "wall_line_load",
    "wood",
]
