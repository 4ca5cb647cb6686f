"""The basement as found: its sides, the slab, what is overhead, what lies above."""

from __future__ import annotations

from functools import partial

from calc.units import SMALL_LENGTH
from wizard.interview.question import SIDE_IDS, Choice, Kind, Question, Unknown, Values
from wizard.interview.topics import carrying, overhead

SIDE_CHOICES = (
    Choice("foundation_below", "foundation wall, all below ground"),
    Choice("foundation_above", "foundation wall, partly above ground"),
    Choice("open", "open to the rest of the basement"),
    Choice("party", "party wall with an attached neighbour"),
)
SIDE_PLACES = ("the first long side", "the short side to its right", "the second long side", "the short side to its left")
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
        "Ground level outside tells how much of a wall is buried. A light inner wall counts as open.",
        kind=Kind.CHOICE,
        choices=SIDE_CHOICES,
        default=partial(side_default, number),
    )


def has_foundation(values: Values) -> bool:
    """One of the sides is a foundation wall."""
    return any(values.word(side).startswith("foundation") for side in SIDE_IDS)


def has_party_wall(values: Values) -> bool:
    """One of the sides is shared with a neighbour."""
    return any(values.word(side) == "party" for side in SIDE_IDS)


QUESTIONS = (
    *(_side(number) for number in (1, 2, 3, 4)),
    Question(
        id="party_wall",
        topic="shell",
        title="Wall to the neighbour",
        text="What is the wall to the neighbour made of?",
        why="Its weight stops most of what goes straight through, and sound runs along it to the rooms above and beside it.",
        how="Look at a bare patch, at a pipe hole or up in the joist bays, and knock: a hollow block sounds dull and shows a joint every "
        "16 in (400 mm), brick shows small courses. The neighbour or the building department may have drawings.",
        kind=Kind.CHOICE,
        choices=(
            Choice("poured concrete", "poured concrete", "about 8 in (200 mm)"),
            Choice("solid block", "solid or filled concrete block", "about 7 1/2 in (190 mm)"),
            Choice("hollow block", "hollow concrete block", "about 7 1/2 in (190 mm)"),
            Choice("brick", "solid brick", "one brick thick, about 8 1/2 in (215 mm)"),
        ),
        default="hollow block",
        unknown=Unknown(
            "hollow block",
            "Hollow block is assumed, the lightest of these; a wall of studs and boards, or of one thin skin of brick, stops less.",
        ),
        applies=has_party_wall,
        when="a side is a party wall",
    ),
    Question(
        id="foundation",
        topic="shell",
        title="Foundation wall",
        text="What are the foundation walls made of?",
        why="Weight stops sound, and each kind keeps water out differently.",
        how="Look at a bare patch. Smooth with board marks: poured. A grid of joints 16 by 8 in (400 by 200 mm): block. Where there are "
        "two kinds, name the lighter.",
        kind=Kind.CHOICE,
        choices=(
            Choice("poured concrete", "poured concrete"),
            Choice("hollow block", "hollow concrete block"),
            Choice("brick or stone", "brick or stone"),
            Choice("wood", "treated wood frame"),
        ),
        default="hollow block",
        unknown=Unknown("hollow block", "Hollow block is assumed, the lighter of the usual two."),
        applies=has_foundation,
        when="a side is a foundation wall",
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
            lambda values: min(0.1524, FOUNDATION_THICKNESS[values.word("foundation")]), "A thin wall of 6 in (152 mm) or less is assumed."
        ),
        applies=has_foundation,
        when="a side is a foundation wall",
    ),
    Question(
        id="foundation_state",
        topic="shell",
        title="State of the foundation walls",
        text="Are the foundation walls cracked, bowed or leaning?",
        why="A wall that moves is cured before an inner wall hides it. One that bows or leans stops everything until an engineer "
        "has looked.",
        how="Sight along each wall with a lamp held close to it, hold a long straight board and a plumb line to it, and look for cracks, "
        "steps in the joints and white bloom.",
        kind=Kind.CHOICE,
        choices=(
            Choice("sound", "sound: straight, and no crack wider than a hair"),
            Choice("cracked", "cracked, but straight and upright"),
            Choice("bowed", "bowed or leaning"),
        ),
        default="unknown",
        unknown=Unknown("unknown", "The plan asks somebody to look before a wall hides them."),
        applies=has_foundation,
        when="a side is a foundation wall",
    ),
    *overhead.QUESTIONS,
    *carrying.QUESTIONS,
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
        how="Look up. Where only a part is boarded, say boards.",
        kind=Kind.CHOICE,
        choices=(Choice("bare", "nothing, the joists are bare"), Choice("boarded", "boards, plaster or tiles")),
        default="unknown",
        unknown=Unknown("unknown", "Boards that must come down are assumed."),
    ),
)
