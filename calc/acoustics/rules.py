"""Findings about sound in the room: each rule one small function of the brief and the room's sound."""

from __future__ import annotations

from calc.acoustics.size import Size
from calc.acoustics.sound import RoomSound
from calc.brief import Brief
from calc.catalogue import load
from calc.finding import Finding, Severity
from calc.unit_format import format_area, format_length

OWNER = "owner"
TASK = "finish"


def findings(brief: Brief, sound: RoomSound) -> tuple[Finding, ...]:
    """All findings about sound in the room, in the order of the rules."""
    rules = (proportions, low_modes, reverberation, treatment_short, cloud_height, openings, way_out, fastening, layout_fits)
    return tuple(found for rule in rules if (found := rule(brief, sound)) is not None)


def proportions(brief: Brief, sound: RoomSound) -> Finding | None:
    """Proportions outside the standards' range, or a smaller room that would sound smoother in the bass. Source: calc/acoustics/size.py."""
    now, *better = sound.sizes
    if sound.within_standard and not better:
        return None
    fault = next((found for found in sound.proportions if found.standard and not found.ok), None)
    name = "inside" if sound.within_standard else "outside"
    return Finding(
        rule="sound-proportions",
        severity=Severity.NOTE,
        title=f"The room's proportions are {name} the range recommended for listening rooms"
        + ("; a slightly smaller room would have more even bass" if better and sound.within_standard else ""),
        measured=fault.value if fault else None,
        limit=None if fault is None else (fault.low if fault.value < fault.low else fault.high),
        unit="1" if fault else "",
        source=f"ITU-R BS.1116-3, EBU Tech 3276; {load('acoustics')['size']['source']}",
        remedy=_sizes(brief, now, better),
        decides=OWNER,
        task="survey",
    )


def low_modes(brief: Brief, sound: RoomSound) -> Finding | None:
    """Below the Schroeder frequency single modes rule, and no absorber of a usual depth tames the lowest."""
    if not sound.modes:
        return None
    below = sum(mode.frequency < sound.schroeder for mode in sound.modes)
    many = f"{below} modes" if sound.schroeder < sound.modes[-1].frequency else f"the {len(sound.modes)} modes up to 200 Hz"
    return Finding(
        rule="sound-modes",
        severity=Severity.NOTE,
        title=f"Below about {round(sound.schroeder, -1):.0f} Hz single room modes shape the bass: {many}, the lowest at "
        f"{sound.modes[0].frequency:.0f} Hz; the widest step, {sound.spacing:.0f} Hz, follows {sound.gap_at:.0f} Hz",
        measured=None,
        limit=None,
        unit="",
        source="rigid rectangular room; Schroeder 1996, 2000 sqrt(T/V)",
        remedy="Bass will differ from place to place in any room of this size. Put the deep absorbers into the corners first; try where "
        "you sit and where the bass comes from before anything is fixed. Absorbers of these depths do little below about 60 Hz.",
        decides=OWNER,
        task=TASK,
    )


def reverberation(brief: Brief, sound: RoomSound) -> Finding | None:
    """What the bare room rings and what brings it to the use's target."""
    times = sound.reverberation
    hung = "; ".join(f"{item.pieces} × {item.label}, {format_area(item.area, brief.units)}" for item in sound.treatments)
    return Finding(
        rule="sound-reverberation",
        severity=Severity.NOTE,
        title=f"Bare, the room rings {times.bare_mean:.1f} s; for this use about {times.target_mean:.2f} s is wanted",
        measured=times.bare_mean,
        limit=times.target_mean,
        unit="s",
        source=f"target: {times.source}; calculation: Sabine as in EN 12354-6, absorption as in the plan's table, empty room",
        remedy=(f"Hang: {hung}. " if hung else "")
        + "Buy half of the wall panels first, furnish, listen or measure, then the rest: a small room keeps only roughly to the formula.",
        decides=OWNER,
        task=TASK,
    )


def treatment_short(brief: Brief, sound: RoomSound) -> Finding | None:
    """The treatment that finds room does not bring every octave into the tolerance."""
    off = sound.reverberation.off_bands
    if not off:
        return None
    bands = ", ".join(f"{band:.0f}" for band in off)
    times = sound.reverberation
    return Finding(
        rule="sound-treatment-short",
        severity=Severity.NOTE,
        title=f"Even treated, the octave{'s' if len(off) > 1 else ''} at {bands} Hz stay{'' if len(off) > 1 else 's'} more than "
        f"{times.tolerance:.2f} s from the target",
        measured=None,
        limit=None,
        unit="s",
        source=times.source,
        remedy="Furniture, shelves and people absorb as well and are not counted. Measure before more is bought.",
        decides=OWNER,
        task=TASK,
    )


def cloud_height(brief: Brief, sound: RoomSound) -> Finding | None:
    """Ceiling panels need headroom of their own."""
    taken = max((item.height_taken for item in sound.treatments), default=0.0)
    left = sound.room.height - taken
    if sound.cloud and not taken:
        return None
    lowest, over = format_length(sound.least_height, brief.units, 1.0), format_length(sound.room.height, brief.units, 1.0)
    if not sound.cloud:
        title = f"No ceiling panel fits: the lid leaves {over}, and {lowest} must stay free"
        remedy = "Leave the lid bare and treat the walls; a lower lid gains nothing here."
    else:
        title = f"Ceiling panels take {format_length(taken, brief.units)} below the lid and leave {format_length(left, brief.units, 1.0)}"
        remedy = f"Hang them over desk, kit or player, not over the way to the door; at least {lowest} must stay free."
    return Finding(
        rule="sound-cloud-height",
        severity=Severity.NOTE,
        title=title,
        measured=left,
        limit=sound.least_height,
        unit="m",
        source="geometry; your own lowest ceiling",
        remedy=remedy,
        decides=OWNER,
        task=TASK,
    )


