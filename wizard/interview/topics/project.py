"""The project: where it stands in law and money words."""

from __future__ import annotations

from calc.catalogue import load
from calc.units import currency_of
from wizard.interview.question import Choice, Kind, Question, Unknown, Values

CODES = tuple(Choice(key, entry["label"]) for key, entry in load("rules")["ceiling"].items() if key != "unknown")
CURRENCIES = ("USD", "CAD", "EUR", "GBP", "AUD", "NZD")


def money_of_the_budget(values: Values) -> str:
    """The currency that the budget was typed in, if it was."""
    typed = currency_of(values.typed("budget"))
    return typed if typed in CURRENCIES else CURRENCIES[0]


QUESTIONS = (
    Question(
        id="code",
        topic="project",
        title="Model code",
        text="Which model code does your building department follow?",
        why="A model code is a book of building rules that places adopt, often with changes. The lowest ceiling allowed differs between "
        "them by up to 4 in (100 mm). It is not your local law: the department decides. Only codes of North America are known here; "
        "for another country the strictest of them is a yardstick.",
        how="Look on the building department's web page for “adopted codes”, or call and ask which edition they use and whether they "
        "changed it. IRC is the residential code of most of the US.",
        kind=Kind.CHOICE,
        choices=CODES,
        default="unknown",
        unknown=Unknown("unknown", "The strictest of the editions known here is taken, limit by limit."),
    ),
    Question(
        id="habitable",
        topic="project",
        title="Living space",
        text="Will the room count as living space?",
        why="Living space (a room to live, work or play in) needs more height, air, light and a way out than a store room.",
        how="A music room that people spend hours in usually counts. The building official decides.",
        kind=Kind.CHOICE,
        choices=(Choice("yes", "yes, or probably"), Choice("no", "no, storage or a workshop")),
        default="yes",
        unknown=Unknown("unknown", "The rules for living space are applied."),
    ),
    Question(
        id="currency",
        topic="project",
        title="Currency",
        text="In which money do you count?",
        why="Only the word printed beside sums. Catalogue prices are example prices and are not converted: check them where you buy.",
        how="Choose the money in which you gave the budget.",
        kind=Kind.CHOICE,
        choices=tuple(Choice(code, code) for code in CURRENCIES),
        default=money_of_the_budget,
    ),
)
