"""The basement as found: sides, foundation, joists, what hangs below them."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from calc.catalogue import load
from calc.units import ROOM_LENGTH, SMALL_LENGTH
from wizard.interview.question import Choice, Kind, Question, Unknown, Values

SIDE_CHOICES = (
    Choice("foundation_below", "foundation wall, all below ground"),
    Choice("foundation_above", "foundation wall, partly above ground"),
    Choice("open", "open to the rest of the basement"),
    Choice("party", "party wall with an attached neighbour"),
)
SIDE_PLACES = ("the first long side", "the short side to its right", "the second long side", "the short side to its left")
JOISTS = load("joists")
SPECIES = tuple(Choice(key, entry["label"]) for key, entry in JOISTS["species"].items())
GRADES = tuple(Choice(key, label) for key, label in JOISTS["grade"].items())
FOUNDATION_THICKNESS = {
    "poured concrete": 0.2032,
    "hollow block": 0.2032,
    "brick or stone": 0.3048,
    "wood": 0.1397,
}  # common practice, no source


def side_default(number: int, values: Values) -> str:
    """Foundation below ground, but one open side for the door, and a party wall where a neighbour is attached."""
    if number == 1 and "attached_neighbour" in values.words("listeners"):
        return "party"
    return "open" if number == 3 else "foundation_below"


def _side(number: int) -> Question:
    return Question(
        id=f"side_{number}",
        topic="shell",
        title=f"Side {number}",
        text=f"What stands on side {number}, {SIDE_PLACES[number - 1]}?",
        why="Earth stops sound; a window well, a thin partition or a neighbour's wall does not. Each kind of side gets its own wall.",
        how="Stand in the middle and face one long side: that is side 1. Turn right for sides 2, 3 and 4. "
        "Ground level outside tells how much of the wall is buried.",
        kind=Kind.CHOICE,
        choices=SIDE_CHOICES,
        default=partial(side_default, number),
    )


def has(kind: str) -> Callable[[Values], bool]:
    """The question applies when this kind of obstruction was chosen."""
    return lambda values: kind in values.words("obstructions")


def under_joists(drop: float) -> Callable[[Values], float]:
    """A height that far below the joists."""
    return lambda values: max(values.number("shell_height") - drop, 1.2)


def sawn(values: Values) -> bool:
    return values.word("joist_kind") in ("sawn", "unknown")


def _underside(kind: str, plain: str, drop: float) -> Question:
    return Question(
        id=f"{kind}_underside",
        topic="shell",
        title=f"Underside of the {plain}",
        text=f"How high above the slab is the underside of the lowest {plain}?",
        why="It must be boxed in, so the ceiling there is lower still. The codes have their own limit under beams and ducts.",
        how="Stand the tape on the bare slab and read at the lowest point of it, with its wrapping and hangers.",
        kind=Kind.QUANTITY,
        unit=ROOM_LENGTH,
        low=1.2,
        high=4.5,
        usual="it must lie under the joists, usually {} to {} above the slab",
        typical=(1.8288, 2.4384),
        default=under_joists(drop),
        unknown=Unknown(under_joists(drop + 0.05), f"It is taken to hang {drop + 0.05:.2f} m below the joists; measure before you decide."),
        applies=has(kind),
        when=f"a {kind} hangs below the joists",
    )


def _width(kind: str, plain: str, width: float) -> Question:
    return Question(
        id=f"{kind}_width",
        topic="shell",
        title=f"Width of the {plain}",
        text=f"How wide is the {plain}?",
        why="A narrow low strip is allowed where a wide one counts as the ceiling.",
        how="Hold the tape across its underside, edge to edge, with wrapping.",
        kind=Kind.QUANTITY,
        unit=SMALL_LENGTH,
        low=0.01,
        high=2.5,
        usual=f"a {kind} is usually {{}} to {{}} wide",
        typical=(0.0508, 1.016),
        default=width,
        unknown=Unknown(1.5 * width, "A wide one is assumed."),
        applies=has(kind),
        when=f"a {kind} hangs below the joists",
    )


def _movable(kind: str, plain: str) -> Question:
    return Question(
        id=f"{kind}_movable",
        topic="shell",
        title=f"Can the {plain} be moved",
        text=f"Can the {plain} be moved or raised between the joists?",
        why="Moving it often wins back more height than any thinner ceiling.",
        how="Ask a trade who knows it before you count on it. Gas pipes are for a licensed fitter only.",
        kind=Kind.CHOICE,
        choices=(Choice("yes", "yes"), Choice("no", "no")),
        default="no",
        unknown=Unknown("no", "It is taken to stay where it is."),
        applies=has(kind),
        when=f"a {kind} hangs below the joists",
    )


QUESTIONS = (
    *(_side(number) for number in (1, 2, 3, 4)),
    Question(
        id="foundation",
        topic="shell",
        title="Foundation wall",
        text="What are the foundation walls made of?",
        why="Weight stops sound, and each kind keeps water out differently.",
        how="Look at a bare patch. Smooth with board marks: poured. A grid of joints 16 by 8 in (400 by 200 mm): block.",
        kind=Kind.CHOICE,
        choices=(
            Choice("poured concrete", "poured concrete"),
            Choice("hollow block", "hollow concrete block"),
            Choice("brick or stone", "brick or stone"),
            Choice("wood", "treated wood frame"),
        ),
        default="hollow block",
        unknown=Unknown("hollow block", "Hollow block is assumed, the lighter of the usual two."),
    ),
    Question(
        id="foundation_thickness",
        topic="shell",
        title="Foundation thickness",
        text="How thick is the foundation wall?",
        why="It adds to the sound insulation of each foundation side.",
        how="Measure at a window or a pipe hole, from face to face, without lining.",
        kind=Kind.QUANTITY,
        unit=SMALL_LENGTH,
        low=0.09,
        high=1.0,
        usual="a foundation wall is usually {} to {} thick",
        typical=(0.2032, 0.3048),
        default=lambda values: FOUNDATION_THICKNESS[values.word("foundation")],
        unknown=Unknown(
            lambda values: min(0.1524, FOUNDATION_THICKNESS[values.word("foundation")]), "A thin wall is assumed (6 in, 152 mm, or less)."
        ),
    ),
    Question(
        id="slab_unevenness",
        topic="shell",
        title="Slab out of level",
        text="How much do the high and low spots of the slab differ?",
        why="The floor must be levelled first, and the lowest ceiling stands over the highest spot.",
        how="Lay a long straight board on the slab in several places and measure the widest gap under it, or use a laser level.",
        kind=Kind.QUANTITY,
        unit=SMALL_LENGTH,
        low=0.0,
        high=0.15,
        usual="slabs usually differ by {} to {}",
        typical=(0.00635, 0.0254),
        default=0.0127,
        unknown=Unknown(0.0254, "One inch (25 mm) is assumed lost to it."),
    ),
    Question(
        id="joist_kind",
        topic="shell",
        title="Kind of joist",
        text="What kind of joists carry the floor above?",
        why="Engineered joists have their own rules: their maker's sheet decides what may hang from them, not a span table.",
        how="Solid planks are sawn lumber. A thin web with a thick flange above and below is an I-joist. Open triangles are a truss.",
        kind=Kind.CHOICE,
        choices=(Choice("sawn", "solid sawn lumber"), Choice("i-joist", "I-joist"), Choice("truss", "open-web truss")),
        default="sawn",
        unknown=Unknown("unknown", "The structural screen cannot pass: an engineer must look first."),
    ),
    Question(
        id="joist_breadth",
        topic="shell",
        title="Joist thickness",
        text="How thick (wide) is one joist?",
        why="With depth and spacing it gives the strength.",
        how="Hold the tape across the bottom edge of a joist.",
        kind=Kind.QUANTITY,
        unit=SMALL_LENGTH,
        low=0.03,
        high=0.16,
        usual="sawn joists are usually {} to {} thick",
        typical=(0.0381, 0.0508),
        default=0.0381,
        unknown=Unknown(0.0381, "1 1/2 in (38 mm) is assumed."),
    ),
    Question(
        id="joist_species",
        topic="shell",
        title="Wood of the joists",
        text="Which wood are the joists?",
        why="Strength differs by half between kinds of wood.",
        how="Look for the grade stamp on the side of a joist: it names the species, such as S-P-F, D FIR-L or HEM-FIR.",
        kind=Kind.CHOICE,
        choices=SPECIES,
        default="unknown",
        unknown=Unknown("unknown", "The weakest of the usual kinds is assumed."),
        applies=sawn,
        when="the joists are solid sawn lumber, or unknown",
    ),
    Question(
        id="joist_grade",
        topic="shell",
        title="Grade of the joists",
        text="Which grade is stamped on them?",
        why="The grade sets the strength within a kind of wood.",
        how="The same stamp says it, such as SEL STR, No. 1, No. 2, STAND. Old joists often have none.",
        kind=Kind.CHOICE,
        choices=GRADES,
        default="unknown",
        unknown=Unknown("unknown", "The weakest grade is assumed."),
        applies=sawn,
        when="the joists are solid sawn lumber, or unknown",
    ),
    Question(
        id="joist_damaged",
        topic="shell",
        title="Damage to the joists",
        text="Are there notches, large holes, cracks or rot in the joists?",
        why="A damaged joist must be repaired before anything is hung from it. No table covers it.",
        how="Look along every joist with a torch, most of all near pipes, ducts and the ends. Push a screwdriver into dark spots.",
        kind=Kind.CHOICE,
        choices=(Choice("no", "no, I looked at all of them"), Choice("yes", "yes, or I see something odd")),
        default="unknown",
        unknown=Unknown("unknown", "The structural screen stays open until somebody has looked."),
    ),
    Question(
        id="joists_may_be_touched",
        topic="shell",
        title="May the joists be used",
        text="May boards and clips be fixed to the joists and between them?",
        why="If not, the only ceiling is one that stands on its own walls.",
        how="A landlord, a heritage rule or a tenant above may forbid it.",
        kind=Kind.CHOICE,
        choices=(Choice("yes", "yes"), Choice("no", "no")),
        default="yes",
        unknown=Unknown("no", "The joists are left alone, which leaves fewer ceilings to choose from."),
    ),
    Question(
        id="subfloor",
        topic="shell",
        title="Subfloor",
        text="What lies directly on the joists, seen from below?",
        why="Gaps between old boards leak sound and need sealing first.",
        how="Look up between two joists. Wide sheets are plywood or strand board; strips with gaps are boards.",
        kind=Kind.CHOICE,
        choices=(Choice("plywood or OSB", "plywood or strand board sheets"), Choice("boards", "boards with joints")),
        default="plywood or OSB",
        unknown=Unknown("unknown", "Boards that need sealing are assumed."),
    ),
    Question(
        id="floor_above",
        topic="shell",
        title="Floor covering above",
        text="What is the floor covering in the room above?",
        why="Tile is heavy for the joists; carpet softens steps heard in your recordings.",
        how="Go up and look. Where there are several, name the heaviest.",
        kind=Kind.CHOICE,
        choices=(Choice("carpet", "carpet"), Choice("wood", "wood"), Choice("tile", "tile or stone"), Choice("vinyl", "vinyl or laminate")),
        default="unknown",
        unknown=Unknown("unknown", "The heaviest (tile) is assumed for the joists."),
    ),
    Question(
        id="room_above",
        topic="shell",
        title="Room above",
        text="What is the room above used for?",
        why="The codes give each use its own load, and a bedroom needs the most quiet.",
        how="Name the room over the largest part of the area.",
        kind=Kind.CHOICE,
        choices=(
            Choice("bedroom", "bedroom"),
            Choice("living", "living room, hall or office"),
            Choice("kitchen or bath", "kitchen or bathroom"),
        ),
        default=lambda values: "bedroom" if "bedroom_above" in values.words("listeners") else "living",
        unknown=Unknown("unknown", "The load of a living room is assumed."),
    ),
    Question(
        id="ceiling_texture",
        topic="shell",
        title="Ceiling now",
        text="What is under the joists now?",
        why="Old boards or plaster must come down first, may hide pipes, and in an older house may hold asbestos or lead.",
        how="Look up.",
        kind=Kind.CHOICE,
        choices=(Choice("bare", "nothing, the joists are bare"), Choice("boarded", "boards, plaster or tiles")),
        default="bare",
        unknown=Unknown("unknown", "Boards that must come down are assumed."),
    ),
    Question(
        id="obstructions",
        topic="shell",
        title="Below the joists",
        text="What hangs below the joists in this area? Choose all that apply.",
        why="One low beam or duct can decide the whole room.",
        how="Walk the area with a tape and look for the lowest of each kind.",
        kind=Kind.MULTI,
        choices=(
            Choice("none", "nothing"),
            Choice("beam", "a beam"),
            Choice("duct", "an air duct"),
            Choice("pipe", "a pipe"),
        ),
        default=("none",),
        unknown=Unknown(("beam", "duct"), "A beam and a duct are assumed, as in most basements."),
    ),
    _underside("beam", "beam", 0.20),
    _width("beam", "beam", 0.20),
    _underside("duct", "duct", 0.20),
    _width("duct", "duct", 0.50),
    _movable("duct", "duct"),
    _underside("pipe", "pipe", 0.10),
    _width("pipe", "pipe", 0.10),
    _movable("pipe", "pipe"),
)
