"""One way from the room to a listener, and what every such way is computed with."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from calc.brief import Listener
from calc.catalogue import load
from calc.isolation.criteria import listener_kinds

Spectrum = NDArray[np.float64]


@dataclass(frozen=True)
class Path:
    """One way to one listener: band levels there (21,) [dB] and their standard uncertainty (21,) [dB], the source's own left out.

    ``doubt``: what the uncertainty is mostly about, a raiser of data/certainty.toml, or "" where nothing would help."""

    name: str
    levels: Spectrum
    uncertainty: Spectrum
    doubt: str = ""


@dataclass(frozen=True)
class Loss:
    """A transmission loss (21,) [dB] with its standard uncertainty (21,) [dB]; whether a test of the construction anchors it."""

    tl: Spectrum
    uncertainty: Spectrum
    tested: bool = False

    @property
    def doubt(self) -> str:
        """What would make it surer: a raiser of data/certainty.toml."""
        return "" if self.tested else "predicted"


def house() -> dict[str, Any]:
    """What is taken of the house between the room and the listeners. Source: data/options.toml."""
    return dict(load("options")["house"])


def where(listener: Listener) -> str:
    """Where a listener is: a word of the listener table of data/criteria.toml."""
    return str(listener_kinds()[listener.kind]["where"])


def db(ratio: float) -> float:
    """Ratio of energies as a level [dB]."""
    return float(10.0 * np.log10(ratio))


def in_room(inside: Spectrum, loss: Spectrum, area: float, absorption: float) -> Spectrum:
    """Level (21,) [dB] in a room behind an element: L1 - R + 10 lg(S/A); area and absorption area m2.

    Source: ISO 12354-1 / ISO 16283-1, diffuse fields.
    """
    return inside - loss + db(area / absorption)


def kept(*paths: Path | None) -> tuple[Path, ...]:
    """The paths that there are."""
    return tuple(path for path in paths if path is not None)
