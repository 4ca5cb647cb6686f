"""What can hurt people or spoil the work: water, radon, fuel, panel, gas, drains, the way out."""

from __future__ import annotations

from calc.units import AREA, HEAT_INPUT, ROOM_LENGTH, SMALL_LENGTH, YEAR
from wizard.interview.question import Choice, Kind, Question, Unknown, Values

YES_NO = (Choice("no", "no"), Choice("yes", "yes"))


def burns_fuel(values: Values) -> bool:
    return values.word("appliance") != "none"


def has_opening(values: Values) -> bool:
    return values.word("escape") in ("window", "door")


def rest_of_basement(values: Values) -> float:
    """As much again as the room takes; common practice, no source: half of a basement is finished."""
    return values.number("shell_length") * values.number("shell_width")


QUESTIONS = (
    Question(
        id="water",
        topic="hazards",
        title="Water",
        text="Has there been water or damp in the basement?",
        why="A wall built over damp rots behind the boards. Water comes first, before any sound work.",
        how="Look for white crust, stains, peeling paint, a musty smell. Tape a square of clear film to the wall and floor for two "
        "days: drops "
        "behind it mean damp.",
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
        id="radon",
        topic="hazards",
        title="Radon",
        text="Has the basement been tested for radon?",
        why="Radon is an invisible gas from the ground and a cause of lung cancer. A tight room in a basement can hold more of it.",
        how="A test kit left for at least two days in the lived-in season; the sheet gives pCi/L or Bq/m³.",
        kind=Kind.CHOICE,
        choices=(
            Choice("untested", "not tested"),
            Choice("below", "tested, below the action level"),
            Choice("above", "tested, above it"),
        ),
        default="untested",
        unknown=Unknown("unknown", "A test is asked for before work starts."),
    ),
    Question(
        id="year_built",
        topic="hazards",
        title="Year built",
        text="When was the house built?",
        why="Older houses may hold lead paint and asbestos, which must be tested for before anything is torn out.",
        how="The deed, the tax record, or the date cast in the lid of the toilet cistern gives a hint.",
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
        id="appliance",
        topic="hazards",
        title="Fuel-burning appliance",
        text="Is there a furnace, boiler or water heater in the basement that burns gas, oil or wood?",
        why="It needs air. A new room can take that air away, and then it can fill the house with carbon monoxide.",
        how="A plastic pipe for air and another for exhaust, both to the outside, mean sealed. A metal flue with an open hood at the "
        "bottom means "
        "natural draft.",
        kind=Kind.CHOICE,
        choices=(
            Choice("none", "none"),
            Choice("sealed", "yes, sealed, with its own air pipe"),
            Choice("natural draft", "yes, it takes air from the basement"),
        ),
        default="unknown",
        unknown=Unknown("unknown", "One that takes air from the basement is assumed until somebody has looked."),
    ),
    Question(
        id="appliance_power",
        topic="hazards",
        title="Input of the appliances",
        text="What is the total heat input of these appliances?",
        why="The air they need is counted from it.",
        how="Read “input” on the plate inside each cover and add them up. Output is smaller; do not use that.",
        kind=Kind.QUANTITY,
        unit=HEAT_INPUT,
        low=500.0,
        high=200_000.0,
        usual="furnace and water heater together usually take {} to {}",
        typical=(11_722.8, 43_960.7),
        default=35_168.5,
        unknown=Unknown(43_960.7, "150,000 BTU/h (44 kW) is assumed: a large furnace and a water heater."),
        applies=burns_fuel,
        when="a fuel-burning appliance stands in the basement, or may",
    ),
    Question(
        id="basement_rest",
        topic="hazards",
        title="Rest of the basement",
        text="How much floor area stays with the appliance, in one space with it?",
        why="The air in that space feeds the flame. Too little air there is a stop.",
        how="Length times width of what remains outside the new room and is open to the appliance without a closed door.",
        kind=Kind.QUANTITY,
        unit=AREA,
        low=0.0,
        high=500.0,
        usual="it is usually {} to {}",
        typical=(10.0, 100.0),
        default=rest_of_basement,
        unknown=Unknown(lambda values: 0.5 * rest_of_basement(values), "Half as much as the room takes is assumed."),
        applies=burns_fuel,
        when="a fuel-burning appliance stands in the basement, or may",
    ),
    Question(
        id="panel",
        topic="hazards",
        title="Electrical panel",
        text="Where is the electrical panel?",
        why="It needs clear space in front and must never be boarded over.",
        how="Look for the grey steel box with the breakers.",
        kind=Kind.CHOICE,
        choices=(
            Choice("in the area", "in the area of the room"),
            Choice("elsewhere", "elsewhere"),
            Choice("none", "there is none in the basement"),
        ),
        default="unknown",
        unknown=Unknown("unknown", "It may be in the area: find it first."),
    ),
    Question(
        id="gas_line",
        topic="hazards",
        title="Gas pipe",
        text="Does a gas pipe or shut-off lie inside the area?",
        why="A shut-off must stay within reach, and a pipe is not to be hidden or moved by anyone but a licensed fitter.",
        how="Follow the pipe from the meter. It is usually black steel or yellow.",
        kind=Kind.CHOICE,
        choices=YES_NO,
        default="unknown",
        unknown=Unknown("unknown", "There may be one: look first."),
    ),
    Question(
        id="drains",
        topic="hazards",
        title="Drains",
        text="Is there a sump, floor drain or clean-out inside the area?",
        why="They must stay within reach, and the pump is a sound source of its own.",
        how="Look for a grating, a round plug in the slab or wall, or a pit with a lid.",
        kind=Kind.CHOICE,
        choices=YES_NO,
        default="unknown",
        unknown=Unknown("unknown", "There may be one: look first."),
    ),
    Question(
        id="escape",
        topic="hazards",
        title="Second way out",
        text="Which way out, besides the stairs, opens from the area to the outside?",
        why="In a fire the stairs may be lost, and in a tight room the alarm may not be heard. Codes ask for a window or door to climb "
        "out of.",
        how="A window counts only if a grown person fits through it and it opens without tools.",
        kind=Kind.CHOICE,
        choices=(Choice("none", "none"), Choice("window", "a window"), Choice("door", "a door")),
        default="unknown",
        unknown=Unknown("unknown", "No usable way out is assumed."),
    ),
    Question(
        id="escape_width",
        topic="hazards",
        title="Clear width of the way out",
        text="How wide is the clear opening when it stands open?",
        why="The codes set a least clear width, height and area.",
        how="Open it fully and measure between the fixed parts, not the glass.",
        kind=Kind.QUANTITY,
        unit=SMALL_LENGTH,
        low=0.1,
        high=4.0,
        usual="a way out is usually {} to {} wide",
        typical=(0.508, 0.9144),
        default=0.5,
        unknown=Unknown(0.4, "One too narrow for the codes is assumed."),
        applies=has_opening,
        when="there is a second way out",
    ),
    Question(
        id="escape_height",
        topic="hazards",
        title="Clear height of the way out",
        text="How high is the clear opening?",
        why="The codes set a least clear width, height and area.",
        how="Open it fully and measure between the fixed parts, from sill to head.",
        kind=Kind.QUANTITY,
        unit=SMALL_LENGTH,
        low=0.1,
        high=3.0,
        usual="a way out is usually {} to {} high",
        typical=(0.381, 2.032),
        default=lambda values: 2.0 if values.word("escape") == "door" else 0.5,
        unknown=Unknown(0.4, "One too low for the codes is assumed."),
        applies=has_opening,
        when="there is a second way out",
    ),
    Question(
        id="escape_sill",
        topic="hazards",
        title="Sill of the way out",
        text="How high above the floor is its sill?",
        why="A person must be able to climb out: codes set a highest sill. A new floor lowers it.",
        how="Tape from the slab to the lower edge of the clear opening. For a door, write 0.",
        kind=Kind.QUANTITY,
        unit=ROOM_LENGTH,
        low=0.0,
        high=3.0,
        usual="a sill is usually {} to {} above the slab",
        typical=(0.9144, 1.524),
        default=lambda values: 0.0 if values.word("escape") == "door" else 1.2,
        unknown=Unknown(1.5, "One too high for the codes is assumed."),
        applies=has_opening,
        when="there is a second way out",
    ),
)
