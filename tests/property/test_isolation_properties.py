"""What must hold for any assembly: order, mass, depth, fill, softness."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.bands import BANDS
from calc.isolation import tested
from calc.isolation.assembly import Assembly, Cavity, Leaf
from calc.isolation.cavity import mass_air_mass
from calc.isolation.materials import ply
from calc.isolation.predict import transmission_loss
from calc.isolation.reader import read_assemblies
from calc.isolation.tie import frames, supports
from calc.scheme import Ply

boards = st.sampled_from(
    [("gypsum board type X", 0.0159), ("gypsum board regular", 0.0127), ("plywood", 0.018), ("glass", 0.006), ("brick", 0.1)]
)
leaves = st.lists(boards, min_size=1, max_size=3).map(lambda rows: Leaf(tuple(ply(*row) for row in rows)))


@st.composite
def cavities(draw: st.DrawFn) -> Cavity:
    depth = draw(st.floats(0.01, 0.4))
    fill = draw(st.sampled_from(["none", "glass fibre", "mineral wool", "cellulose"]))
    thickness = 0.0 if fill == "none" else depth * draw(st.floats(0.1, 1.0))
    spacing = draw(st.floats(0.3, 0.7))
    return Cavity(depth, fill, thickness, draw(st.sampled_from(frames())), spacing, draw(st.sampled_from(supports())), spacing, 1.2)


@st.composite
def assemblies(draw: st.DrawFn) -> Assembly:
    row = draw(st.lists(leaves, min_size=1, max_size=4))
    return Assembly("any", "wall", tuple(row), tuple(draw(cavities()) for _ in row[1:]))


@settings(max_examples=30, deadline=None)
@given(st.lists(assemblies(), min_size=1, max_size=6), st.randoms())
def test_order_and_company_do_not_matter(group: list[Assembly], random: object) -> None:
    together = transmission_loss(group)
    assert np.isfinite(together).all()
    backwards = transmission_loss(group[::-1])[::-1]
    assert np.allclose(together, backwards, atol=1e-6)
    assert np.allclose(together[0], transmission_loss(group[:1])[0], atol=1e-6)


def wall(
    mass: float = 10.0, depth: float = 0.1, fill: float = 0.0, frame: str = "none", support: str = "absent", wide: float = 0.4
) -> Assembly:
    leaf = Leaf((Ply("gypsum board type X", 0.0159, mass),))
    cavity = Cavity(depth, "glass fibre" if fill else "none", fill * depth, frame, wide, support, wide, 1.2)
    return Assembly("wall", "wall", (leaf, leaf), (cavity,))


def light_wall(mass: float, front: float, depth: float, fill: float, frame: str) -> Assembly:
    leaves = tuple(Leaf((Ply("gypsum board type X", 0.0159, m),)) for m in (front, mass))
    return Assembly("framed", "wall", leaves, (Cavity(depth, "glass fibre", fill * depth, frame, 0.4),))


def above_resonance(mass: float, depth: float) -> np.ndarray:
    """Bands between twice the resonance and two thirds of the critical frequency, where no resonance of the leaf or the cavity rules."""
    lowest, highest = 2.0 * mass_air_mass(mass, mass, depth), 343.0 / (2.0 * depth) / 1.3
    return (lowest <= BANDS) & (BANDS <= 1600.0) & (highest >= BANDS)


@settings(max_examples=40, deadline=None)
@given(st.floats(6.0, 25.0), st.floats(1.05, 2.0), st.floats(0.05, 0.25))
def test_more_mass_never_lowers(mass: float, more: float, depth: float) -> None:
    light, heavy = transmission_loss([wall(mass, depth), wall(mass * more, depth)])
    assert (heavy - light)[above_resonance(mass, depth)].min(initial=0.0) >= -0.01


@settings(max_examples=40, deadline=None)
@given(st.floats(6.0, 25.0), st.floats(0.05, 0.15), st.floats(1.05, 1.6))
def test_more_depth_never_lowers(mass: float, depth: float, more: float) -> None:
    shallow, deep = transmission_loss([wall(mass, depth), wall(mass, depth * more)])
    assert (deep - shallow)[above_resonance(mass, depth * more)].min(initial=0.0) >= -0.3


@settings(max_examples=40, deadline=None)
@given(st.floats(6.0, 25.0), st.floats(0.05, 0.25), st.floats(0.3, 0.9))
def test_more_fill_never_lowers(mass: float, depth: float, share: float) -> None:
    none, some, full = transmission_loss([wall(mass, depth), wall(mass, depth, share), wall(mass, depth, 1.0)])
    bands = above_resonance(mass, depth)
    assert (some - none)[bands].min(initial=0.0) >= -0.3
    assert (full - some)[bands].min(initial=0.0) >= -0.5


@settings(max_examples=30, deadline=None)
@given(st.floats(8.0, 25.0), st.floats(0.09, 0.2))
def test_softer_support_never_lowers_above_twice_the_resonance(mass: float, depth: float) -> None:
    rigid, channel, clip = transmission_loss(
        [wall(mass, depth, 1.0, "wood stud", s) for s in ("absent", "resilient channel", "isolation clip")]
    )
    bands = (BANDS >= 250.0) & (BANDS <= 1600.0)
    assert (channel - rigid)[bands].min() >= -0.5
    assert (clip - channel)[bands].min() >= -0.5


@settings(max_examples=40, deadline=None)
@given(
    st.floats(8.0, 25.0),
    st.floats(1.05, 2.0),
    st.floats(0.09, 0.25),
    st.sampled_from(("separate rows of wood stud", "independent wood stud")),
)
def test_more_mass_on_decoupled_frames_never_lowers(mass: float, more: float, depth: float, frame: str) -> None:
    light, heavy = transmission_loss([light_wall(mass, 10.0, depth, 0.9, frame), light_wall(mass * more, 10.0, depth, 0.9, frame)])
    assert (heavy - light)[above_resonance(min(mass, 10.0), depth)].min(initial=0.0) >= -0.05


@settings(max_examples=40, deadline=None)
@given(st.floats(8.0, 25.0), st.floats(0.09, 0.2), st.floats(0.2, 1.2), st.floats(1.05, 3.0))
def test_clips_farther_apart_never_lower_above_the_resonance(mass: float, depth: float, spacing: float, more: float) -> None:
    leaf = Leaf((Ply("gypsum board type X", 0.0159, mass),))
    near, far = (
        Assembly("clips", "wall", (leaf, leaf), (Cavity(depth, "glass fibre", 0.8 * depth, "wood stud", 0.4, "isolation clip", 0.61, s),))
        for s in (spacing, spacing * more)
    )
    close, apart = transmission_loss([near, far])
    assert (apart - close)[BANDS >= 250.0].min() >= -0.1


@settings(max_examples=20, deadline=None)
@given(st.floats(0.3, 2.0), st.floats(2.0, 12.0), st.integers(12, 24))
def test_units_in_are_units_out(board: float, depth: float, spacing: int) -> None:
    def read(thick: str, deep: str, wide: str) -> Assembly:
        ply = {"material": "gypsum board type X", "thickness": thick}
        cavity = {"depth": deep, "frame": "wood stud", "frame_spacing": wide}
        return read_assemblies({"assembly": [{"id": "a", "element": "wall", "leaf": [{"plies": [ply]}] * 2, "cavity": [cavity]}]})[0]

    inches = read(f"{board!r} in", f"{depth!r} in", f"{spacing} in")
    metric = read(f"{board * 25.4!r} mm", f"{depth * 2.54!r} cm", f"{spacing * 0.0254!r} m")
    assert np.allclose(*transmission_loss([inches, metric]), atol=1e-6)


def test_one_assembly_alone_is_what_it_is_among_many() -> None:
    tests = tested.tested_assemblies()
    together = transmission_loss(tests)
    assert all(np.allclose(transmission_loss([tests[i]])[0], together[i], atol=1e-9) for i in range(0, len(tests), 7))
