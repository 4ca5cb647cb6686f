"""The page "Room" as lines of text for any width: modes, how long the room rings, what to hang. No Textual here."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from calc.unit_format import format_area, format_length, format_nominal, format_volume
from wizard.air_page import to_look_at
from wizard.lines import Line, Part, hung, section, text_width
from wizard.plots import LEAST_WIDTH, bars, modes_plot, ringing_plot

if TYPE_CHECKING:
    from calc.acoustics import RoomSound
    from calc.assess import Assessment

ALONG = ("length", "width", "height")


@dataclass(frozen=True)
class RoomPage:
    """A wizard.lines.Page of one piece."""

    assessment: Assessment
    start: int = 0

    def rows(self, width: int) -> tuple[str, ...]:
        return ()

    def lines(self, index: int, width: int, height: int, unicode: bool) -> list[Line]:
        sound, units, room = self.assessment.sound, self.assessment.brief.units, text_width(width)
        plot = max(LEAST_WIDTH, width)
        return [
            *section("Room modes: where the bass booms or thins out", [_modes(sound, plot, unicode)], Part.CHART, first=True),
            *(Line(Part.TEXT, line) for text in _of_modes(sound, units) for line in hung("", text, room)),
            *section("How many modes lie in each third octave", [_thirds(sound, plot, unicode)], Part.CHART),
            *section("How long the room rings, seconds", [_ringing(sound, plot, unicode)], Part.CHART),
            *(Line(Part.TEXT, line) for text in _of_ringing(sound) for line in hung("", text, room)),
            *section("What to hang", [hung("- ", text, room) for text in _treatment(sound, units)]),
            *section("Sizes worth a thought", [hung("- ", text, room) for text in _sizes(sound, units)]),
            *to_look_at(self.assessment.brief, self.assessment.sound_findings, room),
        ]


def _modes(sound: RoomSound, width: int, unicode: bool) -> list[str]:
    gap = (sound.gap_at, sound.gap_at + sound.spacing)
    return modes_plot([(mode.frequency, mode.kind) for mode in sound.modes], gap, width, unicode)


def _of_modes(sound: RoomSound, units: str) -> list[str]:
    sides = " × ".join(format_length(side, units, 1.0) for side in (sound.room.length, sound.room.width, sound.room.height))
    size = f"Inside {sides}, {format_volume(sound.room.volume, units)}."
    if not sound.modes:
        return [size]
    first = sound.modes[0]
    along = f", along the {ALONG[first.order.index(1)]}" if sum(first.order) == 1 else ""
    return [
        "Axial modes, between two faces, matter most, then tangential ones, round four faces; oblique ones take in all six. "
        f"A number counts modes that share a place. The lowest is at {first.frequency:.0f} Hz{along}; the widest step without one goes "
        f"from {sound.gap_at:.0f} to {sound.gap_at + sound.spacing:.0f} Hz. Above about {sound.schroeder:.0f} Hz they overlap. {size}"
    ]


def _thirds(sound: RoomSound, width: int, unicode: bool) -> list[str]:
    rows = [row for row in sound.third_octaves if row.centre >= 20.0]
    lines = bars([(f"{row.centre:g} Hz", float(row.count), f"{row.count}") for row in rows], width, unicode)
    told = [
        ("  fewer than the third below" if row.falls else "") + ("  two at one place" if row.coincide else "") for row in rows
    ]  # beside the bar, in words
    return [f"{line}{words}" for line, words in zip(lines, told, strict=True)]


def _ringing(sound: RoomSound, width: int, unicode: bool) -> list[str]:
    times = sound.reverberation
    return ringing_plot(times.bands, times.bare, times.target, times.after, times.off_bands, width, unicode)


def _of_ringing(sound: RoomSound) -> list[str]:
    times = sound.reverberation
    missed = f" Outside it: {', '.join(f'{band:.0f}' for band in times.off_bands)} Hz." if times.off_bands else " All of it is within."
    return [
        f"Bare the room rings {times.bare_mean:.1f} s on average; {times.target_mean:.2f} s are wanted for this use, "
        f"{times.tolerance:.2f} s either way from 250 Hz up.{missed} Source of what is wanted: {times.source}."
    ]


def _treatment(sound: RoomSound, units: str) -> list[str]:
    return [
        f"{item.pieces} × {item.label}, together {format_area(item.area, units)}, {format_nominal(item.depth, units)} deep: {item.where}"
        + (f"; takes {format_length(item.height_taken, units)} below the ceiling" if item.height_taken > 0.0 else "")
        for item in sound.treatments
    ]


def _sizes(sound: RoomSound, units: str) -> list[str]:
    """Smaller rooms with more even bass or better proportions, the planned one first; nothing where none is worth its floor."""
    now, *better = sound.sizes
    rows = [
        f"{format_length(size.length, units)} × {format_length(size.width, units)}: bass uneven by {size.roughness:.1f} dB, "
        f"costs {format_area(size.lost, units)} of floor" + ("; inside the recommended proportions" if size.standard > now.standard else "")
        for size in better
    ]
    return [f"as planned: bass uneven by {now.roughness:.1f} dB", *rows] if rows else []
