"""Facts of the basement that only some rules need. Each starts as not known, and a rule that needs one not known asks for it.

Lengths m, forces N.
"""

from __future__ import annotations

from dataclasses import dataclass

UNKNOWN = "unknown"


@dataclass(frozen=True)
class Site:
    """``None`` and "unknown" mean that nobody has looked; no field is ever taken as harmless until somebody has."""

    # heights
    corner_heights: tuple[float, ...] = ()  # slab to joists near the four corners, going round from sides 1 and 2, then the middle; or ()
    stair_headroom: float | None = None  # nosing line to what hangs over it, at its least
    stair_width: float | None = None
    board_length: float | None = None  # longest board that somebody got, or could turn, down the stairs
    # structure
    point_loads: str = UNKNOWN  # no | yes | unknown: piano, bath, aquarium, stone top, post or wall on the joists
    clip_rating: float | None = None  # N that one isolation clip carries by its test report
    slab_thickness: float | None = None
    slab_state: str = UNKNOWN  # sound | cracked | unknown: cracked, hollow or settled
    foundation_state: str = UNKNOWN  # sound | cracked | bowed | unknown
    # escape, alarms
    well: str = UNKNOWN  # none | yes | unknown: the escape window opens into a well
    well_width: float | None = None
    well_projection: float | None = None  # clear, out from the wall
    well_depth: float | None = None
    garage: str = UNKNOWN  # no | yes | unknown: attached to the house
    # fuel, power
    tight_house: str = UNKNOWN  # no | yes | unknown: new windows, spray foam, air sealing, strong fans
    appliance_clear: float | None = None  # level space before the appliance's controls once the wall stands
    panel_clear: float | None = None  # clear depth before the electrical panel once the wall stands
    wiring: str = UNKNOWN  # modern | knob and tube | aluminium | unknown
    # moisture, materials
    wall_test: str = UNKNOWN  # dry | wet | unknown: what the plastic sheet on wall and slab showed
    mould: str = UNKNOWN  # no | small | large | unknown: seen or smelt
    suspect: str = UNKNOWN  # no | yes | unknown: old tile, pipe wrap, texture, vermiculite in the area


NOTHING_KNOWN = Site()
