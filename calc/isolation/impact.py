"""Impact sound of a bare floor under the standard tapping machine."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from calc.bands import EXACT_BANDS
from calc.isolation.assembly import Assembly
from calc.isolation.leaf import plate
from calc.isolation.materials import material
from calc.isolation.parameters import SPEED_OF_SOUND, Parameters

Array = NDArray[np.float64]
_HAMMER = 0.5  # kg, ISO 10140-5


def impact_level(assembly: Assembly, loss: Array, p: Parameters) -> Array:
    """Normalised impact level [dB] (10 m2 of absorption) in the 21 bands of a floor, walked-on side first and bare.

    By reciprocity with its transmission loss (21,) [dB]: Ln + R = 38 + 30 lg f in thirds of an octave (Heckl & Rathe, J. Acoust. Soc.
    Am. 35 (1963) 1825, from memory), less what the floor's yielding takes from the blow: a hammer of 0.5 kg on the point impedance of
    the walked-on leaf, and a softer contact (constant "contact" of the material, fitted to the code table's floors). No offset. Against
    the 79 floors of the code table the class is off by 3 points on average; floor coverings are not modelled.
    """
    top = plate(assembly.leaves[0], p)
    critical = top.massive.critical if top.massive else top.critical
    resistance = 8.0 * top.mass * SPEED_OF_SOUND**2 / (2.0 * np.pi * critical)  # 8 sqrt(B m), N s/m
    omega = 2.0 * np.pi * EXACT_BANDS
    blow = 1.0 / (1.0 + (omega * _HAMMER / resistance) ** 2)
    contact = material(assembly.leaves[0].plies[0].material).contact
    if contact > 0.0:
        blow = blow / (1.0 + (EXACT_BANDS / contact) ** 4)
    return np.asarray(38.0 + 30.0 * np.log10(EXACT_BANDS) + 10.0 * np.log10(blow) - loss)
