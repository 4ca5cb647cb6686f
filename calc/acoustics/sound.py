"""The room's sound, all in one: modes, proportions, better sizes, reverberation, treatment, places, first reflections."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise

import numpy as np

from calc.acoustics.layout import KIT, Layout, Opening, in_the_way, layout, way_is_free
from calc.acoustics.modes import Mode, ThirdOctave, bonello, modal_density, modes, schroeder_frequency, weyl_count
from calc.acoustics.proportions import Proportion, proportions
from calc.acoustics.reflections import Reflection, Stretch, keep_free, reflections, struck
from calc.acoustics.reverberation import (
    bare_absorption,
    floor_surface,
    is_control_room,
    octaves,
    room_time,
    room_time_eyring,
    target_time,
    target_times,
    target_tolerance,
)
from calc.acoustics.size import Size, sizes
from calc.acoustics.treatment import Aim, Treatment, choose_pieces, cloud_kind, first_pieces, free_corners, treated_absorption, treatments
from calc.brief import Brief
from calc.catalogue import load
from calc.geometry import Room
from calc.scheme import FloorOption

HIGHEST_MODE = 200.0  # Hz; the modes listed
SHOWN = 0.005  # s; times are shown to 10 ms, and a miss that is not seen is none
MIDDLE = slice(1, None)  # the octaves 250 to 4000 Hz, over which a reverberation time is averaged and judged


@dataclass(frozen=True)
class Reverberation:
    """Seconds in each of ``bands`` (6,) [Hz]: bare, wanted, with the treatment. ``tolerance`` s, either way, from 250 Hz up.

    ``shortest``: with the treatment by Eyring's formula, where the others are Sabine's; a real room lies about between or a little above.
    """

    bands: tuple[float, ...]
    bare: tuple[float, ...]
    target: tuple[float, ...]
    after: tuple[float, ...]
    shortest: tuple[float, ...]
    tolerance: float
    source: str

    @property
    def bare_mean(self) -> float:
        """Mean of the octaves 250 to 4000 Hz [s], nothing hung."""
        return float(np.mean(self.bare[MIDDLE]))

    @property
    def target_mean(self) -> float:
        return float(np.mean(self.target[MIDDLE]))

    @property
    def after_mean(self) -> float:
        return float(np.mean(self.after[MIDDLE]))

    @property
    def off_bands(self) -> tuple[float, ...]:
        """Octaves [Hz] from 250 Hz up that the treatment leaves outside the tolerance."""
        rows = zip(self.bands[MIDDLE], self.target[MIDDLE], self.after[MIDDLE], strict=True)
        return tuple(band for band, want, have in rows if abs(have - want) > self.tolerance + SHOWN)


@dataclass(frozen=True)
class RoomSound:
    """Everything the plan says about sound inside the room; m, m2, m3, s, Hz, dB.

    ``modes`` up to 200 Hz ascending; ``spacing`` the widest step between them above the first [Hz] and ``gap_at`` where it begins.
    ``cloud``: kind of ceiling panel that fits, "" for none.
    ``blocked``: doors and windows given that stand in the way of the first reflections. ``in_way``: what stands on the floor that must
    stay free, with the door or window that it stands before. ``way_free``: one walks from the door to the way out.
    """

    room: Room
    control_room: bool
    modes: tuple[Mode, ...]
    third_octaves: tuple[ThirdOctave, ...]
    weyl: float
    density: float
    spacing: float
    gap_at: float
    schroeder: float
    schroeder_bare: float
    proportions: tuple[Proportion, ...]
    floor: str
    reverberation: Reverberation
    treatments: tuple[Treatment, ...]
    cloud: str
    least_height: float
    layout: Layout
    reflections: tuple[Reflection, ...]
    keep_free: tuple[Stretch, ...]
    openings: tuple[Opening, ...]
    blocked: tuple[Opening, ...]
    in_way: tuple[tuple[str, Opening], ...]
    way_free: bool

    @cached_property
    def sizes(self) -> tuple[Size, ...]:
        """The room as planned first, then those worth the floor they cost; computed when asked, as a verdict does not need it."""
        room = self.room
        return sizes(room.length, room.width, room.height, self.reverberation.bare[0])  # deep bass feels little of the treatment

    @property
    def within_standard(self) -> bool:
        """The proportions keep the range of ITU-R BS.1116-3 and EBU Tech 3276."""
        return all(found.ok for found in self.proportions if found.standard)

    @property
    def mode_frequencies(self) -> tuple[float, ...]:
        """For a plot of where the modes lie [Hz]."""
        return tuple(mode.frequency for mode in self.modes)

    @property
    def mode_steps(self) -> tuple[tuple[float, float], ...]:
        """For a plot of their spacing: each mode's frequency and the step to the next [Hz]."""
        return tuple((low, high - low) for low, high in pairwise(self.mode_frequencies))

    @property
    def hung_mass(self) -> float:
        """What the ceiling panels add to the lid [kg]."""
        return sum(item.mass for item in self.treatments if item.height_taken > 0.0)


