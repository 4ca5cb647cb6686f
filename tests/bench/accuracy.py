"""Print how far the isolation engine is from published ratings and bands, by family.

    python tests/bench/accuracy.py

The predictions never see the ratings. Cross-validation by whole table blocks: tests/bench/fit_isolation.py --blocks.
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parent))
from isolation_data import family, linings, rated, spectra

from calc.bands import OCTAVES
from calc.isolation.predict import predictions, transmission_loss
from calc.ratings import stc


def ratings() -> None:
    tests, published = rated()
    error = np.asarray(stc(transmission_loss(tests))) - published
    print(f"{'family':22}{'n':>4}{'bias':>7}{'mae':>6}{'worst':>7}")
    for name in dict.fromkeys(family(a) for a in tests):
        mine = error[[family(a) == name for a in tests]]
        print(f"{name:22}{mine.size:4}{mine.mean():7.1f}{np.abs(mine).mean():6.1f}{mine[np.abs(mine).argmax()]:7.0f}")
    print(f"{'STC, all':22}{error.size:4}{error.mean():7.1f}{np.abs(error).mean():6.2f}   within 3: {(np.abs(error) <= 3).mean():.0%}")
    walls, classes = linings()
    other = np.asarray(stc(transmission_loss(walls))) - classes
    print(f"{'lined block, other lab':22}{other.size:4}{other.mean():7.1f}{np.abs(other).mean():6.1f}{other[np.abs(other).argmax()]:7.0f}")
    floors = [(a, p.iic) for a, p in zip(tests, predictions(tests, use_measured=False), strict=True) if p.iic is not None]
    if floors:
        impact = np.array([value - float((a.measured or {})["iic"]) for a, value in floors if "iic" in (a.measured or {})])
        print(f"{'IIC, floors':22}{impact.size:4}{impact.mean():7.1f}{np.abs(impact).mean():6.2f}")


def bands() -> None:
    data = spectra()
    errors = data.errors(transmission_loss(data.assemblies))
    print(
        f"\nbands, predicted less published [dB]; low frequency in thirds 50-125 Hz\n{'family':18}{'n':>4}",
        *(f"{f:>6.0f}" for f in OCTAVES),
    )
    for name in dict.fromkeys(data.families):
        mine = errors[[f == name for f in data.families]]
        seen = ~np.isnan(mine).all(axis=0)
        for what, value in (("mean", np.nanmean(mine[:, seen], axis=0)), ("rms", np.sqrt(np.nanmean(mine[:, seen] ** 2, axis=0)))):
            row = np.full(mine.shape[1], np.nan)
            row[seen] = value
            print(f"{name + ' ' + what:18}{len(mine):4}", *(f"{v:6.1f}" for v in row))
        judged = mine if name == "low frequency" else mine[:, 1:]
        print(f"{'':18}    rms of all{'' if name == 'low frequency' else ' 125-4000 Hz'} {np.sqrt(np.nanmean(judged**2)):.1f}")
    low = errors[[f == "low frequency" for f in data.families]]
    print(f"low frequency: {(np.abs(low) <= 4.0).sum()} of {(~np.isnan(low)).sum()} thirds within 4 dB")
    double = errors[[f in ("double light", "double glazing") for f in data.families]][:, 1:]
    print(f"double light and double glazing together: rms {np.sqrt(np.nanmean(double**2)):.2f}")


if __name__ == "__main__":
    ratings()
    bands()
