"""The room itself, listening to the house: asked of who records or mixes."""

from __future__ import annotations

from collections.abc import Callable

from calc.catalogue import load
from calc.units import LEVEL
from wizard.interview.question import Choice, Kind, Question, Unknown, Values
from wizard.interview.topics.surroundings import NOISIEST, place, time_of_day

CRITERIA, NOISE = load("criteria"), load("house_noise")
NOT_ASKED = "none"  # of the target question: house noise in the room is no concern
TARGETS = tuple(Choice(key, entry["label"]) for key, entry in CRITERIA["target"].items() if entry["of"] == "room")
WHEN = "there will be recording, or mixing on loudspeakers"
WHEN_ASKED = f"{WHEN}, and house noise in the room matters"


def may_listen(values: Values) -> bool:
    """The house's noise can be a concern."""
    return values.word("recording") == "yes" or values.word("source") == "mixing"


def listens(values: Values) -> bool:
    """It is one: the room itself is among the listeners."""
    return may_listen(values) and values.word("this_room_target") != NOT_ASKED


def reached_by_the_street(values: Values) -> bool:
    """A wall above ground or a window faces the outdoors."""
    sides = [values.word(f"side_{number}") for number in (1, 2, 3, 4)]
    return listens(values) and ("foundation_above" in sides or values.word("escape") == "window")


def usual_target(values: Values) -> str:
    """Recording asks for the catalogue's target; mixing alone does without unless somebody chooses one."""
    return str(CRITERIA["listener"]["this_room"]["target"]) if values.word("recording") == "yes" else NOT_ASKED


def usual_machine(values: Values) -> str:
    """A furnace where the house is heated by air or burns something in the basement; unknown counts as one."""
    heated = values.word("heating") in ("forced air", "unknown") or values.word("appliance") != "none"
    return "furnace" if heated else "none"


def street_level(more: float = 0.0) -> Callable[[Values], float]:
    return lambda values: float(place(values, NOISIEST)[time_of_day(values)]) + more


def _choices(table: str, text: str) -> tuple[Choice, ...]:
    return tuple(Choice(key, entry[text]) for key, entry in NOISE[table].items())


QUESTIONS = (
    Question(
        id="this_room_target",
        topic="listeners",
        title="Quiet wanted: the room itself",
        text="How quiet must the room itself be while a microphone is open or you mix?",
        why="Walls keep noise out as they keep music in, but steps overhead and pipes have ways of their own. NC and NR are curves that "
        "studios state: the lower, the quieter.",
        how="Close microphones on drums forgive a lot; a singer or a quiet guitar does not. Choose “no limit” if takes may carry it. NR is "
        "the European sister of NC: where nobody named a curve, take an NC one.",
        kind=Kind.CHOICE,
        choices=(Choice(NOT_ASKED, "no limit: the house may be heard"), *TARGETS),
        default=usual_target,
        unknown=Unknown("nc_15", "The quietest of the usual studio curves is assumed."),
        applies=may_listen,
        when=WHEN,
    ),
    Question(
        id="walking",
        topic="listeners",
        title="Steps overhead",
        text="Who walks on the floor above while you record or mix?",
        why="Steps shake the joists, and the deep thud comes through almost any ceiling. It is often the loudest thing in a quiet take.",
        how="Have somebody walk there while you stand below with a recorder running. If the house can keep still for a take, say so.",
        kind=Kind.CHOICE,
        choices=_choices("walker", "label"),
        default="soft",
        unknown=Unknown("children", "Children who run are assumed."),
        applies=listens,
        when=WHEN_ASKED,
    ),
    Question(
        id="plumbing",
        topic="listeners",
        title="Pipes over the room",
        text="Do drains or water pipes run between the joists over the room?",
        why="A flush overhead is heard as if it were in the room, and every hanger carries it into the boards.",
        how="Look up between the joists before anything is closed, and have somebody flush each toilet.",
        kind=Kind.CHOICE,
        choices=(Choice("no", "no"), Choice("yes", "yes")),
        default="no",
        unknown=Unknown("unknown", "A drain over the room is assumed."),
        applies=listens,
        when=WHEN_ASKED,
    ),
    Question(
        id="machine",
        topic="listeners",
        title="Noise in the rest of the basement",
        text="What is the loudest thing that runs in the rest of the basement while you record or mix?",
        why="It stands just behind the wall and the door.",
        how="Think of an hour in January: what switches on by itself?",
        kind=Kind.CHOICE,
        choices=_choices("machine", "text"),
        default=usual_machine,
        unknown=Unknown("laundry", "A washer or dryer is assumed, the loudest of them."),
        applies=listens,
        when=WHEN_ASKED,
    ),
    Question(
        id="street_level",
        topic="listeners",
        title="Noise outdoors",
        text="How loud is it outdoors, before the basement's wall or window, while you record or mix?",
        why="A window or a wall above ground lets the street in.",
        how="A phone app that shows dBA, held outside that window for a minute: the usual reading, not the one loud car.",
        kind=Kind.QUANTITY,
        unit=LEVEL,
        low=20.0,
        high=90.0,
        usual="outdoors it is usually {} to {}",
        typical=(34.0, 66.0),
        default=street_level(),
        unknown=Unknown(street_level(5.0), "Five decibels more than usual for such a place are assumed."),
        applies=reached_by_the_street,
        when=f"{WHEN_ASKED}, and a wall above ground or a window faces outdoors",
    ),
)
