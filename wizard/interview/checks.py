"""Checks between answers: two numbers that are each possible and cannot both be right.

What can be right and only makes the room infeasible (a wish for a ceiling above the joists) is no contradiction: the assessment says it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from calc.unit_format import format_area, format_length
from wizard.interview.reading import AnswerValues, Missing, Problem
from wizard.interview.topics import overhead

Check = Callable[[AnswerValues], Iterator[Problem]]


def cross_problems(values: AnswerValues) -> tuple[Problem, ...]:
    """Every contradiction among the answers that apply now. A check whose answers are missing is passed over."""
    found: list[Problem] = []
    for check in CHECKS:
        try:
            found += check(values)
        except Missing:
            continue
    return tuple(found)


def _applies(values: AnswerValues, question_id: str) -> bool:
    return values.applies(values.questions[question_id])


def _length(values: AnswerValues, question_id: str) -> str:
    return format_length(values.number(question_id), values.answers.units)


def obstructions_hang_below_joists(values: AnswerValues) -> Iterator[Problem]:
    for kind in overhead.KINDS:
        key = f"{kind}_underside"
        if _applies(values, key) and values.number(key) > values.number("shell_height"):
            title = values.questions[key].title
            joists = _length(values, "shell_height")
            yield Problem(
                key, f"{title}: {_length(values, key)} is above the joists, which are {joists} over the slab; measure to its lowest point."
            )


def obstructions_fit_the_area(values: AnswerValues) -> Iterator[Problem]:
    longest = max(values.number("shell_length"), values.number("shell_width"))
    for key in (f"{kind}_{part}" for kind in overhead.KINDS for part in ("width", "length")):
        if _applies(values, key) and values.number(key) > longest:
            title = values.questions[key].title
            how = "measure across it, not along it" if key.endswith("_width") else "count only what lies inside the area"
            yield Problem(key, f"{title}: {_length(values, key)} is more than the whole area is long; {how}.")


def way_out_fits_the_wall(values: AnswerValues) -> Iterator[Problem]:
    if not _applies(values, "escape_height"):
        return
    if values.number("escape_height") + values.number("escape_sill") > values.number("shell_height") + 0.3:
        yield Problem(
            "escape_height",
            f"Clear height of the way out: {_length(values, 'escape_height')} over a sill at {_length(values, 'escape_sill')} reaches "
            f"above the joists at {_length(values, 'shell_height')}; measure the clear opening again.",
        )
    longest = max(values.number("shell_length"), values.number("shell_width"))
    if values.number("escape_width") > longest:
        yield Problem(
            "escape_width",
            f"Clear width of the way out: {_length(values, 'escape_width')} is wider than the longest wall; measure it again.",
        )


def house_holds_the_room(values: AnswerValues) -> Iterator[Problem]:
    area = values.number("shell_length") * values.number("shell_width")
    if values.number("house_area") < area:
        units = values.answers.units
        yield Problem(
            "house_area",
            f"Floor area of the house: {format_area(values.number('house_area'), units)} is less than the area of this room alone "
            f"({format_area(area, units)}); give the living area of the whole house.",
        )


def bedroom_is_living_space(values: AnswerValues) -> Iterator[Problem]:
    if values.word("sleeping") == "yes" and values.word("habitable") == "no":
        yield Problem(
            "habitable",
            "Living space: a room that somebody sleeps in always counts as living space; answer yes here, or no to sleeping.",
        )


def fence_stands_between(values: AnswerValues) -> Iterator[Problem]:
    for key in (item for item in values.questions if item.endswith("_barrier_distance")):
        away = key.replace("_barrier_distance", "_distance")
        if _applies(values, key) and values.number(key) >= values.number(away):
            yield Problem(
                key,
                f"{values.questions[key].title}: {_length(values, key)} is no nearer than the neighbour's window, "
                f"{_length(values, away)}; what stands behind the neighbour hides nothing.",
            )


CHECKS: tuple[Check, ...] = (
    obstructions_hang_below_joists,
    obstructions_fit_the_area,
    way_out_fits_the_wall,
    house_holds_the_room,
    bedroom_is_living_space,
    fence_stands_between,
)
