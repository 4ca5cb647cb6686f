"""Which country's model code a brief goes by, and how a rule is cited where only the other country's text was read."""

from __future__ import annotations

from typing import Any

from calc.catalogue import load

CANADA = "Canada"
ELSEWHERE = "elsewhere"
YARDSTICK = "limits of North America are only a yardstick: not the law where the house stands"
NOT_READ = "a US model code or practice, as no Canadian clause was read: ask which one applies where you live"


def country(code: str) -> str:
    """Country of a model-code case: "US", "Canada", "elsewhere", or "unknown" where the edition is not known. Raises KeyError for a wrong
    code."""
    return str(load("rules")["ceiling"][code].get("country", "unknown"))


def cited(code: str, source: str) -> str:
    """``source``, a US one, as it is cited under a model-code case: in another country with the word that it is not of there."""
    said = {CANADA: NOT_READ, ELSEWHERE: YARDSTICK}.get(country(code))
    return f"{source}; {said}" if said else source


def rule(code: str, table: str) -> dict[str, Any]:
    """One table of data/rules.toml with the values of the case's country, ``source`` among them.

    Where only US values are known, the source says so in any other country. Raises KeyError for an unknown table or code.
    """
    row: dict[str, Any] = {key: value for key, value in load("rules")[table].items() if key != "canada"}
    canadian = load("rules")[table].get("canada") if country(code) == CANADA else None
    return {**row, **canadian} if canadian else {**row, "source": cited(code, row["source"])}
