"""The dozen answers that give a first verdict."""

from __future__ import annotations

from calc.catalogue import load
from calc.units import COUNT, MONEY, ROOM_LENGTH, SMALL_LENGTH
from wizard.interview.question import Choice, Kind, Question, Unknown, Values

SOURCES = tuple(Choice(key, entry["label"]) for key, entry in load("sources")["source"].items())
# The room itself listens when it records or mixes, which is asked under “use”.
LISTENERS = (
    *(Choice(key, entry["label"]) for key, entry in load("criteria")["listener"].items() if entry["where"] != "inside"),
    Choice("none", "nobody is within earshot"),
)


def shorter_side(values: Values) -> float:
    return min(values.number("shell_length"), values.number("shell_width"))


def longer_side(values: Values) -> float:
    return max(values.number("shell_length"), values.number("shell_width"))


QUESTIONS = (
    Question(
        id="shell_length",
        topic="first",
        title="Length of the area",
        text="How long is the part of the basement that the room may take?",
        why="Every quantity starts from it: floor area, boards, air, cost. The room you end up with is smaller by its own walls.",
        how="Hold the tape on the floor along the longer side, from bare wall to bare wall; on an open side, to where the room may end. "
        "Measure at both ends and give the smaller number.",
        kind=Kind.QUANTITY,
        unit=ROOM_LENGTH,
        low=2.0,
        high=30.0,
        usual="a room is usually {} to {} long",
        typical=(3.048, 9.144),
        first=True,
    ),
    Question(
        id="shell_width",
        topic="first",
        title="Width of the area",
        text="How wide is it?",
        why="With the length it gives the plan. The joists often run along the width.",
        how="The tape on the floor across the area, from bare wall to bare wall, at both ends and in the middle; give the smallest number.",
        kind=Kind.QUANTITY,
        unit=ROOM_LENGTH,
        low=1.8,
        high=20.0,
        usual="a room is usually {} to {} wide",
        typical=(2.4384, 6.096),
        first=True,
    ),
    Question(
        id="shell_height",
        topic="first",
        title="Height to the joists",
        text="How high is it from the slab to the underside of the joists?",
        why="The new ceiling and floor both take height. In most basements this decides whether the room can be lived in at all.",
        how="Stand the tape on the bare slab and read at the underside of the joists (the planks on edge that carry the "
        "floor above), not at a pipe or a ceiling board. Measure in the corners and in the middle; give the smallest number.",
        kind=Kind.QUANTITY,
        unit=ROOM_LENGTH,
        low=1.5,
        high=4.5,
        usual="a basement usually has {} to {} under the joists",
        typical=(1.9812, 2.7432),
        first=True,
    ),
    Question(
        id="joist_depth",
        topic="first",
        title="Joist depth",
        text="How deep (tall) is one joist?",
        why="A new ceiling is heavy. How much the joists can carry depends mostly on their depth; the space between them also holds the "
        "fill.",
        how="Hold the tape against the side of a joist, from its bottom edge up to the boards of the floor above. One sold as 2x10 "
        "(38 x 235 mm) is 9 1/4 in (235 mm) deep. Under a finished ceiling, look where it is open: over the stairs, round the furnace.",
        kind=Kind.QUANTITY,
        unit=SMALL_LENGTH,
        low=0.085,
        high=0.61,
        usual="joists are usually {} to {} deep",
        typical=(0.18415, 0.28575),
        default=0.23495,
        unknown=Unknown(
            0.18415, "A shallow joist of 7 1/4 in (184 mm) is assumed; if yours are deeper, the floor can carry more than the plan says."
        ),
        first=True,
    ),
    Question(
        id="joist_spacing",
        topic="first",
        title="Joist spacing",
        text="How far apart are the joists, from the middle of one to the middle of the next?",
        why="The wider the spacing, the less the floor can carry.",
        how="Hook the tape on the left edge of one joist and read at the left edge of the next. Measure three spaces and take the widest.",
        kind=Kind.QUANTITY,
        unit=SMALL_LENGTH,
        low=0.2,
        high=1.22,
        usual="a spacing is usually {} to {}",
        typical=(0.3048, 0.6096),
        default=0.4064,
        unknown=Unknown(0.6096, "The widest usual spacing of 24 in (610 mm) is assumed; a closer one carries more."),
        first=True,
    ),
    Question(
        id="joist_span",
        topic="first",
        title="Joist span",
        text="How far does one joist reach between its supports?",
        why="The load a joist can take falls with the square of its span. This decides whether an engineer must look before anything is "
        "hung.",
        how="Follow one joist from the foundation wall to the next wall, beam or post line that carries it, and measure that distance "
        "clear "
        "between supports. It may be longer than the room.",
        kind=Kind.QUANTITY,
        unit=ROOM_LENGTH,
        low=1.0,
        high=10.0,
        usual="joists usually reach {} to {}",
        typical=(2.4384, 5.4864),
        default=shorter_side,
        unknown=Unknown(
            longer_side, "The joists are taken to reach over the longer side; if they run the short way, they carry much more."
        ),
        first=True,
    ),
    Question(
        id="source",
        topic="first",
        title="What is played",
        text="What is the loudest thing that will be played?",
        why="Drums and bass carry deep notes that go through walls easily; a voice does not. The loudest thing sets the construction.",
        how="Think of the loudest evening of a normal month, not of the average.",
        kind=Kind.CHOICE,
        choices=SOURCES,
        first=True,
    ),
    Question(
        id="hours",
        topic="first",
        title="When",
        text="What is the latest part of the day that it will be played?",
        why="The same sound is lost in a busy afternoon and wakes people at night.",
        how="Choose the latest hour at which you want to play without asking anybody.",
        kind=Kind.CHOICE,
        choices=(
            Choice("day", "by day only", "until about 7 in the evening"),
            Choice("evening", "into the evening", "until about 10 at night"),
            Choice("night", "at night too", "while others sleep"),
        ),
        default="evening",
        unknown=Unknown("night", "Night is assumed, which asks most of the walls."),
        first=True,
    ),
    Question(
        id="listeners",
        topic="first",
        title="Who must not hear it",
        text="Who must not be disturbed? Choose all that apply.",
        why="Each place has its own way for sound to get there. The quietest and closest one decides.",
        how="Walk the house and the street side: who sleeps, works or lives within earshot? Attached means a wall in common, across the "
        "garden any other house.",
        kind=Kind.MULTI,
        choices=LISTENERS,
        first=True,
    ),
    Question(
        id="people",
        topic="first",
        title="How many people",
        text="How many people will be in the room at once?",
        why="A quiet room is an airtight room. People set how much fresh air must be brought in, and the heat to take out.",
        how="The most that would be there for a whole session, you included.",
        kind=Kind.COUNT,
        unit=COUNT,
        low=1,
        high=30,
        usual="a basement room usually holds {} to {} people",
        typical=(1.0, 8.0),
        default=2.0,
        unknown=Unknown(4.0, "Four people are assumed: a band."),
        first=True,
    ),
    Question(
        id="lowest_ceiling",
        topic="first",
        title="Lowest ceiling you accept",
        text="What is the lowest finished ceiling you would accept?",
        why="A quieter ceiling is a lower one. The plan never goes under this height, whatever the code allows.",
        how="Measure a low ceiling you know, or stand with raised arms: drummers and double bass players need more than singers.",
        kind=Kind.QUANTITY,
        unit=ROOM_LENGTH,
        low=1.5,
        high=3.5,
        usual="people usually accept {} to {}",
        typical=(1.9812, 2.286),
        default=2.032,
        unknown=Unknown(2.032, "6 ft 8 in (2.03 m) is assumed, the lowest of the model codes for living space in an existing basement."),
        first=True,
    ),
    Question(
        id="budget",
        topic="first",
        title="Budget",
        text="How much money can the whole job cost?",
        why="The cheapest construction that is quiet enough is looked for inside this sum; where none exists, the plan says what is in "
        "the way.",
        how="Everything: boards, doors, air, electrician, permits, and the reserve for surprises. A number in your own money, with its "
        "sign or name if you like: 25k, €25,000 or 25,000 AUD.",
        kind=Kind.QUANTITY,
        unit=MONEY,
        low=500.0,
        high=2_000_000.0,
        usual="a room within a room usually costs {} to {}",
        typical=(10_000.0, 80_000.0),
        first=True,
    ),
)