def room_sound(
    brief: Brief, room: Room, floor: FloorOption, openings: tuple[Opening, ...] = (), least_height: float | None = None
) -> RoomSound:
    """All of it for one room under its lid (``room.height``), with its floor finish.

    ``openings``: doors and windows in the inner walls, where known, the room's own door first. ``least_height`` [m]: what must be left
    under a ceiling panel, the person's own lowest ceiling if that is higher or nothing is given. Raises ValueError for a room without size.
    Source: each called module names its own. Sabine's and Eyring's formulas want a diffuse field, which a small room lacks below its
    Schroeder frequency: the 125 Hz octave is an estimate.
    """
    found = modes(room.length, room.width, room.height, HIGHEST_MODE)
    frequencies = np.array([mode.frequency for mode in found])
    steps = np.diff(frequencies)
    widest = int(np.argmax(steps)) if len(steps) else 0
    lowest = max(brief.limits.lowest_ceiling, least_height or 0.0)
    target = target_times(brief.use, room.volume)
    want = target_time(brief.use, room.volume)
    bare = room_time(room, bare_absorption(room, floor))
    placed = layout(brief, room, openings)
    first = reflections(room, placed)
    cloud = cloud_kind(room, lowest)
    tolerance = target_tolerance(brief.use, room.volume)
    corners = free_corners(room, openings)
    aim = Aim(target, tolerance / want, lowest, corners)
    pieces = choose_pieces(room, floor, aim, first_pieces(brief.use, first, room, cloud, corners))
    treated = treated_absorption(room, floor, pieces)
    kit = placed.point(KIT) if KIT in placed.names else None
    stretches = keep_free(room, first)
    data = load("acoustics")["target"]
    control = is_control_room(brief.use)
    return RoomSound(
        room=room,
        control_room=control,
        modes=found,
        third_octaves=bonello(np.array([m.frequency for m in modes(room.length, room.width, room.height, 230.0)])),
        weyl=weyl_count(room.length, room.width, room.height, 100.0),
        density=modal_density(room.length, room.width, room.height, 100.0),
        spacing=float(steps[widest]) if len(steps) else 0.0,
        gap_at=float(frequencies[widest]) if len(frequencies) else 0.0,
        schroeder=schroeder_frequency(room.volume, want),
        schroeder_bare=schroeder_frequency(room.volume, float(np.mean(bare[MIDDLE]))),
        proportions=proportions(room.length, room.width, room.height),
        floor=floor_surface(floor),
        reverberation=Reverberation(
            bands=tuple(octaves().tolist()),
            bare=tuple(bare.tolist()),
            target=tuple(target.tolist()),
            after=tuple(room_time(room, treated).tolist()),
            shortest=tuple(room_time_eyring(room, treated).tolist()),
            tolerance=tolerance,
            source=str(data["control_source" if control else "playing_source"]),
        ),
        treatments=treatments(room, pieces, first, kit),
        cloud=cloud or "",
        least_height=lowest,
        layout=placed,
        reflections=first,
        keep_free=stretches,
        openings=openings,
        blocked=struck(stretches, openings),
        in_way=in_the_way(room, placed, openings),
        way_free=way_is_free(room, placed, openings),
    )
