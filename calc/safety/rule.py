"""What every rule is, and short forms for making findings.

A rule takes brief, scheme and room, and the site too where it needs a fact that few rules need.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from calc.brief import Brief
from calc.catalogue import load
from calc.finding import Finding, Severity
from calc.geometry import Room
from calc.scheme import Scheme
from calc.site import Site

Rule = Callable[[Brief, Scheme, Room], Finding | None]
SiteRule = Callable[[Brief, Scheme, Room, Site], Finding | None]
PRACTICE = "common practice, no source"


def limits(table: str) -> dict[str, Any]:
    """One table of data/rules.toml. Raises KeyError for an unknown one."""
    found: dict[str, Any] = load("rules")[table]
    return found


def make(
    severity: Severity,
    rule: str,
    title: str,
    remedy: str,
    *,
    decides: str,
    task: str,
    source: str = PRACTICE,
    measured: float | None = None,
    limit: float | None = None,
    unit: str = "",
) -> Finding:
    """A finding; ``measured`` and ``limit`` in SI with ``unit``, absent where the rule is not a number."""
    return Finding(rule, severity, title, measured, limit, unit, source, remedy, decides, task)


def stop(rule: str, title: str, remedy: str, **facts: Any) -> Finding:
    return make(Severity.STOP, rule, title, remedy, **facts)


def caution(rule: str, title: str, remedy: str, **facts: Any) -> Finding:
    return make(Severity.CAUTION, rule, title, remedy, **facts)


def note(rule: str, title: str, remedy: str, **facts: Any) -> Finding:
    return make(Severity.NOTE, rule, title, remedy, **facts)
