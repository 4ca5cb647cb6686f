"""Each place that must not hear it: how quiet it shall be, how quiet it is, how far away."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from calc.catalogue import load
from calc.units import LEVEL, ROOM_LENGTH
from wizard.interview.question import Choice, Kind, Question, Unknown, Values
from wizard.interview.topics import itself
from wizard.interview.topics.surroundings import QUIETEST, SURROUNDINGS, place, time_of_day

CRITERIA = load("criteria")
TARGETS = tuple(Choice(key, entry["label"]) for key, entry in CRITERIA["target"].items() if entry["of"] == "people")
YES_NO = (Choice("no", "no"), Choice("yes", "yes"))
HIGH_FENCE = 1.8  # m, about 6 ft: a usual privacy fence (common practice, no source)


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
        row = CRITERIA["listener"][kind]
        return float(row[f"background_{time_of_day(values)}"]) + float(place(values, QUIETEST)["indoors"]) - less

    return background


def usual_limit(outdoors: bool, less: float = 0.0) -> Callable[[Values], float]:
    """A usual by-law: 55 dBA outdoors by day, 45 at night, 10 dB less indoors (common practice, no source)."""
    return lambda values: (55.0 if time_of_day(values) == "day" else 45.0) - (0.0 if outdoors else 10.0) - less


SURENESS = Question(
    id="sureness",
    topic="listeners",
    title="How sure it shall be",
    text="How sure must it be that everyone who listens has the quiet that is wanted?",
    why="A prediction can be several decibels off either way. To be surer takes a construction that is better than it need be, and money.",
    how="Where a lease or a marriage hangs on it, ask for more. A measurement before building makes it surer for less.",
    kind=Kind.CHOICE,
    choices=tuple(Choice(key, entry["label"]) for key, entry in CRITERIA["sureness"].items()),
    default="predicted",
    unknown=Unknown("four_in_five", "Four in five is asked for."),
    applies=lambda values: bool(set(values.words("listeners")) - {"none"}) or itself.listens(values),
    when="somebody was chosen under “Who must not hear it”, or the room itself listens to the house",
)


def by_the_stair(values: Values) -> bool:
    """Somebody listens where the sound comes up the stair, or out of the windows above."""
    return any(CRITERIA["listener"][kind]["where"] in ("above", "hall", "outdoors") for kind in values.words("listeners") if kind != "none")


STAIR_DOOR = Question(
    id="stair_door",
    topic="listeners",
    title="Door at the stair",
    text="Is there a door that shuts between the basement and the rooms above?",
    why="What gets out of the room into the rest of the basement goes up the stair. An open stair takes off about ten decibels, a door "
    "that is shut up to twenty more.",
    how="At the head or the foot of the stair, one that is kept shut while you play. If no stair leads up inside the house, answer yes.",
    kind=Kind.CHOICE,
    choices=YES_NO,
    default="yes",
    unknown=Unknown("no", "An open stair is assumed."),
    applies=by_the_stair,
    when="somebody in the rooms above, in the hall or across the garden was chosen under “Who must not hear it”",
)


def _questions(kind: str, facts: dict[str, Any]) -> tuple[Question, ...]:
    label = str(facts["label"])
    common: dict[str, Any] = {"topic": "listeners", "applies": chosen(kind), "when": f"the {label} was chosen under “Who must not hear it”"}
    outdoors = facts["where"] == "outdoors"
    questions = [
        Question(
            id=f"{kind}_target",
            title=f"Quiet wanted: {label}",
            text=f"How quiet must it be for the {label}?",
            why="Ten decibels more quiet can double the cost, so ask for what is needed and no more.",
            how="Ask the person. “Not noticed” is far harder to build than “can sleep”. A by-law's number is on your town's web page.",
            kind=Kind.CHOICE,
            choices=TARGETS,
            default=usual_target(kind),
            unknown=Unknown("not_noticed_at_night", "The strictest target is assumed."),
            **common,
        ),
        _limit(kind, label, outdoors),
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
    if outdoors:
        questions += [_distance(kind, label, common), _window(kind, label), *_barrier(kind, label, common)]
    return tuple(questions)


def _limit(kind: str, label: str, outdoors: bool) -> Question:
    spot = "outdoors, at that window" if outdoors else "inside that room"
    return Question(
        id=f"{kind}_limit",
        topic="listeners",
        title=f"Number stated: {label}",
        text=f"What number in dBA does the by-law or contract state ({label})? It is taken to hold {spot}.",
        why="The plan then works to that number. It says nothing about single deep notes, so a bass line can keep it and still be heard.",
        how="Read the noise by-law or the lease, for the hours you want to play. Many take off 5 dB for music: use the lower number.",
        kind=Kind.QUANTITY,
        unit=LEVEL,
        low=15.0,
        high=80.0,
        usual="by-laws usually state {} to {}",
        typical=(40.0, 60.0) if outdoors else (25.0, 45.0),
        default=usual_limit(outdoors),
        unknown=Unknown(usual_limit(outdoors, less=10.0), "A strict by-law is assumed, 10 dB under a usual one."),
        applies=lambda values: chosen(kind)(values) and values.word(f"{kind}_target") == "by_law",
        when=f"the number of a by-law was chosen for the {label}",
    )


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
        unknown=Unknown(4.0, "A close neighbour is assumed, at 4 m (13 ft)."),
        **common,
    )


def _window(kind: str, label: str) -> Question:
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
        topic="listeners",
        applies=lambda values: chosen(kind)(values) and values.word(f"{kind}_target") != "by_law",
        when=f"the {label} was chosen, and not the number of a by-law, which holds outdoors at the window",
    )


def _barrier(kind: str, label: str, common: dict[str, Any]) -> tuple[Question, ...]:
    """Whether something solid stands between, and how high and how far off; nothing is assumed where nobody knows."""
    behind: dict[str, Any] = {
        "topic": "listeners",
        "applies": lambda values: chosen(kind)(values) and values.word(f"{kind}_barrier") == "yes",
        "when": f"a wall or solid fence stands between the house and the {label}",
    }
    return (
        Question(
            id=f"{kind}_barrier",
            title=f"Fence between: {label}",
            text=f"Is there a wall or a solid fence between your basement wall and the {label}?",
            why="A wall that hides the window takes off five to fifteen decibels, least of all of the bass. A hedge takes off nothing.",
            how="Solid means no gaps, down to the ground. Boards with air between them do not count.",
            kind=Kind.CHOICE,
            choices=YES_NO,
            default="no",
            unknown=Unknown("no", "Nothing is taken to stand between."),
            **common,
        ),
        Question(
            id=f"{kind}_barrier_height",
            title=f"Height of the fence: {label}",
            text="How high is that wall or fence above the ground?",
            why="Sound bends over the top. Only what rises above the line of sight helps.",
            how="A tape, or a photograph with a person beside it. Measure the lowest part.",
            kind=Kind.QUANTITY,
            unit=ROOM_LENGTH,
            low=0.3,
            high=15.0,
            usual="a fence is usually {} to {} high",
            typical=(1.2, 2.4),
            default=HIGH_FENCE,
            unknown=Unknown(1.0, "A low one of 1 m (3 ft) is assumed, which hides little."),
            **behind,
        ),
        Question(
            id=f"{kind}_barrier_distance",
            title=f"Distance of the fence: {label}",
            text="How far is that wall or fence from your basement wall?",
            why="It helps most close to the house or close to the neighbour, least half-way.",
            how="Pace it out at right angles to your wall.",
            kind=Kind.QUANTITY,
            unit=ROOM_LENGTH,
            low=0.3,
            high=300.0,
            usual="a fence is usually {} to {} from the house",
            typical=(1.5, 15.0),
            default=half_way(kind),
            unknown=Unknown(half_way(kind), "Half-way is assumed, where it helps least."),
            **behind,
        ),
    )


def half_way(kind: str) -> Callable[[Values], float]:
    return lambda values: max(values.number(f"{kind}_distance") / 2.0, 0.3)


QUESTIONS = (
    SURROUNDINGS,
    SURENESS,
    STAIR_DOOR,
    *(question for kind, facts in CRITERIA["listener"].items() if facts["where"] != "inside" for question in _questions(kind, facts)),
    *itself.QUESTIONS,
)
