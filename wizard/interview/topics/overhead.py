"""What takes height overhead: the slab's high spots, corners, beams, ducts, pipes and slopes."""

from __future__ import annotations

from collections.abc import Callable

from calc.catalogue import load
from calc.units import ROOM_LENGTH, SMALL_LENGTH
from wizard.interview.question import Choice, Kind, Question, Unknown, Values
from wizard.interview.topics.first import longer_side

KINDS = ("beam", "duct", "pipe", "slope")
FIXED = ("beam", "slope")  # part of the house: never moved
CORNERS = ("corner_1", "corner_2", "corner_3", "corner_4")
MIDDLE = "corner_middle"


def has(kind: str) -> Callable[[Values], bool]:
    """The question applies when this kind of obstruction was chosen."""
    return lambda values: kind in values.words("obstructions")


def under_joists(drop: float) -> Callable[[Values], float]:
    """A height that far below the joists."""
    return lambda values: max(values.number("shell_height") - drop, 1.2)


def low(kind: str) -> Callable[[Values], bool]:
    """Boxed in, it may come lower than a door's frame or the ceiling that was asked for: then it matters what lies under it."""

    def reaches_a_head(values: Values) -> bool:
        if kind not in values.words("obstructions"):
            return False
        rules, floors = load("rules"), load("options")["floor"].values()
        box = sum(float(layer["thickness"]) for layer in rules["soffit"])
        floor = max(sum(float(layer["thickness"]) for layer in each["layers"]) for each in floors)
        tall = max(float(rules["door_head"]["leaf"] + rules["door_head"]["frame"]), values.number("lowest_ceiling"))
        return values.number(f"{kind}_underside") - box - floor - values.number("slab_unevenness") < tall

    return reaches_a_head


def in_corners(values: Values) -> bool:
    return values.word("corners_measured") == "yes"


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
        unknown=Unknown(
            under_joists(drop + 0.05), f"It is taken to hang {drop + 0.05:.2f} m ({(drop + 0.05) / 0.0254:.0f} in) below the joists."
        ),
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


def _place(kind: str, plain: str) -> Question:
    return Question(
        id=f"{kind}_place",
        topic="shell",
        title=f"Under the {plain}",
        text=f"What lies under the {plain}?",
        why="Where people walk or a door opens, a low strip is met with the head, and the full limits hold. Over a desk or "
        "a shelf it may be lower.",
        how=f"Hold a plumb line from both edges of the {plain} and mark the strip on the floor with tape; then see what you mean to do "
        "there. Choose the first that fits.",
        kind=Kind.CHOICE,
        choices=(
            Choice("walking route", "a way that people walk"),
            Choice("door", "the door of the room"),
            Choice("desk", "a desk or a seat", "people sit there"),
            Choice("side", "a side or corner that nobody walks into", "shelves, racks, a store"),
        ),
        default="unknown",
        unknown=Unknown("unknown", "The plan asks again before the room is laid out."),
        applies=low(kind),
        when=f"a {kind} comes down to where a tall head may meet it",
    )


def _length(kind: str, plain: str) -> Question:
    return Question(
        id=f"{kind}_length",
        topic="shell",
        title=f"Length of the {plain}",
        text=f"How far does the {plain} run through the area?",
        why="Floor under a low part counts less, or not at all, towards the least size of a living space.",
        how="Hold the tape on the floor under it, from where it enters the area to where it leaves or ends.",
        kind=Kind.QUANTITY,
        unit=ROOM_LENGTH,
        low=0.1,
        high=30.0,
        usual=f"a {kind} usually runs {{}} to {{}} through the area",
        typical=(1.2192, 9.144),
        default=longer_side,
        unknown=Unknown(longer_side, "It is taken to run through the whole area."),
        applies=lambda values: has(kind)(values) and values.word("habitable") != "no",
        when=f"a {kind} hangs below the joists, and the room counts as living space or may",
    )


