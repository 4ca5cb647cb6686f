"""Each place that must not hear it: how quiet it shall be, how quiet it is, how far away."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from calc.catalogue import load
from calc.units import LEVEL, ROOM_LENGTH
from wizard.interview.question import Choice, Kind, Question, Unknown, Values

CRITERIA = load("criteria")
# The target for recording concerns the room itself, not a person who listens elsewhere.
TARGETS = tuple(Choice(key, entry["label"]) for key, entry in CRITERIA["target"].items() if key != "recording")


def chosen(kind: str) -> Callable[[Values], bool]:
    return lambda values: kind in values.words("listeners")


def usual_target(kind: str) -> Callable[[Values], str]:
    """The catalogue's target; nobody need sleep by day."""

    def target(values: Values) -> str:
        usual = str(CRITERIA["listener"][kind]["target"])
        return "quiet_by_day" if usual == "quiet_for_sleep" and values.word("hours") == "day" else usual

    return target


def usual_background(kind: str, less: float = 0.0) -> Callable[[Values], float]:
    def background(values: Values) -> float:
        hours = "day" if values.word("hours") == "day" else "night"
        return float(CRITERIA["listener"][kind][f"background_{hours}"]) - less

    return background


def _questions(kind: str, facts: dict[str, Any]) -> tuple[Question, ...]:
    label = str(facts["label"])
    common: dict[str, Any] = {"topic": "listeners", "applies": chosen(kind), "when": f"the {label} was chosen under “Who must not hear it”"}
    questions = [
        Question(
            id=f"{kind}_target",
            title=f"Quiet wanted: {label}",
            text=f"How quiet must it be for the {label}?",
            why="Ten decibels more quiet can double the cost, so ask for what is needed and no more.",
            how="Ask the person. “Not noticed” is far harder to build than “can sleep”.",
            kind=Kind.CHOICE,
            choices=TARGETS,
            default=usual_target(kind),
            unknown=Unknown("not_noticed_at_night", "The strictest target is assumed."),
            **common,
        ),
        Question(
            id=f"{kind}_background",
            title=f"Quiet now: {label}",
            text=f"How quiet is it there now, with nobody playing ({label})?",
            why="A sound is heard when it stands out of what is there already. A quiet place needs a better wall.",
            how="A phone app that shows dBA, on a table there, at the hour you want to play, with fridge and furnace off. Phones read "
            "wrong under 30.",
            kind=Kind.QUANTITY,
            unit=LEVEL,
            low=10.0,
            high=70.0,
            usual="a quiet house at night is usually {} to {}",
            typical=(20.0, 35.0),
            default=usual_background(kind),
            unknown=Unknown(usual_background(kind, less=3.0), "A very quiet place is assumed."),
            **common,
        ),
    ]
    if facts["where"] == "outdoors":
        questions += [_distance(kind, label, common), _window(kind, label, common)]
    return tuple(questions)


def _distance(kind: str, label: str, common: dict[str, Any]) -> Question:
    return Question(
        id=f"{kind}_distance",
        title=f"Distance: {label}",
        text=f"How far is it from your basement wall to the nearest window of the {label}?",
        why="Each doubling of the distance takes off about six decibels.",
        how="Pace it out, or measure on an online map.",
        kind=Kind.QUANTITY,
        unit=ROOM_LENGTH,
        low=1.0,
        high=300.0,
        usual="a neighbour's window is usually {} to {} away",
        typical=(3.048, 45.72),
        default=8.0,
        unknown=Unknown(4.0, "A close neighbour (4 m, 13 ft) is assumed."),
        **common,
    )


def _window(kind: str, label: str, common: dict[str, Any]) -> Question:
    return Question(
        id=f"{kind}_window",
        title=f"Window: {label}",
        text="Does that neighbour sleep with the window open?",
        why="A closed window keeps out about ten decibels more.",
        how="Think of a warm night.",
        kind=Kind.CHOICE,
        choices=(Choice("open", "open at times"), Choice("closed", "always closed")),
        default="open",
        unknown=Unknown("open", "An open window is assumed."),
        **common,
    )


QUESTIONS = tuple(question for kind, facts in CRITERIA["listener"].items() for question in _questions(kind, facts))
