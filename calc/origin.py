"""Where an answer comes from. Apart from calc.brief, which takes long to import, because every answer has one."""

from __future__ import annotations

from enum import StrEnum


class Origin(StrEnum):
    """Where an answer comes from; the plan prints it."""

    MEASURED = "measured"
    ESTIMATED = "estimated"
    DEFAULT = "default"
    UNKNOWN = "don't know"
