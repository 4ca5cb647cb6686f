"""The details of what hangs: clip and channel, and the soffit round what is in the way."""

from __future__ import annotations

from calc.assess import Assessment
from calc.brief import Obstruction
from calc.catalogue import load
from calc.headroom import ZoneHeight, soffit_layers, soffit_sides
from calc.materials.items import screw_item
from calc.materials.soffit import soffit_boards
from calc.materials.surface import STEEL_PENETRATION
from wizard.figures.detail import GAP, Detail, boards_words, detail
from wizard.figures.figure import Figure
from wizard.figures.layers import lid_below
from wizard.figures.parts import CHANNEL_DEEP
from wizard.figures.svg import HIDDEN, WHITE, Pen

BESIDE = 0.12  # m of lid shown beside a soffit
SHEET = Pen(0.5)
SCREW = Pen(0.7)


def clip_and_channel(a: Assessment, units: str) -> Figure:
    """Along a joist or stud, so that the channel shows its profile; of the lid where it hangs on one, else of a wall."""
    lid = a.scheme.lid
    on_lid = lid.support in ("resilient channel", "isolation clip")
    wall = next((w for _, w in a.scheme.walls if w.support in ("resilient channel", "isolation clip")), None)
    support = lid.support if on_lid or wall is None else wall.support
    plies = lid.plies if on_lid or wall is None else wall.inner_plies
    drop = float(load("options")["wall"]["support"][support])
    if on_lid:
        drop = sum(layer.thickness for layer in lid_below(lid) if layer.part == "support")
    deep = sum(ply.thickness for ply in plies)
    size = (0.20, 0.05 + drop + deep + 0.012)
    face = 0.012
    screw = float(screw_item(deep, STEEL_PENETRATION).facts["length"])
    reaches = screw > deep + drop  # the shortest that bites the channel is so long that it would bite what lies behind, too

    def draw(d: Detail) -> None:
        top = face + deep + drop
        d.paint("timber", 0.0, top, size[0], size[1])
        at = face + deep
        for ply in plies:
            d.paint("gypsum", 0.0, at - ply.thickness, size[0], at)
            at -= ply.thickness
        seat = face + deep
        (_clip if support == "isolation clip" else _z_channel)(d, seat, drop)
        x = 0.115 if support == "isolation clip" else 0.125
        d.view.line(x, face, x, face + screw, SCREW)
        d.view.line(x - 0.004, face, x + 0.004, face, SCREW)
        bears = "joist" if on_lid else "stud"
        behind = f"it would reach the {bears}: set screws between the {bears}s only" if reaches else f"it must not reach the {bears}"
        screw_words = f"screw of {d.length(screw)} through all plies, never longer: {behind}"
        d.note(0.03, top + 0.03, f"{bears}, seen along its length")
        d.note(x, face + 0.35 * deep, screw_words)
        d.note(0.17, face + 0.6 * deep, f"{boards_words([ply.thickness for ply in plies], d)}, screwed to the channel only")
        rows = lid.support_spacing if on_lid or wall is None else wall.support_spacing
        along = lid.clip_spacing if on_lid or wall is None else wall.clip_spacing
        if support == "isolation clip":
            clip_words = f"clip: steel held in rubber; the rubber alone meets the {bears}; clip and channel take {d.length(drop)}"
            d.note(0.100, top - 0.25 * (drop - 0.012), clip_words)
            d.note(
                0.062,
                seat + 0.002,
                f"furring channel in rows {d.length(rows)} apart, clips {d.length(along)} along a row; "
                "its test report says what one carries",
            )
        else:
            d.note(
                0.080,
                seat + 0.5 * drop,
                f"resilient channel in rows {d.length(rows)} apart, open side the same way throughout; "
                f"one leg only is screwed to the {bears}; it takes {d.length(drop)}",
            )

    return detail(a, units, "detail-clip-channel", "Clip and channel" if support == "isolation clip" else "Channel", size, draw)


def _clip(d: Detail, seat: float, drop: float, x: float = 0.100) -> None:
    """A furring channel in cross section about ``x``, hugged by a clip with its rubber."""
    top, deep = seat + drop, min(CHANNEL_DEEP, drop - 0.010)
    d.paint("foam", x - 0.018, top - 0.014, x + 0.018, top)
    profile = [(-0.042, 0.0008), (-0.027, 0.0008), (-0.018, deep), (0.018, deep), (0.027, 0.0008), (0.042, 0.0008)]
    d.view.canvas.path([d.view.at(x + across, seat + y) for across, y in profile], SHEET)
    clip = [(-0.034, 0.004), (-0.026, deep + 0.004), (0.026, deep + 0.004), (0.034, 0.004)]
    d.view.canvas.path([d.view.at(x + across, seat + y) for across, y in clip], Pen(0.8))
    d.view.line(x, top - 0.016, x, min(top + 0.035, d.size[1]), SCREW)
    d.looks.add("steel")


def _z_channel(d: Detail, seat: float, drop: float, x: float = 0.100) -> None:
    """A resilient channel in cross section about ``x``: a leg at the framing, a leg at the boards, a thin web between."""
    profile = [(-0.050, drop - 0.0004), (-0.015, drop - 0.0004), (0.0, 0.0006), (0.050, 0.0006), (0.050, 0.004)]
    d.view.canvas.path([d.view.at(x + across, seat + y) for across, y in profile], SHEET)
    d.view.line(x - 0.035, seat + drop - 0.002, x - 0.035, min(seat + drop + 0.025, d.size[1]), SCREW)
    d.looks.add("steel")


