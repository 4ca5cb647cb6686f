"""No input that TOML can hold makes the reader do anything but read or explain."""

from __future__ import annotations

import copy
import datetime
from typing import Any

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.isolation.assembly import Assembly
from calc.isolation.predict import transmission_loss
from calc.isolation.reader import AssemblyError, read_assemblies

GOOD: dict[str, Any] = {
    "assembly": [
        {
            "id": "wall",
            "element": "wall",
            "measured": {"stc": 50},
            "leaf": [
                {"plies": [{"material": "gypsum board type X", "thickness": "15.9 mm", "surface_mass": "11 kg/m^2"}], "damped": False},
                {"plies": [{"material": "glass", "thickness": "6 mm"}]},
            ],
            "cavity": [
                {
                    "depth": "100 mm",
                    "fill": "glass fibre",
                    "fill_thickness": "90 mm",
                    "frame": "wood stud",
                    "frame_spacing": "16 in",
                    "support": "isolation clip",
                    "support_spacing": "2 ft",
                    "clip_spacing": "4 ft",
                }
            ],
        }
    ]
}
scalars = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(),
    st.floats(),
    st.text(max_size=12),
    st.just(datetime.date(2020, 1, 1)),
    st.sampled_from(
        [
            "-1 mm",
            "0 mm",
            "nan mm",
            "1e9 m",
            "9" * 400 + " mm",
            "1/0 in",
            "²/3 in",
            "5/8 in",
            "٣ mm",
            "[red]",
            "\x1b[2J",
            "wood joist",
            "none",
            "brick",
        ]
    ),
)
anything = st.recursive(
    scalars, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=6), inner, max_size=3), max_leaves=5
)


def places(value: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Every path into a tree of tables and lists."""
    keys = value.keys() if isinstance(value, dict) else range(len(value)) if isinstance(value, list) else ()
    found = [path] if path else []
    for key in keys:
        found += places(value[key], (*path, key))
    return found


def attempt(data: dict[str, Any]) -> tuple[tuple[Assembly, ...], str]:
    """What was read, or the sentence of the fault."""
    try:
        return read_assemblies(data), ""
    except AssemblyError as fault:
        return (), str(fault)


@settings(max_examples=50, deadline=None)
@given(st.sampled_from(places(GOOD)), anything, st.booleans())
def test_reader_reads_or_explains(path: tuple[Any, ...], value: Any, delete: bool) -> None:
    data = copy.deepcopy(GOOD)
    place: Any = data
    for key in path[:-1]:
        place = place[key]
    if delete:
        del place[path[-1]]
    else:
        place[path[-1]] = value
    read, sentence = attempt(data)
    assert sentence == "" or sentence.endswith(".")
    assert sentence.isprintable()
    assert np.isfinite(transmission_loss(read)).all()


@settings(max_examples=50, deadline=None)
@given(st.dictionaries(st.text(max_size=8), anything, max_size=3))
def test_any_table_is_read_or_explained(data: dict[str, Any]) -> None:
    _, sentence = attempt(data)
    assert sentence.isprintable()
