"""What happens in the room."""

from __future__ import annotations

from calc.catalogue import load
from calc.units import DURATION, LEVEL, POWER
from wizard.interview.question import Choice, Kind, Question, Unknown, Values

ACTIVITIES = tuple(Choice(key, entry["label"]) for key, entry in load("air")["activity"].items())
YES_NO = (Choice("no", "no"), Choice("yes", "yes"))


def usual_level(values: Values) -> float:
    return float(load("sources")["source"][values.word("source")]["level"])


def usual_activity(values: Values) -> str:
    """The activity that goes with the source; the busiest one where the catalogue of air does not know it."""
    activity = str(load("sources")["source"][values.word("source")]["activity"])
    table = load("air")["activity"]
    return activity if activity in table else busiest(values)


def busiest(_: Values) -> str:
    table: dict[str, dict[str, float]] = load("air")["activity"]
    return max(table, key=lambda key: table[key]["met"])


QUESTIONS = (
    Question(
        id="level",
        topic="use",
        title="Level in the room",
        text="How loud is it in the room while you play?",
        why="Every decibel here is a decibel everywhere else in the house. Your own reading beats ours: without one the plan takes a usual "
        "level for your instrument, and the mix of deep and high notes comes from recorded samples, not from you.",
        how="A phone app or a meter set to dBA, at arm's length in the middle of the room: the steady reading of a minute of hard playing, "
        "not the peak. Set to dBC it reads several decibels more; do not mix them up.",
        kind=Kind.QUANTITY,
        unit=LEVEL,
        low=60.0,
        high=125.0,
        usual="playing is usually {} to {} in a room",
        typical=(80.0, 110.0),
        default=usual_level,
        unknown=Unknown(
            lambda values: usual_level(values) + 5.0, "Not your own reading: five decibels more than usual for this instrument are assumed."
        ),
    ),
    Question(
        id="activity",
        topic="use",
        title="How hard people work",
        text="How hard do the people in the room work?",
        why="Hard work makes more heat, moisture and stale air.",
        how="Choose what most of them do for most of the session.",
        kind=Kind.CHOICE,
        choices=ACTIVITIES,
        default=usual_activity,
        unknown=Unknown(busiest, "The hardest work is assumed."),
    ),
    Question(
        id="session",
        topic="use",
        title="Length of a session",
        text="How long is a session without a long break?",
        why="Stale air and heat build up with time, and so does the dose of sound for your own ears.",
        how="From closing the door to opening it again.",
        kind=Kind.QUANTITY,
        unit=DURATION,
        low=0.25,
        high=24.0,
        usual="a session usually lasts {} to {}",
        typical=(1.0, 6.0),
        default=2.0,
        unknown=Unknown(4.0, "Four hours are assumed."),
    ),
    Question(
        id="equipment",
        topic="use",
        title="Power of the equipment",
        text="How many watts do amplifiers, computers and lights draw?",
        why="All of it becomes heat in a room that lets none out.",
        how="Add the watts on the plates behind each unit; amplifiers draw about a third of their plate when playing.",
        kind=Kind.QUANTITY,
        unit=POWER,
        low=0.0,
        high=20_000.0,
        usual="a room usually draws {} to {}",
        typical=(200.0, 2000.0),
        default=300.0,
        unknown=Unknown(800.0, "800 W are assumed."),
    ),
    Question(
        id="recording",
        topic="use",
        title="Recording",
        text="Will you record with microphones in the room?",
        why="Then the air system must be quieter than the quietest note, and the house must not be heard in the take.",
        how="Say yes if a microphone will stand there, even now and then.",
        kind=Kind.CHOICE,
        choices=YES_NO,
        default="no",
        unknown=Unknown("yes", "Recording is assumed, so the air moves slower in wider ducts."),
    ),
    Question(
        id="sleeping",
        topic="use",
        title="Sleeping",
        text="Will anybody sleep in the room?",
        why="A bedroom needs its own way out and alarms. This is not a rule to bend.",
        how="Guests count, and a nap on the sofa after a late session too.",
        kind=Kind.CHOICE,
        choices=YES_NO,
        default="no",
        unknown=Unknown("yes", "The rules for a bedroom are applied."),
    ),
)