def _corner(key: str, title: str, where: str) -> Question:
    return Question(
        id=key,
        topic="shell",
        title=title,
        text=f"How high is it from the slab to the underside of the joists {where}?",
        why="A slab that falls to a drain and joists that sag show only in several places.",
        how="Stand the tape plumb on the bare slab, an arm's length from both walls, and read at the underside of the nearest joist."
        if key != MIDDLE
        else "Stand the tape plumb on the bare slab where the two diagonals cross, and read at the underside of the nearest joist.",
        kind=Kind.QUANTITY,
        unit=ROOM_LENGTH,
        low=1.5,
        high=4.5,
        usual="a basement usually has {} to {} under the joists",
        typical=(1.9812, 2.7432),
        default="",
        unknown=Unknown(
            "", "The corners are left out of the plan until all four are measured." if key != MIDDLE else "The corners alone are used."
        ),
        applies=in_corners,
        when="the height was measured in the corners",
    )


SLOPE = (
    Question(
        id="slope_underside",
        topic="shell",
        title="Underside of the slope",
        text="How high above the slab is the sloping part at its lowest?",
        why="Where it is very low it counts for nothing as floor area, and nobody can stand there.",
        how="Stand the tape on the bare slab where the sloping part comes lowest inside the area, and read at its underside.",
        kind=Kind.QUANTITY,
        unit=ROOM_LENGTH,
        low=0.5,
        high=4.5,
        usual="under stairs or a bulkhead it is usually {} to {}",
        typical=(1.2192, 2.1336),
        default=under_joists(0.6),
        unknown=Unknown(1.2192, "4 ft (1.22 m) is assumed: too low to count."),
        applies=has("slope"),
        when="a part of the ceiling slopes",
    ),
    Question(
        id="slope_width",
        topic="shell",
        title="Width of the slope",
        text="How far does the sloping part reach, along the floor, from its lowest edge to where the ceiling has its full height?",
        why="The floor under it counts less, or not at all, towards the least size of a living space.",
        how="Hold a plumb line from the edge where the slope ends and measure along the floor, square to that edge, to its lowest edge.",
        kind=Kind.QUANTITY,
        unit=ROOM_LENGTH,
        low=0.1,
        high=10.0,
        usual="it usually reaches {} to {}",
        typical=(0.6096, 3.048),
        default=1.2192,
        unknown=Unknown(1.8288, "6 ft (1.83 m) is assumed."),
        applies=has("slope"),
        when="a part of the ceiling slopes",
    ),
)


QUESTIONS = (
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
        unknown=Unknown(0.0254, "1 in (25 mm) is assumed lost to it."),
    ),
    Question(
        id="corners_measured",
        topic="shell",
        title="Height in the corners",
        text="Have you measured the height to the joists in the four corners?",
        why="One height cannot show that the slab falls or a joist sags. Four, better five, show where the ceiling will be lowest.",
        how="Five readings with a tape or a laser take ten minutes. Say yes when you have them beside you; you can come back.",
        kind=Kind.CHOICE,
        choices=(Choice("no", "no, only the height given before"), Choice("yes", "yes")),
        default="no",
        unknown=Unknown("no", "The height to the joists given before is taken to hold everywhere."),
    ),
    _corner("corner_1", "Corner of sides 1 and 2", "near the corner of sides 1 and 2"),
    _corner("corner_2", "Corner of sides 2 and 3", "near the corner of sides 2 and 3"),
    _corner("corner_3", "Corner of sides 3 and 4", "near the corner of sides 3 and 4"),
    _corner("corner_4", "Corner of sides 4 and 1", "near the corner of sides 4 and 1"),
    _corner(MIDDLE, "Middle of the area", "in the middle"),
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
            Choice("beam", "a beam", "of steel or thick wood: the joists rest on it"),
            Choice("duct", "an air duct"),
            Choice("pipe", "a pipe"),
            Choice("slope", "a part of the ceiling that slopes"),
        ),
        default=("none",),
        unknown=Unknown(("beam", "duct"), "A beam and a duct are assumed, as in most basements."),
    ),
    _underside("beam", "beam", 0.20),
    _place("beam", "beam"),
    _width("beam", "beam", 0.20),
    _length("beam", "beam"),
    _underside("duct", "duct", 0.20),
    _place("duct", "duct"),
    _width("duct", "duct", 0.50),
    _movable("duct", "duct"),
    _length("duct", "duct"),
    _underside("pipe", "pipe", 0.10),
    _place("pipe", "pipe"),
    _width("pipe", "pipe", 0.10),
    _movable("pipe", "pipe"),
    _length("pipe", "pipe"),
    *SLOPE,
    _place("slope", "slope"),
    _length("slope", "slope"),
)
