"""The kind of place: how quiet it is for those who listen, how loud for what is recorded."""

from __future__ import annotations

from typing import Any

from calc.catalogue import load
from wizard.interview.question import Choice, Kind, Question, Unknown, Values

PLACES: dict[str, dict[str, Any]] = load("criteria")["place"]
QUIETEST = min(PLACES, key=lambda key: float(PLACES[key]["night"]))
NOISIEST = max(PLACES, key=lambda key: float(PLACES[key]["night"]))


def time_of_day(values: Values) -> str:
    """The hours that the catalogue's levels are for; the evening counts as night."""
    return "day" if values.word("hours") == "day" else "night"


def place(values: Values, if_unknown: str) -> dict[str, Any]:
    """The kind of place, or the one that asks most where nobody knows."""
    return PLACES.get(values.word("surroundings"), PLACES[if_unknown])


SURROUNDINGS = Question(
    id="surroundings",
    topic="listeners",
    title="Kind of place",
    text="What kind of place is the house in?",
    why="Traffic and wind hide a part of what you play. In the countryside nothing does.",
    how="Stand outside at the hour you want to play. Single leaves and a far dog mean countryside; traffic that never stops means town.",
    kind=Kind.CHOICE,
    choices=tuple(Choice(key, entry["label"]) for key, entry in PLACES.items()),
    default="suburb",
    unknown=Unknown("unknown", "The quietest kind of place is assumed for those who listen, the noisiest for what you would record."),
)