ROWS = {"isolation clip": _clip, "resilient channel": _z_channel}
HUNG = {  # the framed sides of a soffit, by what carries the lid
    "isolation clip": "from a row of the lid's channel on its clips over each",
    "resilient channel": "from a row of the lid's channel over each",
    "independent joists": "from the lid's own joists",
    "absent": "from the joists, as this lid does",
}


def soffit(a: Assessment, units: str, zone: ZoneHeight, thing: Obstruction) -> Figure:
    """The box round the obstruction that comes lowest."""
    shell, lid = a.brief.shell, a.scheme.lid
    sides, layers = soffit_sides(), soffit_layers()
    gap, skin, side = sides.gap, sides.skin, sides.frame + sides.skin
    down = sum(layer.thickness for layer in layers)
    lid_at = shell.height - lid.height_taken
    low = thing.underside - down
    wide = min(thing.width, 0.60)
    size = (wide + 2.0 * (gap + side) + 2.0 * BESIDE, shell.height + 0.10 - low + 0.06)

    def draw(d: Detail) -> None:
        base = low - 0.06  # height of the window's foot over the slab

        def y(height: float) -> float:
            return height - base

        x0 = BESIDE + side + gap
        d.paint("timber", 0.0, y(shell.height), size[0], size[1])
        below = lid_below(lid)
        board = sum(layer.thickness for layer in below if layer.part in ("board", "compound"))
        for start, end, frame in ((0.0, BESIDE + skin, sides.frame), (size[0], size[0] - BESIDE - skin, -sides.frame)):
            at, open_ = shell.height, GAP if frame > 0.0 else -GAP
            for part in below:
                if part.part == "own":  # it reaches over the framed side that hangs from it
                    d.paint("timber", start, y(at - part.thickness), end + frame, y(at))
                elif part.part in ("board", "compound"):
                    d.paint(part.look, start, y(at - part.thickness), end - open_, y(at))
                    d.paint("sealant", end - open_, y(at - part.thickness), end, y(at))
                at -= part.thickness
            if lid.support in ROWS:
                ROWS[lid.support](d, y(lid_at + board), shell.height - lid_at - board, end + 0.3 * frame)
        d.view.canvas.rect(d.view.box(x0, y(thing.underside), x0 + wide, y(shell.height)), HIDDEN, WHITE)
        at = thing.underside
        for layer in layers:
            if "channel" in layer.name:
                d.paint("steel", x0 - gap - 0.01, y(at - layer.thickness), x0 + wide + gap + 0.01, y(at))
            elif "gypsum" in layer.name:
                d.paint("gypsum", x0 - gap - side, y(at - layer.thickness), x0 + wide + gap + side, y(at))
            at -= layer.thickness
        foot = low + skin
        for left in (x0 - gap - sides.frame, x0 + wide + gap):
            d.paint("wood", left, y(foot), left + sides.frame, y(foot + 0.038))
            d.paint("fibre", left, y(foot + 0.038), left + sides.frame, y(lid_at + board - 0.038))
            d.paint("wood", left, y(lid_at + board - 0.038), left + sides.frame, y(lid_at + board))
        for left in (x0 - gap - side, x0 + wide + gap + sides.frame):
            d.paint("gypsum", left, y(foot + GAP), left + skin / 2.0, y(lid_at - GAP))
            d.paint("gypsum", left + skin / 2.0, y(foot + GAP), left + skin, y(lid_at - GAP))
            for edge in (foot, lid_at - GAP):
                d.paint("sealant", left, y(edge), left + skin, y(edge + GAP))
        cut = "" if wide == thing.width else f" (drawn narrower; it is {d.length(thing.width)} wide)"
        d.note(x0 + 0.5 * wide, y((thing.underside + shell.height) / 2.0), f"{thing.kind}, as found{cut}: nothing of the box touches it")
        d.note(x0 + 0.75 * wide, y(thing.underside - 0.5 * gap), f"clear gap of {d.length(gap)} under and beside it")
        d.note(
            x0 + 0.25 * wide,
            y(thing.underside - gap - 0.5 * layers[1].thickness),
            "channel on isolation clips, fixed beside it and never to it",
        )
        plies = boards_words([each.thickness for each in soffit_boards()], d)
        d.note(x0 - gap - side + 0.03, y(low + 0.004), f"{plies}; underside {d.length(zone.height)} above the finished floor")
        d.note(
            x0 + wide + gap + 0.5 * sides.frame,
            y(foot + 0.06),
            f"framed sides, filled; they hang {HUNG[lid.support]}, or are held by the inner frames",
        )
        d.note(x0 - gap - side + 0.01, y(lid_at - 0.5 * GAP), f"every edge {d.length(GAP)} open and sealed, that of the lid too")
        d.note(size[0] - 0.05, y(lid_at + 0.3 * board), f"lid: {d.own(lid.label)}")

    return detail(a, units, "detail-soffit", f"Soffit round the {thing.kind}", size, draw)
