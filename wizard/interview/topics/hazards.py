"""What can hurt people or spoil the work: water, flames, ways out, and what hides in old walls and in the ground."""

from __future__ import annotations

from calc.catalogue import load
from calc.units import YEAR
from wizard.interview.question import Choice, Kind, Question, Unknown
from wizard.interview.topics import fuel, ways_out

RADON = load("rules")["radon"]
BQ_PER_PCI = 37.0  # 1 Ci = 3.7e10 Bq, by definition

QUESTIONS = (
    Question(
        id="water",
        topic="hazards",
        title="Water",
        text="Has there been water or damp in the basement?",
        why="A wall built over damp rots behind the boards. Water comes first, before any sound work.",
        how="Look for white crust, stains, peeling paint, rust at posts, a musty smell; ask what happened after the heaviest rain.",
        kind=Kind.CHOICE,
        choices=(
            Choice("none", "none, also after heavy rain"),
            Choice("stains", "old stains, dry now"),
            Choice("damp", "damp at times"),
            Choice("standing", "standing water at times"),
        ),
        default="unknown",
        unknown=Unknown("unknown", "Damp is to be ruled out before anything is built."),
    ),
    Question(
        id="wall_test",
        topic="hazards",
        title="Sheet test",
        text="What did a plastic sheet taped to wall and slab show after two days?",
        why="Eyes miss damp that comes through slowly. A wet test stops the work until the source is found.",
        how="Tape squares of clear plastic, 2 ft (600 mm) a side, to bare wall and slab in several places, all edges shut, for 48 hours. "
        "Drops behind the sheet come from the ground.",
        kind=Kind.CHOICE,
        choices=(Choice("dry", "dry everywhere"), Choice("wet", "drops or dark patches")),
        default="unknown",
        unknown=Unknown("unknown", "The test comes first in the plan, before anything is closed."),
        applies=lambda values: values.word("water") != "standing",
        when="no water stands in the basement",
    ),
    Question(
        id="mould",
        topic="hazards",
        title="Mould",
        text="Is there mould, seen or smelt?",
        why="It makes people ill and grows on behind a wall. How much there is decides who removes it.",
        how="Look at the foot of the walls, behind shelves, at window corners and on the joists, and trust a musty smell. "
        "10 sq ft (0.9 m²) is about a door's lower half.",
        kind=Kind.CHOICE,
        choices=(
            Choice("no", "none"),
            Choice("small", "some, less than a door's lower half in all", "10 sq ft (0.9 m²)"),
            Choice("large", "more than that"),
        ),
        default="unknown",
        unknown=Unknown("unknown", "Where it was wet, the plan asks somebody to look for it."),
    ),
    *fuel.QUESTIONS,
    *ways_out.QUESTIONS,
    Question(
        id="drains",
        topic="hazards",
        title="Drains",
        text="Is there a sump, floor drain or clean-out inside the area?",
        why="They must stay within reach, and the pump is a sound source of its own.",
        how="Look for a grating, a round plug in the slab or wall, or a pit with a lid.",
        kind=Kind.CHOICE,
        choices=fuel.YES_NO,
        default="unknown",
        unknown=Unknown("unknown", "There may be one: look first."),
    ),
    Question(
        id="year_built",
        topic="hazards",
        title="Year built",
        text="When was the house built?",
        why="Older houses may hold lead paint and asbestos, which must be tested for before anything is torn out.",
        how="The deed, the tax record, or the date cast in the lid of the toilet tank gives a hint.",
        kind=Kind.YEAR,
        unit=YEAR,
        low=1500,
        high=2100,
        usual="houses with a basement usually date from {} to {}",
        typical=(1900.0, 2020.0),
        default="",
        unknown=Unknown("", "An old house is assumed: test for lead and asbestos before tearing anything out."),
    ),
    Question(
        id="suspect",
        topic="hazards",
        title="Old materials",
        text="Is there old floor tile, pipe wrap, ceiling texture or loose grainy fill (vermiculite) in the area?",
        why="They may hold asbestos, whose dust kills years later. A laboratory tells for the price of a meal.",
        how="Look, do not touch: tiles 9 in (230 mm) square and black glue, grey cloth or card on pipes, a sprayed ceiling, shiny grains "
        "between joists.",
        kind=Kind.CHOICE,
        choices=fuel.YES_NO,
        default="unknown",
        unknown=Unknown("unknown", "They are judged by the age of the house."),
    ),
    Question(
        id="radon",
        topic="hazards",
        title="Radon",
        text="Has the basement been tested for radon?",
        why="Radon is an invisible gas from the ground and a cause of lung cancer. A tight room in a basement can hold more of it.",
        how="A test kit left for at least two days in the lived-in season. Its sheet gives a number; the action level is "
        f"{RADON['action'] / BQ_PER_PCI:.0f} pCi/L ({RADON['action']:.0f} Bq/m³) in the US, {RADON['canada']:.0f} Bq/m³ in Canada.",
        kind=Kind.CHOICE,
        choices=(
            Choice("untested", "not tested"),
            Choice("below", "tested, below the action level"),
            Choice("above", "tested, above it"),
        ),
        default="untested",
        unknown=Unknown("unknown", "A test is asked for before work starts."),
    ),
)
