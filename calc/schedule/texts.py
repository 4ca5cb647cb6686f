"""Fills the texts of data/tasks.toml."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

_PLACE = re.compile(r"\{(length:)?([a-z0-9_]+)\}")


@dataclass(frozen=True)
class Texts:
    """What the texts need to know: ``conditions`` that hold, ``values`` and ``lengths`` [m] that they name, numbers of the ``sides``."""

    conditions: frozenset[str]
    values: Mapping[str, str]
    lengths: Mapping[str, float]
    sides: tuple[int, ...]

    def all(self, entries: Iterable[str | Mapping[str, str]]) -> tuple[str, ...]:
        """The entries whose condition holds, one a side where a text names {side}, filled."""
        found: list[str] = []
        for entry in entries:
            text, when = (entry, "") if isinstance(entry, str) else (entry["text"], entry["when"])
            if when and when not in self.conditions:
                continue
            found += [self.fill(each) for each in self._by_side(text)]
        return tuple(found)

    def fill(self, text: str) -> str:
        """A text with its values in; lengths stay for the plan to write. Raises KeyError for a name that nobody knows."""
        if "{" not in text:
            return text

        def value(match: re.Match[str]) -> str:
            if not match[1]:
                return self.values[match[2]]
            if match[2] not in self.lengths:
                raise KeyError(match[2])
            return match[0]

        return _PLACE.sub(value, text)

    def named(self, texts: Iterable[str]) -> dict[str, float]:
        """The lengths [m] that filled texts name."""
        names = {name for text in texts if "{" in text for is_length, name in _PLACE.findall(text) if is_length}
        return {name: self.lengths[name] for name in sorted(names)}

    def _by_side(self, text: str) -> list[str]:
        if "{side}" not in text:
            return [text]
        return [text.replace("{side}", str(n)).replace("{side_", f"{{side_{n}_").replace(":side_", f":side_{n}_") for n in self.sides]
