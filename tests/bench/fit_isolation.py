"""Fit the constants of data/ties.toml to published ratings and bands; cross-validate by whole table blocks.

python tests/bench/fit_isolation.py            fit to everything, print constants and residuals
python tests/bench/fit_isolation.py --blocks   fit with each of six groups of table blocks left out in turn
"""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

sys.path.insert(0, str(Path(__file__).parent))
from isolation_data import block, family, linings, rated, spectra

from calc.isolation.parameters import Parameters, parameters
from calc.isolation.predict import transmission_loss
from calc.ratings import smooth_stc

Array = NDArray[np.float64]
# name, scale of the search (log: factor e^x; linear: added), lowest, highest
FREE: tuple[tuple[str, bool, float, float], ...] = (
    ("air_attenuation", True, 0.02, 2.0),
    ("open_attenuation", True, 0.02, 2.0),
    ("attenuation_exponent", False, 0.0, 1.3),
    ("reveal_attenuation", True, 0.02, 2.0),
    ("loss_board", True, 0.03, 0.12),
    ("loss_deck", True, 0.02, 0.4),
    ("loss_glass", True, 0.01, 0.2),
    ("loss_tie", True, 0.05, 1.0),
    ("resistance", True, 0.5, 4.0),
    ("orthotropy", False, 0.03, 0.3),
    ("wood", True, 1e-9, 5e-6),
    ("loss_bay", True, 0.01, 1.0),
    ("steel", True, 1e-6, 2e-5),
    ("staggered", True, 5e-7, 5e-5),
    ("resilient", True, 1e-6, 1e-4),
    ("furring", True, 1e-7, 1e-5),
    ("rolloff", True, 100.0, 3000.0),
    ("mass_exponent", False, -2.0, 1.0),
    ("bridge_gain", False, -5.0, 20.0),
    ("bridge_joist", False, -5.0, 30.0),
    ("bridge_point", False, -5.0, 30.0),
    ("plate_one", False, -40.0, 8.0),
    ("plate_two", False, -40.0, 8.0),
    ("plate_rolloff", True, 60.0, 5000.0),
    ("block_pores", True, 0.02, 0.3),
    ("masonry_attenuation", True, 0.02, 2.0),
    ("masonry_cap", False, -40.0, -10.0),
    ("size", True, 2.4, 30.0),
)
WEIGHTS = {"double light": 0.36, "double glazing": 0.36, "lined masonry": 0.3, "low frequency": 1.1, "single glazing": 0.05}


def pack(p: Parameters) -> Array:
    return np.array([np.log(getattr(p, n)) if log else getattr(p, n) for n, log, *_ in FREE])


def unpack(x: Array) -> Parameters:
    return replace(parameters(), **{n: float(np.exp(v)) if log else float(v) for (n, log, *_), v in zip(FREE, x, strict=True)})


def soft(error: Array, width: float) -> Array:
    """Errors beyond ``width`` count less (Huber-like)."""
    return np.asarray(np.sign(error) * width * np.sqrt(2.0 * (np.sqrt(1.0 + (error / width) ** 2) - 1.0)))


def fit(keep: NDArray[np.bool_], verbose: bool = False, start: Parameters | None = None, rounds: int = 25) -> Parameters:
    """Constants from the rated assemblies ``keep`` and all spectra of the families in WEIGHTS."""
    tests, stcs = rated()
    tests, stcs = tuple(np.array(tests, dtype=object)[keep]), stcs[keep]
    bands = spectra()
    use = np.array([f in WEIGHTS for f in bands.families])
    weight = np.array([WEIGHTS.get(f, 0.0) for f in bands.families])[use]
    rows = tuple(np.array(bands.assemblies, dtype=object)[use])
    lined, classes = linings()
    counts: dict[str, int] = {}
    for a in tests:
        counts[family(a)] = counts.get(family(a), 0) + 1
    # a family of 11 alike floors must not outvote one of 3 walls
    balance = np.array([min(2.0, (12.0 / counts[family(a)]) ** 0.25) for a in tests])
    first = pack(start or parameters())

    def residual(x: Array) -> Array:
        p = unpack(x)
        loss = transmission_loss((*tests, *rows, *lined), p)
        rating = soft((smooth_stc(loss[: len(tests)]) - stcs) * balance / 1.3, 3.0)
        full = np.full((len(bands.assemblies), 21), np.nan)
        full[use] = loss[len(tests) : len(tests) + len(rows)]
        errors = bands.errors(full)[use]
        shape = soft((np.nan_to_num(errors) * weight[:, None]).ravel() * np.sqrt(3.0), 6.0)
        others = soft((smooth_stc(loss[len(tests) + len(rows) :]) - classes) / 2.6, 3.0)
        return np.concatenate([rating, shape, others, 0.15 * (x - first)])

    low = [np.log(a) if log else a for _, log, a, _ in FREE]
    high = [np.log(b) if log else b for _, log, _, b in FREE]
    scale = [0.3 if log else 0.3 * max(abs(v), 1.0) for (_, log, *_), v in zip(FREE, first, strict=True)]
    found = least_squares(residual, np.clip(first, low, high), bounds=(low, high), x_scale=scale, diff_step=3e-3, max_nfev=rounds)
    if verbose:
        print("cost", found.cost, found.nfev)
    return unpack(found.x)


def report(p: Parameters) -> None:
    tests, stcs = rated()
    loss = transmission_loss(tests, p)
    error = smooth_stc(loss) - stcs
    for name in dict.fromkeys(family(a) for a in tests):
        mine = error[[family(a) == name for a in tests]]
        print(f"{name:22} {mine.size:3} bias {mine.mean():5.1f} mae {np.abs(mine).mean():4.1f}", np.round(mine, 1))
    print(f"STC mae {np.abs(error).mean():.2f} bias {error.mean():.2f} within 3: {(np.abs(error) <= 3.4).mean():.2f}")
    bands = spectra()
    errors = bands.errors(transmission_loss(bands.assemblies, p))
    for name in dict.fromkeys(bands.families):
        mine = errors[[f == name for f in bands.families]]
        with np.errstate(invalid="ignore"):
            print(
                f"{name:16} {len(mine):3} mean",
                np.round(np.nanmean(mine, 0), 1),
                "rms",
                np.round(np.sqrt(np.nanmean(mine**2, 0)), 1),
                "125-4k" if name != "low frequency" else "",
                round(float(np.sqrt(np.nanmean(mine[:, 0 if name == "low frequency" else 1 :] ** 2))), 2),
            )

    low = bands.thirds
    print(np.round(errors[low][:, :5], 1))


def main() -> None:
    tests, stcs = rated()
    if "--blocks" in sys.argv:
        names = sorted({block(a) for a in tests})
        left = np.zeros(len(tests))
        for part in range(6):
            out = np.array([names.index(block(a)) % 6 == part for a in tests])
            p = fit(~out, rounds=8)
            left[out] = smooth_stc(transmission_loss(tuple(np.array(tests, dtype=object)[out]), p)) - stcs[out]
            print("group", part, np.abs(left[out]).mean())
        print(
            f"left out: mae {np.abs(left).mean():.2f} rms {np.sqrt((left**2).mean()):.2f} bias {left.mean():.2f} "
            f"90 % within {np.quantile(np.abs(left), 0.9):.1f} worst {np.abs(left).max():.1f}"
        )
        return
    p = fit(np.ones(len(tests), dtype=bool), verbose=True)
    for name, *_ in FREE:
        print(f"{name:22} {getattr(p, name):.4g}")
    report(p)


if __name__ == "__main__":
    np.set_printoptions(linewidth=220, suppress=True)
    main()
