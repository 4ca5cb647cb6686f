"""The slab under a wall and the air of a flame against outside sources; each check names its own."""

from __future__ import annotations

import pytest

from calc.safety.fuel import combustion_volume, known_rate_volume
from calc.structure import line_load_capacity
from calc.structure.beam import PSI
from calc.structure.slab import EDGE, PCI

INCH, FOOT, POUND_FORCE = 0.0254, 0.3048, 4.448222
BTU_H = 0.2930711  # W
STRENGTHS = (550, 600, 650, 700)  # flexural, psi; the table takes them as 9 sqrt(f'c)
TABLE = {
    4: (425, 455, 485, 510), 5: (565, 600, 640, 675), 6: (710, 755, 805, 850), 7: (860, 920, 975, 1030),
    8: (1015, 1080, 1150, 1215), 9: (1175, 1255, 1330, 1410), 10: (1340, 1430, 1520, 1605),
}  # fmt: skip


@pytest.mark.parametrize("inches", TABLE)
def test_wall_loads_near_the_centre_of_a_slab(inches: int) -> None:
    # US Army TM 5-809-12 / AFM 88-3 chapter 15, 1987, Table 3-2: lb per foot, subgrade modulus 100 lb/in3. Printed in steps of 5 lb/ft.
    for flexural, printed in zip(STRENGTHS, TABLE[inches], strict=True):
        strength = (flexural / 9.0) ** 2 * PSI
        load = line_load_capacity(inches * INCH, strength, 100 * PCI, at_edge=False) / (POUND_FORCE / FOOT)
        assert load == pytest.approx(printed, abs=3.0, rel=0.005)


def test_a_free_edge_carries_a_quarter_less() -> None:
    # Hetenyi, Beams on Elastic Foundation, 1946: infinite beam M = P / 4 lambda; half-infinite, load at its end, M = 0.3224 P / lambda.
    centre, edge = (line_load_capacity(0.1, 20e6, 15e6, at_edge=at) for at in (False, True))
    assert edge / centre == pytest.approx(0.25 / EDGE)
    with pytest.raises(ValueError, match="above zero"):
        line_load_capacity(0.0, 20e6, 15e6, at_edge=True)


def test_known_infiltration_rate() -> None:
    # Recomputed: 80,000 Btu/h at 0.40 air changes an hour needs 4,200 ft3, fan-assisted 3,000; no more than 0.60 is counted.
    power = 80_000 * BTU_H
    assert known_rate_volume(power, 0.40, fan_assisted=False) / FOOT**3 == pytest.approx(4200, rel=1e-3)
    assert known_rate_volume(power, 0.40, fan_assisted=True) / FOOT**3 == pytest.approx(3000, rel=1e-3)
    assert known_rate_volume(power, 2.0, fan_assisted=False) == known_rate_volume(power, 0.60, fan_assisted=False)
    assert known_rate_volume(power, 0.40, fan_assisted=False) > combustion_volume(power)
    with pytest.raises(ValueError, match="no infiltration"):
        known_rate_volume(power, 0.0, fan_assisted=False)