def openings(brief: Brief, sound: RoomSound) -> Finding | None:
    """Door and window belong outside the first reflections."""
    if not sound.keep_free:
        return None
    walls = "; ".join(
        f"side {s.side} from {format_length(s.start, brief.units)} to {format_length(s.end, brief.units)}" for s in sound.keep_free
    )
    where = "measured along the wall from its end nearest the corner of sides 4 and 1"
    blocked = " and ".join(f"the {opening.kind} on side {opening.side}" for opening in sound.blocked)
    verb = "stand" if len(sound.blocked) > 1 else "stands"
    if blocked:
        title = f"{blocked[0].upper()}{blocked[1:]} {verb} where loudspeaker sound first strikes the wall"
    else:
        title = f"Keep door and window out of the first reflections: {walls}"
    return Finding(
        rule="sound-openings",
        severity=Severity.CAUTION if blocked else Severity.NOTE,
        title=title,
        measured=None,
        limit=None,
        unit="",
        source=f"mirror images; {load('acoustics')['layout']['source_early']}",
        remedy=f"Free for absorbers, {where}: {walls}. Where a door or window cannot move, hang a thick curtain or a panel on the leaf; "
        "on the way out nothing that hides or hinders it.",
        decides=OWNER,
        task="frame",
    )


def way_out(brief: Brief, sound: RoomSound) -> Finding | None:
    """Nothing stands before the way out or in the door's swing, and one walks from one to the other."""
    if not sound.in_way and sound.way_free:
        return None
    before = "; ".join(
        f"the {opening.kind} on side {opening.side} has {' and '.join(name for name, other in sound.in_way if other == opening)} before it"
        for opening in dict.fromkeys(opening for _, opening in sound.in_way)
    )
    if before:
        title = f"The room has no place for all that should stand in it and keep the way out free: {before}"
    else:
        title = "What should stand in the room leaves no way from the door to the way out"
    passage = format_length(load("acoustics")["layout"]["passage"], brief.units)
    return Finding(
        rule="sound-way-out",
        severity=Severity.CAUTION,
        title=title,
        measured=None,
        limit=None,
        unit="",
        source="geometry; widths: common practice, no source",
        remedy="The way out comes first: give up desk, loudspeakers or kit, take smaller ones, or build the room otherwise. Keep the "
        f"floor before door and way out free, and between them a way at least {passage} wide.",
        decides=OWNER,
        task="survey",
    )


def fastening(brief: Brief, sound: RoomSound) -> Finding | None:
    """Treatment must not bridge the walls, feed a fire or overload the lid."""
    if not sound.treatments:
        return None
    hung = f"Ceiling panels weigh about {sound.hung_mass:.0f} kg in all: tell whoever checks the joists. " if sound.hung_mass else ""
    return Finding(
        rule="sound-fastening",
        severity=Severity.CAUTION,
        title="Panels hang from the inner boards only, and what they are made of must not feed a fire",
        measured=None,
        limit=None,
        unit="",
        source="common practice, no source; interior-finish rules of the local code",
        remedy=f"{hung}Screws into the inner boards or their own framing, never through to joists or outer wall; anchors rated for "
        "the weight. Mineral wool and fabric with a stated fire rating; no bare foam plastic. Wrap wool so that it sheds no fibres.",
        decides="building official",
        task=TASK,
    )


def layout_fits(brief: Brief, sound: RoomSound) -> Finding | None:
    """The room is too small for what should stand in it."""
    if sound.layout.fits:
        return None
    return Finding(
        rule="sound-layout",
        severity=Severity.CAUTION,
        title="The room is tight for what should stand in it: "
        + ", ".join(name for name in sound.layout.names if "loudspeaker" not in name),
        measured=None,
        limit=None,
        unit="",
        source=load("acoustics")["layout"]["source_listening"],
        remedy="Mark the places on the slab with tape before framing and stand in them; give up one of them or make the room larger.",
        decides=OWNER,
        task="survey",
    )


def _bass(now: Size, size: Size) -> str:
    """What a smaller room buys; one may be worth listing for its proportions alone."""
    before, after = f"{now.roughness:.1f} dB", f"{size.roughness:.1f} dB"
    if before == after:
        return f"comes inside the recommended range, with bass as even as planned ({before} from even)"
    outside = "" if size.standard else " (outside the recommended range)"
    return f"makes the bass smoother, {after} from even in place of {before}{outside}"


def _sizes(brief: Brief, now: Size, better: list[Size]) -> str:
    """The sizes worth building in place of the one planned, with the floor that each costs."""
    if not better:
        return "No smaller room within this shell would do clearly better: build it as large as it can be and treat it."
    said = [
        f"{format_length(size.length, brief.units)} × {format_length(size.width, brief.units)} costs {format_area(size.lost, brief.units)} "
        f"of floor and {_bass(now, size)}"
        for size in better
    ]
    return f"Smaller rooms within this shell: {'; '.join(said)}. Or keep the floor and treat the room."
