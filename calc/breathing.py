"""Which ends of the air paths people can breathe by: a choice by sound and money alone would end the ducts where the air is stale."""

from __future__ import annotations

from collections.abc import Sequence

from calc.brief import Brief
from calc.geometry import Room
from calc.isolation.duct_way import needed
from calc.scheme import AirPathOption
from calc.ventilation.checks import may_end


def end_of(option: AirPathOption) -> str:
    """Where the ducts of an air path end: outdoors, house or basement."""
    return "outdoors" if option.fan_unit else "house" if option.house_ducts else "basement"


def breathable(brief: Brief, options: Sequence[AirPathOption]) -> tuple[AirPathOption, ...]:
    """The air paths that hold the CO2 level, take no burner's air and can be built; all of them where none does: the findings say so then.

    Source: calc.ventilation.checks, at the shell's own size.
    """
    room, air = Room(brief.shell.length, brief.shell.width, brief.shell.height), needed(brief)
    good = {end for end in dict.fromkeys(map(end_of, options)) if may_end(brief, room, air, end)}
    return tuple(option for option in options if end_of(option) in good) or tuple(options)
