"""One way from the room to a listener, and what every such way is computed with."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, Generic, TypeVar

import numpy as np
from numpy.typing import NDArray

from calc.brief import Listener
from calc.catalogue import load
from calc.isolation.criteria import listener_kinds

Spectrum = NDArray[np.float64]
Option = TypeVar("Option")


@dataclass(frozen=True)
class Path:
    """One way to one listener: band levels there (21,) [dB] and their standard uncertainty (21,) [dB], the source's own left out.
    Of several options at once (``Together``): levels (n, 21), a row an option.

    ``doubt``: what the uncertainty is mostly about, a raiser of data/certainty.toml, or "" where nothing would help."""

    name: str
    levels: Spectrum
    uncertainty: Spectrum
    doubt: str = ""


@dataclass(frozen=True, eq=False)
class Together(Generic[Option]):
    """Options of one part, looked at in one go: whatever is found of them has a row an option. What is kept knows it by itself alone."""

    items: tuple[Option, ...]


def each(option: Option | Together[Option], work: Callable[[Option], Spectrum | float]) -> Any:
    """What ``work`` finds of an option: (21,) or a number; of several: (n, 21) or (n, 1)."""
    if not isinstance(option, Together):
        return work(option)
    found = np.stack([np.atleast_1d(work(item)) for item in option.items])
    return np.asarray(found, dtype=np.float64)


def one_of(option: Option | Together[Option]) -> Option:
    """An option that stands for all, where they are alike in what is asked."""
    return option.items[0] if isinstance(option, Together) else option


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


def db(ratio: float | Spectrum) -> Any:
    """Ratio of energies as a level [dB]."""
    return 10.0 * np.log10(ratio)


def in_room(inside: Spectrum, loss: Spectrum, area: float | Spectrum, absorption: float) -> Spectrum:
    """Level (21,) [dB] in a room behind an element: L1 - R + 10 lg(S/A); area and absorption area m2.

    Source: ISO 12354-1 / ISO 16283-1, diffuse fields.
    """
    return np.asarray(inside - loss + db(area / absorption))


def kept(*paths: Path | None) -> tuple[Path, ...]:
    """The paths that there are."""
    return tuple(path for path in paths if path is not None)
