"""A star through this mirror, in focus and out of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.optics.image import bessel_j0

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

BASE_NODES, NODES_A_WAVE, NODES_A_RADIUS = 400, 60, 12


def star_light(
    rho: Floats, wave: Floats, defocus_waves: float, radius: Floats, obstruction: float
) -> Floats:
    """Light (N,) of a star's picture over the peak of a perfect one in focus.

    ``I(v) = |int over t = e^2..1 of exp(2 pi i (W - D t)) J0(pi v sqrt t) dt|^2/(1 - e^2)^2``, W
    the wave at ``rho`` (K,), t = rho^2, D ``defocus_waves`` at the rim, above 0 inside focus, v the
    ``radius`` (N,) in units of lambda/D, e the secondary's share of the diameter.
    Source: Born & Wolf, Principles of Optics, 8.8 (from memory); the sum is taken at rings of equal
    area, more of them the farther out of focus and from the middle.
    """
    far = float(np.max(radius, initial=0.0))
    count = int(BASE_NODES + NODES_A_WAVE * abs(defocus_waves) + NODES_A_RADIUS * far)
    inner = obstruction**2
    t = inner + (1.0 - inner) * (np.arange(count) + 0.5) / count
    error = np.interp(np.sqrt(t), rho, wave) - defocus_waves * t
    field = np.exp(2j * np.pi * error) / count
    waves = bessel_j0(np.pi * np.asarray(radius)[:, None] * np.sqrt(t))
    return np.asarray(np.abs(waves @ field) ** 2)
