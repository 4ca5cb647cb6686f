from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc.catalogue import load
from calc.structure import bending_span, deflection_span, own_joist_depth, wood
from calc.structure.ceiling import own_joist_loads, own_joist_span


def test_own_joists_grow_with_span_and_end() -> None:
    depths = [own_joist_depth(span, 22.0) for span in (2.0, 3.0, 4.0, 5.0)]
    assert depths == sorted(depths, key=lambda d: d or 9.0)
    assert own_joist_depth(12.0, 33.0) is None


def test_own_joist_by_hand() -> None:
    # 33 kg/m2, 4.3 m, 0.406 m apart: dead 324 + 100 Pa, live 479 Pa: w = 366 N/m; M = 847 Nm; Z(140) = 124e-6 m3: 6.8 MPa under
    # 875 psi x 1.3 x 1.15 = 9.0 MPa; sag of 424 + 239 Pa: 5 w L4 / 384 E I = 14 mm under 17.9. With 89 mm the sag alone is 55 mm.
    assert own_joist_depth(4.3, 33.0) == pytest.approx(0.140)


@settings(max_examples=40, deadline=None)
@given(st.floats(5.0, 40.0), st.sampled_from([0.089, 0.140, 0.184, 0.235]))
def test_own_joists_keep_the_span_tables_method_and_more(mass: float, depth: float) -> None:
    sizes, facts = load("options")["lid"], load("joists")["own_ceiling"]
    size = (sizes["own_joist_breadth"], depth, sizes["own_joist_spacing"])
    value = wood(facts["species"], facts["grade"], depth, size[2])
    dead, live = own_joist_loads(mass)
    code = min(bending_span(value, *size, dead + live), deflection_span(value, *size, live, facts["deflection"]))
    assert own_joist_span(depth, mass) <= code
    assert own_joist_span(depth, mass + 1.0) <= own_joist_span(depth, mass)
