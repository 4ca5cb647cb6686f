"""Boxes round what hangs below the lid: their size, what they hang from, the weight on each clip, their take-off."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, lru_cache

from calc.brief import Brief
from calc.catalogue import load
from calc.geometry import Room
from calc.headroom import boxed_width, soffit_layers, soffit_sides
from calc.materials import quantities as q
from calc.materials.items import lumber_item, screw_item
from calc.materials.line import Line, cut, line, run
from calc.materials.surface import LID_SCREWS, STEEL_PENETRATION, board_lines, fill_lines, support_lines
from calc.materials.wall import PLATE
from calc.scheme import LidOption, Ply
from calc.structure import clip_rating, clip_weight, framing_step, hung_on_clips

SOFFIT_ROWS = 0.6096  # m between the ribs of a soffit. Common practice, no source
HANGING = {"isolation clip": "isolation_clip", "resilient channel": "channel_screw"}  # what holds a row, by what carries the lid
OVER = "rows over the "


@cache
def soffit_boards() -> tuple[Ply, ...]:
    """The boards of the soffit that headroom counts: its layers that name a material and a ply."""
    return tuple(Ply(each.name.split(",")[0], each.thickness, each.surface_mass) for each in soffit_layers() if each.name.endswith(" ply"))


@dataclass(frozen=True)
class Soffit:
    """A box along the room [m]: ``side`` is the height of each framed side, ``width`` that of its bottom, ``step`` between its ribs.

    ``ends``: how many of its ends stand free of a wall and get boards.
    """

    where: str
    length: float
    side: float
    width: float
    ends: int = 0
    step: float = SOFFIT_ROWS

    @property
    def area(self) -> float:
        """Both sides, the bottom and the free ends [m2]."""
        return (self.width + 2.0 * self.side) * self.length + self.ends * self.width * self.side


def soffits(brief: Brief, room: Room, option: LidOption) -> tuple[Soffit, ...]:
    """Boxes round beams, ducts and pipes, as headroom counts them. One that would end above the lid is hidden by it and needs no box.

    They run the longer way, from a wall as far as was measured. Moving an obstruction is advice; the plan boxes it in.
    """
    across, short = (room.length, room.width) if brief.shell.length >= brief.shell.width else (room.width, room.length)
    lid = brief.shell.height - option.height_taken
    layers = sum(layer.thickness for layer in soffit_layers())
    sides = [(each, lid - (each.underside - layers)) for each in brief.shell.obstructions]
    return tuple(
        Soffit(f"soffit round a {each.kind}", each.run(across), side, min(boxed_width(each), short), int(each.run(across) < across))
        for each, side in sides
        if side > 0.0 and option.plies
    )


@dataclass(frozen=True)
class SoffitRows:
    """The two rows of channel that a soffit hangs from, one over each long side.

    ``step``: from one clip (or screw, under resilient channel) to the next [m]; ``load``: the most that one carries [N].
    """

    soffit: Soffit
    step: float
    load: float

    @property
    def where(self) -> str:
        return f"{OVER}{self.soffit.where}"


def soffit_rows(brief: Brief, room: Room, option: LidOption) -> tuple[SoffitRows, ...]:
    """What the soffits of a lid on channel hang from; none where the lid stands on its own joists or is screwed to those of the house.

    Clips come as close as their rating asks, on every joist at the closest: ``load`` may then still be above it.
    """
    if option.support not in HANGING:
        return ()
    rating = clip_rating(brief.site)
    return tuple(_rows(each, option, brief.shell.joists.spacing, rating) for each in soffits(brief, room, option))


@lru_cache(maxsize=1024)
def _rows(soffit: Soffit, option: LidOption, framing: float, rating: float) -> SoffitRows:
    """Source: geometry; the rows cross the joists, which stand every ``framing`` [m]."""
    mass = _hung(soffit, option)
    most = max(1, framing_step(option.clip_spacing, framing)) if option.support == "isolation clip" else 1
    step = next((n for n in range(most, 1, -1) if clip_weight(mass, 1.0, n * framing) <= rating), 1) * framing
    return SoffitRows(soffit, step, clip_weight(mass, 1.0, step))


def _hung(soffit: Soffit, option: LidOption) -> float:
    """Mass on a metre of one row [kg/m]: a framed side with its boards and fill, half the bottom, half of what closes a free end, and the
    lid as far as half way to its next row. Source: geometry; masses of data/rules.toml, data/options.toml and data/materials.toml.
    """
    frame, boards = soffit_sides().frame, sum(ply.surface_mass for ply in soffit_boards())
    bottom = sum(layer.surface_mass for layer in soffit_layers())
    wood = float(load("materials")["material"]["solid wood"]["density"]) * frame * PLATE
    ribs = q.rows(soffit.length, soffit.step) * soffit.side / soffit.length
    fill = float(load("options")["fill"]["density"]) * frame
    side = (boards + fill) * soffit.side + wood * (2.0 + ribs)
    end = boards * soffit.ends * soffit.width * soffit.side / (2.0 * soffit.length)
    return side + bottom * soffit.width / 2.0 + end + hung_on_clips(option) * option.support_spacing / 2.0


def box_lines(brief: Brief, room: Room, option: LidOption) -> list[Line]:
    """Everything of the soffits, with the rows that they hang from."""
    hung, found = option.support in HANGING, list[Line]()
    for soffit in soffits(brief, room, option):
        found += _soffit_lines(soffit, hung)
    for rows in soffit_rows(brief, room, option):
        found += _row_lines(rows, option.support, brief.shell.joists.spacing)
    return found


@lru_cache(maxsize=1024)
def _row_lines(rows: SoffitRows, support: str, framing: float) -> tuple[Line, ...]:
    """Two rows along the box with their clips, and the screws up through the top rails into them."""
    box = rows.soffit
    screw = screw_item(PLATE, STEEL_PENETRATION)
    held = line(screw, rows.where, 2 * q.rows(box.length, LID_SCREWS), "clips_channel")
    return (*support_lines(support, rows.where, box.width, box.length, box.width, rows.step, framing), held)


@lru_cache(maxsize=256)
def _soffit_lines(soffit: Soffit, hung: bool) -> tuple[Line, ...]:
    """Two framed sides with fill, a bottom on channel and clips, boards, at a free end too.

    ``hung``: from the lid's channel, so that frame and fill wait for it; else framed and filled with the walls.
    """
    where, rows, long = soffit.where, q.rows(soffit.length, soffit.step), soffit.length
    edges = 2.0 * long + soffit.ends * soffit.width
    frame = soffit_sides().frame
    framed, filled = ("clips_channel", "clips_channel") if hung else ("frame", "insulate")
    found = [
        run(lumber_item(frame, "wood"), where, 4, long, framed),
        cut(lumber_item(frame, "wood"), where, 2 * rows, soffit.side, framed),
        line("wood_screw", where, 6 * rows, framed),
        line("furring_channel", where, rows * soffit.width, "boards_first"),
        line("isolation_clip", where, 2 * rows, "boards_first"),
    ]
    found += fill_lines("glass fibre", frame, where, 2.0 * soffit.side * long, soffit.step, filled)
    return (*found, *board_lines(soffit_boards(), where, soffit.area, edges, soffit.step, LID_SCREWS, False, False, 2.0))
