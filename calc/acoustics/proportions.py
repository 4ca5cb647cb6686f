"""Length to width to height against what standards recommend for listening rooms."""

from __future__ import annotations

from dataclasses import dataclass

from calc.catalogue import load


@dataclass(frozen=True)
class Proportion:
    """One condition on the proportions: ``value`` should lie within ``low``..``high``. ``standard``: it is part of the standards' range."""

    name: str
    value: float
    low: float
    high: float
    standard: bool
    source: str

    @property
    def ok(self) -> bool:
        return self.low <= self.value <= self.high


def proportions(length: float, width: float, height: float) -> tuple[Proportion, ...]:
    """Conditions on a room's sides [m]; the longer side in plan counts as the length.

    Source: ITU-R BS.1116-3 and EBU Tech 3276: 1.1 w/h <= l/h <= 4.5 w/h - 4, l/h < 3, w/h < 3; whole ratios: EBU Tech 3276, from memory.
    Raises ValueError when a side is not above zero.
    """
    if min(length, width, height) <= 0.0:
        raise ValueError(f"A room's sides must be above 0 m, not {length:g} x {width:g} x {height:g}")
    long, short = max(length, width), min(length, width)
    l_h, w_h = long / height, short / height
    standard = "ITU-R BS.1116-3 and EBU Tech 3276"
    margin = float(load("acoustics")["size"]["integer_margin"])
    ratios = (("length to width", long / short), ("length to height", l_h), ("width to height", w_h))
    whole = tuple(
        Proportion(f"{name}, away from a whole ratio", _off_whole(ratio), margin, 1.0, False, "EBU Tech 3276, from memory")
        for name, ratio in ratios
    )
    return (
        Proportion("length to height, for this width", l_h, 1.1 * w_h, 4.5 * w_h - 4.0, True, standard),
        Proportion("length to height, at most 3", l_h, 0.0, 3.0, True, standard),
        Proportion("width to height, at most 3", w_h, 0.0, 3.0, True, standard),
        *whole,
    )


def within_standard(length: float, width: float, height: float) -> bool:
    """The sides [m] keep the range of ``proportions`` that ITU-R BS.1116-3 and EBU Tech 3276 give."""
    return all(found.ok for found in proportions(length, width, height) if found.standard)


def _off_whole(ratio: float) -> float:
    """How far a ratio of at least 1 (or its inverse) is from the nearest whole number, as a share of that number."""
    ratio = max(ratio, 1.0 / ratio)
    whole = max(round(ratio), 1)
    return abs(ratio - whole) / whole
