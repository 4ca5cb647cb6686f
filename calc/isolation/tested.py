"""Published tests of assemblies, and which of them an assembly is the same construction as."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from calc.catalogue import load
from calc.isolation.assembly import Assembly, Cavity, Leaf
from calc.isolation.reader import read_assemblies

# How far a construction may differ and still be the one that was tested. The code table gives ranges (studs at 400 or 600 mm,
# fill of at least 90 % of the cavity), so these are its own tolerances where it has one.
_THICKNESS = 0.0006  # m, a board
_MASS = 0.06  # share, a leaf
_DEPTH = 0.007  # m, a cavity: 1/4 in
_FILL = 0.1  # share of the cavity depth
_SPACING = 0.02  # m, between fixings: 406 is 400, 610 is 600


@cache
def tested_assemblies() -> tuple[Assembly, ...]:
    """The tests of data/tested.toml, each with its source."""
    return read_assemblies({"assembly": load("tested")["assembly"]})


def _words(assembly: Assembly) -> tuple[object, ...]:
    """What must be equal word for word."""
    between = tuple((cavity.fill, cavity.frame, cavity.support) for cavity in assembly.cavities)
    return assembly.element, len(assembly.leaves), between


@cache
def _by_words() -> dict[tuple[object, ...], list[Assembly]]:
    table: dict[tuple[object, ...], list[Assembly]] = {}
    for test in tested_assemblies():
        table.setdefault(_words(test), []).append(test)
    return table


def _same_leaf(one: Leaf, other: Leaf) -> bool:
    """The same boards; plies of a leaf may change places."""
    if len(one.plies) != len(other.plies) or one.damped != other.damped:
        return False
    if abs(one.surface_mass - other.surface_mass) > _MASS * other.surface_mass:
        return False
    pairs = zip(sorted(one.plies, key=repr), sorted(other.plies, key=repr), strict=True)
    return all(a.material == b.material and abs(a.thickness - b.thickness) <= _THICKNESS for a, b in pairs)


def _same_spacing(asked: float, tested: float) -> bool:
    """A test that the table gives for a range of spacings is written with the middle, 500 mm, and stands for all of 400 to 610 mm."""
    if tested == 0.5:
        return 0.38 <= asked <= 0.62
    return abs(asked - tested) <= _SPACING


def _same_cavity(one: Cavity, other: Cavity) -> bool:
    depths = abs(one.depth - other.depth) <= _DEPTH and abs(one.fill_thickness - other.fill_thickness) <= _FILL * other.depth + 1e-9
    spacings = (other.frame == "none" or _same_spacing(one.frame_spacing, other.frame_spacing)) and (
        other.support == "absent" or _same_spacing(one.support_spacing, other.support_spacing)
    )
    clips = other.clip_spacing == 0.0 or _same_spacing(one.clip_spacing, other.clip_spacing)
    return depths and spacings and clips


def _same(one: Assembly, other: Assembly) -> bool:
    """Two assemblies of the same words; cavities first, as they are compared sooner and differ more often."""
    return all(_same_cavity(a, b) for a, b in zip(one.cavities, other.cavities, strict=True)) and all(
        _same_leaf(a, b) for a, b in zip(one.leaves, other.leaves, strict=True)
    )


def _turned(assembly: Assembly) -> Assembly:
    """The same wall seen from the other side. Only for cavities without a support, which belongs to the leaf behind it."""
    return Assembly(assembly.id, assembly.element, assembly.leaves[::-1], assembly.cavities[::-1], assembly.measured, assembly.source)


def _difference(one: Assembly, other: Assembly) -> float:
    """How far two matching constructions differ in spacings and depths [m], to take the nearest of several tests."""
    pairs = zip(one.cavities, other.cavities, strict=True)
    return sum(
        abs(a.depth - b.depth)
        + abs(a.fill_thickness - b.fill_thickness)
        + abs(a.frame_spacing - b.frame_spacing)
        + abs(a.support_spacing - b.support_spacing)
        for a, b in pairs
    )


def matching_test(assembly: Assembly) -> Assembly | None:
    """The published test of the same construction, or None: words equal, boards within 0.6 mm and 6 %, depths within 7 mm."""
    found = [test for test in _by_words().get(_words(assembly), ()) if _same(assembly, test)]
    if assembly.element == "wall" and all(cavity.support == "absent" for cavity in assembly.cavities):
        turned = _turned(assembly)
        found += [test for test in _by_words().get(_words(turned), ()) if _same(turned, test)]
    return min(found, key=lambda test: _difference(assembly, test), default=None)


def without_compound(assembly: Assembly) -> Assembly | None:
    """The same construction with no compound between its plies and no test of its own; None where it has none to leave out."""
    if not any(leaf.damped for leaf in assembly.leaves):
        return None
    return replace(assembly, leaves=tuple(replace(leaf, damped=False) for leaf in assembly.leaves), measured=None, source="")
