"""What carries: the joists over the room and what may hang from them, the slab under its walls."""

from __future__ import annotations

from calc.catalogue import load
from calc.units import SMALL_LENGTH
from wizard.interview.question import Choice, Kind, Question, Unknown, Values

JOISTS = load("joists")
SPECIES = tuple(Choice(key, entry["label"]) for key, entry in JOISTS["species"].items())
GRADES = tuple(Choice(key, label) for key, label in JOISTS["grade"].items())


def sawn(values: Values) -> bool:
    return values.word("joist_kind") in ("sawn", "unknown")


QUESTIONS = (
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
        id="joist_kind",
        topic="shell",
        title="Kind of joist",
        text="What kind of joists carry the floor above?",
        why="Engineered joists have their own rules: their maker's sheet decides what may hang from them, not a span table.",
        how="Solid planks are sawn lumber. A thin web with a thick flange above and below is an I-joist. Open triangles are a truss.",
        kind=Kind.CHOICE,
        choices=(Choice("sawn", "solid sawn lumber"), Choice("i-joist", "I-joist"), Choice("truss", "open-web truss")),
        default="unknown",
        unknown=Unknown("unknown", "The structural screen cannot pass: an engineer must look first."),
    ),
    Question(
        id="joist_damaged",
        topic="shell",
        title="Damage to the joists",
        text="Are there notches, large holes, cracks or rot in the joists?",
        why="A damaged joist must be repaired before anything is hung from it. No table covers it.",
        how="Look along every joist with a lamp, most of all near pipes, ducts and the ends. Push a screwdriver into dark spots.",
        kind=Kind.CHOICE,
        choices=(Choice("no", "no, I looked at all of them"), Choice("yes", "yes, or I see something odd")),
        default="unknown",
        unknown=Unknown("unknown", "The structural screen stays open until somebody has looked."),
    ),
    Question(
        id="point_loads",
        topic="shell",
        title="Something heavy above",
        text="Does something heavy stand on the floor above the area: a piano, bath, aquarium, stone top, stove, post or wall?",
        why="The span tables know people and furniture spread over the floor. They know no weight on one spot: "
        "then an engineer looks first.",
        how="Walk the rooms above. Count what weighs more than a few people together, and each wall or post that stands on the joists "
        "between their ends.",
        kind=Kind.CHOICE,
        choices=(Choice("no", "no, nothing of the kind"), Choice("yes", "yes")),
        default="unknown",
        unknown=Unknown("unknown", "The joists may pass the screen, but the plan asks before anything is hung."),
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
        id="slab_state",
        topic="shell",
        title="State of the slab",
        text="Is the slab cracked, hollow underneath or settled?",
        why="The new walls, and a ceiling that stands on them, rest on the slab close to its edge.",
        how="Tap it with a hammer handle: a hollow spot sounds like a drum. Look for cracks with a step, and for "
        "gaps under the foot of the walls.",
        kind=Kind.CHOICE,
        choices=(Choice("sound", "sound: no more than hair cracks"), Choice("cracked", "cracked, hollow or settled")),
        default="unknown",
        unknown=Unknown("unknown", "The plan asks somebody to look before a wall stands on it."),
    ),
    Question(
        id="slab_thickness",
        topic="shell",
        title="Slab thickness",
        text="How thick is the slab?",
        why="What a wall may weigh grows with it.",
        how="Look at the edge of a sump pit or where a pipe comes through. Or drill one small hole where a wall will stand, away from "
        "pipes and cables and from old tile and its glue, hook a bent wire under the slab and measure it.",
        kind=Kind.QUANTITY,
        unit=SMALL_LENGTH,
        low=0.025,
        high=0.5,
        usual="slabs are usually {} to {} thick",
        typical=(0.0762, 0.1016),
        default="",
        unknown=Unknown("", "3 in (76 mm) is assumed, a thin one."),
    ),
)
