"""Assemblies from plain tables, as tomllib gives them. Every fault is one sentence that names assembly, key and what is allowed."""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any

from calc.catalogue import load
from calc.isolation.assembly import Assembly, Cavity, Leaf
from calc.isolation.materials import material_ids, material_words, ply
from calc.isolation.tie import frames, supports
from calc.scheme import Ply

ELEMENTS = ("wall", "floor", "door", "glazing")
_LENGTHS = {
    "mm": 1e-3, "cm": 1e-2, "m": 1.0, "in": 0.0254, "inch": 0.0254, "inches": 0.0254, '"': 0.0254, "ft": 0.3048, "feet": 0.3048, "'": 0.3048
}  # fmt: skip
_MASSES = {
    "kg/m^2": 1.0, "kg/m2": 1.0, "kg/m²": 1.0, "lb/ft^2": 4.882428, "lb/ft2": 4.882428, "psf": 4.882428
}  # fmt: skip
_QUANTITY = re.compile(r"\s*(?P<whole>\d+(?:[.,]\d+)?|[.,]\d+)(?:(?:[ -]+(?P<top>\d+))?\s*/\s*(?P<under>\d+))?\s*(?P<unit>[^\d\s].*?)\s*")
_MAX_LENGTH = 5.0  # m; a spacing or depth beyond it is a slip
_MAX_MASS = 5000.0  # kg/m2


class AssemblyError(ValueError):
    """A description that cannot be read; the message is one sentence for the person who wrote it."""


def _quantity(text: str, units: Mapping[str, float]) -> float | None:
    """A number with a unit in SI, None where the text is not just that. Fractions as "5/8 in" or "3 5/8 in"."""
    match = _QUANTITY.fullmatch(text)
    if match is None or match["unit"].lower() not in units:
        return None
    value = float(match["whole"].replace(",", "."))
    if match["under"] is not None:
        under = float(match["under"])
        if under == 0.0:
            return None
        value = value + float(match["top"]) / under if match["top"] else value / under
    return value * units[match["unit"].lower()]


def _short(value: object) -> str:
    text = repr(value) if not isinstance(value, str) else f'"{value}"'
    text = "".join(sign if sign.isprintable() else "?" for sign in " ".join(text.split()))
    return text if len(text) <= 60 else text[:57] + "..."


def _listed(words: Iterable[str]) -> str:
    return " | ".join(words)


class _Table:
    """One table of the file with its place, to word the faults."""

    def __init__(self, place: str, data: Any, keys: tuple[str, ...]) -> None:
        self.place = place
        if not isinstance(data, Mapping):
            raise AssemblyError(f"{place} must be a table, not {_short(data)}.")
        self.data = data
        for key in data:
            if key not in keys:
                near = difflib.get_close_matches(str(key), keys, n=1, cutoff=0.4)
                hint = f'; the nearest is "{near[0]}"' if near else ""
                raise AssemblyError(f"{place} has an unknown key {_short(str(key))}{hint}; allowed are {', '.join(keys)}.")

    def fault(self, key: str, allowed: str) -> AssemblyError:
        if key not in self.data:
            return AssemblyError(f'{self.place} lacks "{key}", which must be {allowed}.')
        return AssemblyError(f'{self.place}: "{key}" must be {allowed}, not {_short(self.data[key])}.')

    def text(self, key: str, default: str | None = None) -> str:
        value = self.data.get(key, default)
        if not isinstance(value, str) or (default is None and not value.strip()):
            raise self.fault(key, "text in quotes")
        return value

    def choice(self, key: str, allowed: tuple[str, ...], default: str | None, aliases: Mapping[str, str] | None = None) -> str:
        value = self.data.get(key, default)
        if isinstance(value, str):
            word = " ".join(value.split()).lower()
            for name in allowed:
                if name.lower() == word:
                    return name
            if aliases and word in aliases:
                return aliases[word]
        raise self.fault(key, f"one of {_listed(allowed)}{self._near(value, allowed)}")

    @staticmethod
    def _near(value: object, allowed: Iterable[str]) -> str:
        near = difflib.get_close_matches(value.lower(), list(allowed), n=1, cutoff=0.5) if isinstance(value, str) else []
        return f' (the nearest is "{near[0]}")' if near else ""

    def flag(self, key: str) -> bool:
        value = self.data.get(key, False)
        if not isinstance(value, bool):
            raise self.fault(key, "true or false")
        return value

    def length(self, key: str, default: float | None = None, zero: bool = False) -> float:
        """A length [m] above zero (or from zero); ``default`` where the key is absent, a fault when that is None."""
        return self._number(key, default, _LENGTHS, _MAX_LENGTH, zero, 'a length with its unit such as "89 mm" or "3 1/2 in"')

    def mass(self, key: str) -> float:
        return self._number(key, None, _MASSES, _MAX_MASS, False, 'a mass per area with its unit such as "10.7 kg/m^2"')

    def _number(self, key: str, default: float | None, units: Mapping[str, float], most: float, zero: bool, allowed: str) -> float:
        if key not in self.data and default is not None:
            return default
        value = self.data.get(key)
        read = _quantity(value, units) if isinstance(value, str) else None
        if read is None or not math.isfinite(read) or read > most or read < 0.0 or (read == 0.0 and not zero):
            limit = "from zero" if zero else "above zero"
            raise self.fault(key, f"{allowed}, {limit} and at most {most:g} {'m' if units is _LENGTHS else 'kg/m^2'}")
        return read

    def rows(self, key: str, what: str) -> list[Any]:
        value = self.data.get(key, [])
        if not isinstance(value, list):
            raise self.fault(key, f"a list of {what}")
        return value


