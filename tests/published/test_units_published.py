"""Conversion factors against NIST Special Publication 811 (A. Thompson, B. N. Taylor, Guide for the Use of the SI, 2008), appendix B.8."""

from __future__ import annotations

import pytest

from calc.units import to_base


@pytest.mark.parametrize(
    ("unit", "dimension", "factor"),
    [
        ("ft", "length", 3.048e-01),
        ("in", "length", 2.54e-02),
        ("yd", "length", 9.144e-01),
        ("ft2", "area", 9.290304e-02),
        ("in2", "area", 6.4516e-04),
        ("ft3", "volume", 2.831685e-02),
        ("cfm", "flow", 4.719474e-04),
        ("BTU/h", "power", 2.930711e-01),
        ("psf", "pressure", 4.788026e01),
    ],
)
def test_factors(unit: str, dimension: str, factor: float) -> None:
    assert to_base(1.0, unit, dimension) == pytest.approx(factor, rel=2e-7)  # seven figures are printed


@pytest.mark.parametrize(("fahrenheit", "celsius"), [(32.0, 0.0), (212.0, 100.0), (-40.0, -40.0)])
def test_temperature(fahrenheit: float, celsius: float) -> None:
    """t/degC = (t/degF - 32)/1.8, NIST SP 811 B.8.2."""
    assert to_base(fahrenheit, "°F", "temperature") == pytest.approx(celsius, abs=1e-9)
