"""The bands of a grating at the tester, and where each zone of the mirror comes to its focus."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.mirror.reduction import WAVE_MM

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.mirror.reduction import Reduction

    Floats = NDArray[np.float64]

MIDDLE_SHARE = 0.04  # of the rim: nearer to the middle the slope is too small to divide by


def zone_focus_mm(found: Reduction, h_mm: Floats) -> Floats:
    """How far beyond the middle's focus the zones at ``h_mm`` (any shape) come to theirs, mm.

    For a lamp at the centre of curvature: ``h^2/R + h^4/2R^3 - R^2 lambda W'/h``, W the wave with
    its turned edge. Whatever the zero of the readings, since the wave does not know it.
    Source: geometry, as the steps of the reduction.
    """
    test = found.test
    rim, radius = test.optical_diameter_mm / 2.0, test.radius_mm
    h = found.rho * rim
    slope = np.gradient(found.wave, h)
    near = found.rho < MIDDLE_SHARE
    bend = slope / np.where(near, 1.0, h)
    bend[near] = bend[~near][0]
    at = np.minimum(np.abs(h_mm), rim)
    focus = at**2 / radius + at**4 / (2.0 * radius**3)
    bent = np.interp(at, h, bend) - bend[0] + _edge_bend(found, at)
    return np.asarray(focus - radius**2 * WAVE_MM * bent)


def _edge_bend(found: Reduction, h_mm: Floats) -> Floats:
    """Slope over radius (any shape) of the turned edge that is told beside the readings."""
    test = found.test
    if not (test.edge_width_mm and test.edge_waves):
        return np.zeros_like(h_mm)
    into = np.maximum(h_mm - test.optical_diameter_mm / 2.0 + test.edge_width_mm, 0.0)
    return -2.0 * test.edge_waves * into / test.edge_width_mm**2 / np.maximum(h_mm, 1e-9)


def ronchi_dark(
    x_mm: Floats, focus_mm: Floats, radius_mm: float, inside_mm: float, frequency: float
) -> NDArray[np.bool_]:
    """Where a grating of ``frequency`` lines a mm shows the mirror dark, any one shape.

    A zone comes to its own focus ``focus_mm`` beyond that of the middle; the grating
    ``inside_mm`` nearer to the mirror than that stands off it by their sum, so a ray from the
    place ``x_mm`` across the lines crosses at ``x (inside + focus)/R``. A lamp that moves with the
    grating counts ``inside_mm`` twice.
    Dark where ``floor(2 n s + 1/2)`` is odd, the middle bright. Geometric: no diffraction.
    """
    across = x_mm * (inside_mm + focus_mm) / radius_mm
    return np.asarray(np.floor(2.0 * frequency * across + 0.5) % 2.0 == 1.0)
