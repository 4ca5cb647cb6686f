"""The reader of assembly files: what it takes, and that every fault is one sentence with assembly, key and what is allowed."""

from __future__ import annotations

import copy
import tomllib
from typing import Any

import pytest

from calc.isolation.assembly import Assembly
from calc.isolation.reader import AssemblyError, read_assemblies

GOOD = tomllib.loads("""
[[assembly]]
id = "two-rows"
element = "wall"
note = "free text"
[[assembly.leaf]]
plies = [{ material = "gypsum board type X", thickness = "15.9 mm" }, { material = "Drywall", thickness = "1/2 in" }]
damped = true
[[assembly.cavity]]
depth = "8 in"
fill = "fibreglass"
fill_thickness = "17.8 cm"
frame = "separate rows of wood stud"
frame_spacing = "406 mm"
support = "isolation clip"
support_spacing = "24 in"
clip_spacing = "1.22 m"
[[assembly.leaf]]
plies = [{ material = "gypsum board type X", thickness = "5/8 in", surface_mass = "10.7 kg/m^2" }]
""")


def read_one(data: dict[str, Any]) -> Assembly:
    return read_assemblies(data)[0]


def changed(*path: Any, value: Any) -> dict[str, Any]:
    """GOOD's only assembly with one entry replaced."""
    data = copy.deepcopy(GOOD)
    place: Any = data["assembly"][0]
    for key in path[:-1]:
        place = place[key]
    place[path[-1]] = value
    return data


def test_lengths_masses_and_other_words_for_a_material() -> None:
    wall = read_one(GOOD)
    assert wall.cavities[0].depth == pytest.approx(0.2032)
    assert wall.cavities[0].fill == "glass fibre"
    assert wall.cavities[0].clip_spacing == pytest.approx(1.22)
    assert wall.leaves[0].damped
    assert wall.leaves[0].plies[1].material == "gypsum board regular"
    assert wall.leaves[0].plies[1].thickness == pytest.approx(0.0127)
    assert wall.leaves[1].surface_mass == pytest.approx(10.7)


@pytest.mark.parametrize(("text", "metres"), [("89 mm", 0.089), ("3 1/2 in", 0.0889), ("3-1/2 in", 0.0889), ("0,2 m", 0.2), ('8"', 0.2032)])
def test_ways_to_write_a_length(text: str, metres: float) -> None:
    assert read_one(changed("cavity", 0, value={"depth": text})).cavities[0].depth == pytest.approx(metres)


def test_one_leaf_needs_no_cavity() -> None:
    wall = read_one({"assembly": [{"id": "slab", "leaf": [{"plies": [{"material": "concrete", "thickness": "150 mm"}]}]}]})
    assert wall.cavities == ()
    assert wall.surface_mass == pytest.approx(345.0)


@pytest.mark.parametrize(
    ("path", "value", "words"),
    [
        (("cavity", 0, "depth"), "-3 mm", ["two-rows", "cavity 1", "depth", "length"]),
        (("cavity", 0, "depth"), "0 mm", ["depth"]),
        (("cavity", 0, "depth"), "nan mm", ["depth"]),
        (("cavity", 0, "depth"), "89", ["depth", "unit"]),
        (("cavity", 0, "depth"), "1/0 in", ["depth"]),
        (("cavity", 0, "depth"), 89, ["depth"]),
        (("cavity", 0, "depth"), float("nan"), ["depth"]),
        (("cavity", 0, "depth"), True, ["depth"]),
        (("cavity", 0, "depth"), ["89 mm"], ["depth"]),
        (("cavity", 0, "depth"), "10 km", ["depth"]),
        (("cavity", 0, "frame"), "wood studs", ["frame", "wood stud", "nearest"]),
        (("cavity", 0, "frame"), 7, ["frame", "light steel stud"]),
        (("cavity", 0, "support"), "clips", ["support", "isolation clip"]),
        (("cavity", 0, "fill"), "straw", ["fill", "cellulose"]),
        (("cavity", 0, "fill_thickness"), "300 mm", ["fill_thickness", "203"]),
        (("cavity", 0, "fil"), "none", ["fil", "fill"]),
        (("cavity",), [], ["cavity", "2 leaves"]),
        (("cavity",), {"depth": "3 mm"}, ["cavity", "list"]),
        (("cavity", 0), "x", ["cavity 1", "table"]),
        (("leaf",), [], ["leaf"]),
        (("leaf",), "x", ["leaf"]),
        (("leaf", 0, "plies"), [], ["leaf 1", "plies"]),
        (("leaf", 0, "plies"), "gypsum", ["plies"]),
        (("leaf", 0, "plies"), [3], ["ply 1", "table"]),
        (("leaf", 0, "damped"), "yes", ["damped", "true or false"]),
        (("leaf", 0, "plies", 0, "material"), "gypsum board type Y", ["material", "gypsum board type x"]),
        (("leaf", 0, "plies", 0, "material"), [], ["material"]),
        (("leaf", 0, "plies", 0, "thickness"), "-1 mm", ["ply 1", "thickness"]),
        (("leaf", 1, "plies", 0, "surface_mass"), "inf kg/m^2", ["surface_mass", "kg/m^2"]),
        (("leaf", 1, "plies", 0, "surface_mass"), 10.7, ["surface_mass"]),
        (("element",), "roof", ["element", "glazing"]),
        (("id",), "", ["number 1", "id"]),
        (("id",), 5, ["number 1", "id"]),
        (("measured",), {"stc": "high"}, ["measured.stc"]),
        (("measured",), {"stc": float("nan")}, ["measured.stc"]),
        (("measured",), 45, ["measured"]),
        (("source",), 45, ["source"]),
        (("sorce",), "x", ["sorce", "source"]),
    ],
)
def test_a_fault_is_one_sentence_naming_place_key_and_what_is_allowed(path: tuple[Any, ...], value: Any, words: list[str]) -> None:
    with pytest.raises(AssemblyError) as fault:
        read_assemblies(changed(*path, value=value))
    sentence = str(fault.value)
    assert "\n" not in sentence
    assert sentence.endswith(".")
    for word in words:
        assert word in sentence


@pytest.mark.parametrize("data", [{}, {"assembly": []}, {"assembly": {}}, {"assembly": [3]}, {"assemblies": []}, {"assembly": [{}]}])
def test_files_that_are_no_list_of_assemblies(data: dict[str, Any]) -> None:
    with pytest.raises(AssemblyError):
        read_assemblies(data)


def test_an_id_comes_once() -> None:
    data = copy.deepcopy(GOOD)
    data["assembly"] *= 2
    with pytest.raises(AssemblyError, match="twice"):
        read_assemblies(data)


def test_a_missing_depth_is_named_as_missing() -> None:
    data = changed("cavity", 0, value={"fill": "none"})
    with pytest.raises(AssemblyError, match='lacks "depth"'):
        read_assemblies(data)
