"""Checks between answers: two numbers that are each possible and cannot both be right."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from calc.unit_format import format_area, format_length
from wizard.interview.question import SIDE_IDS
from wizard.interview.reading import AnswerValues, Missing, Problem

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
    for kind in ("beam", "duct", "pipe"):
        key = f"{kind}_underside"
        if _applies(values, key) and values.number(key) > values.number("shell_height"):
            title = values.questions[key].title
            joists = _length(values, "shell_height")
            yield Problem(
                key, f"{title}: {_length(values, key)} is above the joists, which are {joists} over the slab; measure to its lowest point."
            )


def obstructions_fit_the_area(values: AnswerValues) -> Iterator[Problem]:
    longest = max(values.number("shell_length"), values.number("shell_width"))
    for kind in ("beam", "duct", "pipe"):
        key = f"{kind}_width"
        if _applies(values, key) and values.number(key) > longest:
            title = values.questions[key].title
            yield Problem(key, f"{title}: {_length(values, key)} is more than the whole area is long; measure across it, not along it.")


def accepted_ceiling_fits(values: AnswerValues) -> Iterator[Problem]:
    if values.number("lowest_ceiling") > values.number("shell_height"):
        joists = _length(values, "shell_height")
        yield Problem(
            "lowest_ceiling",
            f"Lowest ceiling you accept: {_length(values, 'lowest_ceiling')} is higher than the joists are now ({joists}); "
            "a finished ceiling is always lower than the joists.",
        )


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


def neighbour_has_a_party_wall(values: AnswerValues) -> Iterator[Problem]:
    if "attached_neighbour" in values.words("listeners") and all(values.word(side) != "party" for side in SIDE_IDS):
        yield Problem(
            "listeners",
            "Who must not hear it: an attached neighbour is chosen, but none of the four sides is a party wall; set that side to “party "
            "wall”, or leave the neighbour out.",
        )


def rest_of_basement_is_beside(values: AnswerValues) -> Iterator[Problem]:
    if "rest_of_basement" in values.words("listeners") and all(values.word(side) != "open" for side in SIDE_IDS):
        yield Problem(
            "listeners",
            "Who must not hear it: the rest of the basement is chosen, but none of the four sides is open to it; set that side to “open”, "
            "or leave it out.",
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


CHECKS: tuple[Check, ...] = (
    obstructions_hang_below_joists,
    obstructions_fit_the_area,
    accepted_ceiling_fits,
    way_out_fits_the_wall,
    neighbour_has_a_party_wall,
    rest_of_basement_is_beside,
    house_holds_the_room,
    bedroom_is_living_space,
)
