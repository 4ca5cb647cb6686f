"""Mirror images and reverberation against the open library pyroomacoustics (image source method), where it is installed."""

from __future__ import annotations

import numpy as np
import pytest

from calc.acoustics.reflections import mirror
from calc.acoustics.reverberation import eyring_time, sabine_time
from calc.geometry import Room

pra = pytest.importorskip("pyroomacoustics")

SIDES = (5.8, 4.1, 2.6)
VOLUME = float(np.prod(SIDES))
SURFACE = 2.0 * (SIDES[0] * SIDES[1] + SIDES[0] * SIDES[2] + SIDES[1] * SIDES[2])
SOURCE, EARS = (1.3, 0.9, 1.2), (4.1, 2.9, 1.4)


def test_first_mirror_images_are_the_same() -> None:
    box = pra.ShoeBox(SIDES, fs=16_000, max_order=1)
    box.add_source(SOURCE)
    box.add_microphone(EARS)
    box.image_source_model()
    room = Room(*SIDES)
    surfaces = ("side 1", "side 2", "side 3", "side 4", "floor", "ceiling")
    ours = sorted([SOURCE, *(mirror(room, surface, SOURCE) for surface in surfaces)])
    theirs = sorted(tuple(float(x) for x in np.round(image, 4)) for image in box.sources[0].images.T)
    np.testing.assert_allclose(ours, theirs, atol=1e-3)


@pytest.mark.parametrize("alpha", [0.1, 0.2, 0.35, 0.5])
def test_reverberation_of_an_evenly_lined_box(alpha: float) -> None:
    # Theory: the same formulas, c 343 m/s.
    absorption = alpha * SURFACE
    box = pra.ShoeBox(SIDES, fs=16_000, materials=pra.Material(alpha), max_order=40, air_absorption=False)
    assert sabine_time(VOLUME, absorption) == pytest.approx(box.rt60_theory(formula="sabine"), rel=0.002)
    assert eyring_time(VOLUME, SURFACE, absorption) == pytest.approx(box.rt60_theory(formula="eyring"), rel=0.002)


@pytest.mark.parametrize("alpha", [0.35, 0.5])
def test_mirror_images_decay_nearer_to_sabine(alpha: float) -> None:
    # All reflections of an evenly lined box are specular: it decays slower than Eyring's diffuse field, and within 15 % of Sabine's.
    absorption = alpha * SURFACE
    box = pra.ShoeBox(SIDES, fs=16_000, materials=pra.Material(alpha), max_order=40, air_absorption=False)
    box.add_source(SOURCE)
    box.add_microphone(EARS)
    box.compute_rir()
    measured = pra.experimental.measure_rt60(box.rir[0][0], fs=16_000, decay_db=20)
    sabine, eyring = float(sabine_time(VOLUME, absorption)), float(eyring_time(VOLUME, SURFACE, absorption))
    assert measured > eyring
    assert measured == pytest.approx(sabine, rel=0.15)
    assert abs(measured - sabine) < abs(measured - eyring)


def test_absorption_that_the_library_finds_for_a_time() -> None:
    # Its inverse of Sabine's formula (c 343 m/s) gives the coefficient at which ours returns the time.
    alpha, _ = pra.inverse_sabine(0.6, SIDES)
    assert sabine_time(VOLUME, alpha * SURFACE) == pytest.approx(0.6, rel=0.005)
