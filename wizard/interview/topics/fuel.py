"""Flames, gas and electricity near the room."""

from __future__ import annotations

from calc.units import AREA, HEAT_INPUT, SMALL_LENGTH
from wizard.interview.question import Choice, Kind, Question, Unknown, Values

YES_NO = (Choice("no", "no"), Choice("yes", "yes"))


def burns_fuel(values: Values) -> bool:
    return values.word("appliance") != "none"


def breathes(values: Values) -> bool:
    """It takes its air from the basement, or may."""
    return values.word("appliance") in ("natural draft", "unknown")


def rest_of_basement(values: Values) -> float:
    """As much again as the room takes; common practice, no source: half of a basement is finished."""
    return values.number("shell_length") * values.number("shell_width")


QUESTIONS = (
    Question(
        id="appliance",
        topic="hazards",
        title="Fuel-burning appliance",
        text="Is there a furnace, boiler or water heater in the basement that burns gas, oil or wood?",
        why="It needs air. A new room can take that air away, and then it can fill the house with carbon monoxide.",
        how="Two plastic pipes to the outside, one for air and one for exhaust, mean sealed. One pipe alone, a metal flue with an open "
        "hood at its foot, or a wood stove: air from the basement. Of several, name one that takes air from the basement.",
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
        id="tight_house",
        topic="hazards",
        title="House made tight",
        text="Was the house made tight in the last twenty years: new windows, spray foam, air sealing, a strong kitchen fan?",
        why="In a tight house a fan can pull exhaust gas back down the flue. No size of basement is then known to be enough.",
        how="Think of every renovation, and read the label of the kitchen hood: 300 cfm (140 L/s) or more is strong.",
        kind=Kind.CHOICE,
        choices=YES_NO,
        default="unknown",
        unknown=Unknown("unknown", "It may be tight: the plan asks for a draft test."),
        applies=breathes,
        when="an appliance takes its air from the basement, or may",
    ),
    Question(
        id="appliance_clear",
        topic="hazards",
        title="Space before the appliance",
        text="How much clear, level space will be left before the controls of the appliance once the new wall stands?",
        why="Whoever services it must kneel there, and one day it must be taken out.",
        how="Mark the new wall on the floor with tape. Measure from there to the side with the burner, filter and switches; where there "
        "are several appliances, give the smallest.",
        kind=Kind.QUANTITY,
        unit=SMALL_LENGTH,
        low=0.0,
        high=10.0,
        usual="it is usually {} to {}",
        typical=(0.6096, 2.4384),
        default="",
        unknown=Unknown("", "The plan asks for it to be measured before a wall is marked out."),
        applies=burns_fuel,
        when="a fuel-burning appliance stands in the basement, or may",
    ),
    Question(
        id="garage",
        topic="hazards",
        title="Attached garage",
        text="Is a garage attached to the house?",
        why="An engine left running there fills the house with carbon monoxide: codes ask for alarms.",
        how="A door or a wall shared with the house is enough.",
        kind=Kind.CHOICE,
        choices=YES_NO,
        default="unknown",
        unknown=Unknown("unknown", "Alarms are advised as if there were one."),
        applies=lambda values: values.word("appliance") in ("none", "unknown"),
        when="no fuel-burning appliance is known, as one asks for the same alarms",
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
        id="panel_clear",
        topic="hazards",
        title="Space before the panel",
        text="How much clear space will be left in front of the electrical panel once the new walls stand?",
        why="An electrician must be able to stand back from live parts. Too little is a stop.",
        how="Mark the new walls on the floor with tape. Measure straight out from the face of the panel to the nearest of them, or to "
        "whatever stands there.",
        kind=Kind.QUANTITY,
        unit=SMALL_LENGTH,
        low=0.0,
        high=10.0,
        usual="it is usually {} to {}",
        typical=(0.762, 3.048),
        default="",
        unknown=Unknown("", "The plan asks for it to be measured before a wall is marked out."),
        applies=lambda values: values.word("panel") in ("in the area", "unknown"),
        when="the electrical panel is in the area, or may be",
    ),
    Question(
        id="wiring",
        topic="hazards",
        title="Wiring",
        text="What wiring runs over and along the area?",
        why="Some old wiring must not be covered by fill or boards: it overheats.",
        how="Power off, look up between the joists. Single wires on white porcelain knobs are knob and tube. Cable stamped AL or ALUMINUM "
        "is aluminium. Leave both alone and ask an electrician.",
        kind=Kind.CHOICE,
        choices=(
            Choice("modern", "copper cable in plastic, or in steel"),
            Choice("knob and tube", "single wires on porcelain knobs"),
            Choice("aluminium", "aluminium cable"),
        ),
        default="unknown",
        unknown=Unknown("unknown", "It is judged by the age of the house, and the plan asks."),
    ),
)
