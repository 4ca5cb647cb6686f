"""One rule's outcome."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Severity(StrEnum):
    STOP = "stop"
    CAUTION = "caution"
    NOTE = "note"


@dataclass(frozen=True)
class Finding:
    """``measured`` and ``limit`` are in SI with ``unit`` ("m", "m2", "kPa", "1", ...), None where the rule is not a number.

    ``task`` names the stage (an id of data/tasks.toml) where the plan repeats the warning, or "".
    """

    rule: str
    severity: Severity
    title: str
    measured: float | None
    limit: float | None
    unit: str
    source: str
    remedy: str
    decides: str  # who decides: owner | structural engineer | HVAC designer | electrician | building official | ...
    task: str = ""