@cache
def _fills() -> tuple[tuple[str, ...], dict[str, str]]:
    table = load("fills")["fill"]
    return tuple(table), {alias.lower(): name for name, row in table.items() for alias in row.get("aliases", ())}


def _ply(place: str, data: Any) -> Ply:
    table = _Table(place, data, ("material", "thickness", "surface_mass"))
    name = table.text("material")
    if " ".join(name.split()).lower() not in material_words():
        near = table._near(name, material_words())
        raise table.fault("material", f"one of {_listed(material_ids())}{near}")
    board = ply(name, table.length("thickness", 0.0) or None)
    if "surface_mass" in table.data:
        board = Ply(board.material, board.thickness, table.mass("surface_mass"))
    return board


def _leaf(place: str, data: Any) -> Leaf:
    table = _Table(place, data, ("plies", "damped", "note"))
    plies = table.rows("plies", "plies, each a table with material and thickness")
    if not plies:
        raise table.fault("plies", "a list of at least one ply")
    return Leaf(tuple(_ply(f"{place}, ply {i}", row) for i, row in enumerate(plies, 1)), table.flag("damped"))


def _cavity(place: str, data: Any) -> Cavity:
    keys = ("depth", "fill", "fill_thickness", "frame", "frame_spacing", "support", "support_spacing", "clip_spacing", "note")
    table = _Table(place, data, keys)
    depth = table.length("depth")
    if depth < 0.001:
        raise table.fault("depth", "at least 1 mm")
    fills, aliases = _fills()
    fill = table.choice("fill", fills, "none", aliases)
    thickness = table.length("fill_thickness", depth if fill != "none" else 0.0, zero=True)
    if fill == "none" and thickness > 0.0:
        raise table.fault("fill_thickness", "left out where fill is none")
    if fill != "none" and thickness == 0.0:
        raise table.fault("fill_thickness", "above zero where there is a fill")
    if thickness > depth + 0.0005:
        raise table.fault("fill_thickness", f"at most the depth of the cavity, {depth * 1000:g} mm")
    return Cavity(
        depth=depth,
        fill=fill,
        fill_thickness=thickness,
        frame=table.choice("frame", frames(), "none"),
        frame_spacing=table.length("frame_spacing", 0.0),
        support=table.choice("support", supports(), "absent"),
        support_spacing=table.length("support_spacing", 0.0),
        clip_spacing=table.length("clip_spacing", 0.0),
    )


def _measured(table: _Table) -> dict[str, Any] | None:
    if "measured" not in table.data:
        return None
    value = table.data["measured"]
    if not isinstance(value, Mapping):
        raise table.fault("measured", "a table of ratings such as { stc = 45 }")
    for key, number in value.items():
        if key not in ("stc", "iic", "rw", "c", "ctr", "oitc"):
            raise AssemblyError(f'{table.place}: "measured" has an unknown key {_short(str(key))}; allowed are stc, iic, rw, c, ctr, oitc.')
        if isinstance(number, bool) or not isinstance(number, int | float) or not -50.0 <= number <= 150.0:
            raise AssemblyError(f'{table.place}: "measured.{key}" must be a number of decibels from -50 to 150, not {_short(number)}.')
    return dict(value)


def _assembly(number: int, data: Any) -> Assembly:
    name = data.get("id") if isinstance(data, Mapping) else None
    named = isinstance(name, str) and bool(name.strip())
    place = f"assembly {_short(name)}" if named else f"assembly number {number}"
    table = _Table(place, data, ("id", "element", "leaf", "cavity", "measured", "source", "note"))
    if not named:
        raise table.fault("id", "text in quotes")
    leaves = [_leaf(f"{place}, leaf {i}", row) for i, row in enumerate(table.rows("leaf", "tables"), 1)]
    cavities = [_cavity(f"{place}, cavity {i}", row) for i, row in enumerate(table.rows("cavity", "tables"), 1)]
    if not leaves:
        raise table.fault("leaf", "at least one [[assembly.leaf]] table")
    if len(cavities) != len(leaves) - 1:
        raise AssemblyError(
            f'{place}: "cavity" must come once between each leaf and the next, '
            f"so {len(leaves)} leaves take {len(leaves) - 1}, not {len(cavities)}."
        )
    if len(leaves) > 12:
        raise AssemblyError(f'{place}: "leaf" may come at most 12 times, not {len(leaves)}.')
    return Assembly(
        id=str(name),
        element=table.choice("element", ELEMENTS, "wall"),
        leaves=tuple(leaves),
        cavities=tuple(cavities),
        measured=_measured(table),
        source=table.text("source", ""),
    )


def read_assemblies(data: dict[str, Any]) -> tuple[Assembly, ...]:
    """Assemblies of a file's table ``{"assembly": [...]}``, in the file's order. Form: DEVELOPERS.md and the README.

    Raises AssemblyError, one sentence that names the assembly, the key and what is allowed.
    """
    if not isinstance(data, Mapping):
        raise AssemblyError("The file must hold [[assembly]] tables.")
    for key in data:
        if key != "assembly":
            raise AssemblyError(f'The file has an unknown key {_short(str(key))}; the nearest is "assembly", the only one allowed.')
    rows = data.get("assembly", [])
    if not isinstance(rows, list) or not rows:
        raise AssemblyError('The file must hold at least one [[assembly]] table under the key "assembly".')
    read = tuple(_assembly(i, row) for i, row in enumerate(rows, 1))
    seen: set[str] = set()
    for assembly in read:
        if assembly.id in seen:
            raise AssemblyError(f'assembly {_short(assembly.id)}: "id" must be one of a kind in the file, and this one comes twice.')
        seen.add(assembly.id)
    return read
