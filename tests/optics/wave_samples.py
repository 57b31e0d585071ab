"""Waves whose form and RMS the textbooks know."""

from __future__ import annotations

import numpy as np

from planner.optics.figure import Figure, refocused_error


def spherical(peak_to_valley_waves: float) -> Figure:
    """Spherical aberration of a given peak to valley at best focus: ``4 PV (r^4 - r^2)``."""
    radius = np.linspace(0.0, 1.0, 41)
    error = 4.0 * peak_to_valley_waves * (radius**4 - radius**2)
    return Figure(profile=tuple(zip(radius.tolist(), error.tolist(), strict=True)))


def mapped_rms_waves(figure: Figure, obstruction_ratio: float) -> float:
    """RMS of the mapped error over the clear annulus at best focus, from rings of equal area."""
    area = obstruction_ratio**2 + (1.0 - obstruction_ratio**2) * (np.arange(3000) + 0.5) / 3000
    return float(np.std(refocused_error(figure, obstruction_ratio, np.sqrt(area))))


def coma_rms_waves(height_mm: float, focal_ratio: float) -> float:
    """RMS of a paraboloid's coma off the axis, waves of 550 nm, best plane taken out.

    ``W = h r^3 cos(phi) / (32 F^3)`` (Born & Wolf 1999, sec. 9.2) on a fine grid, the plane by
    least squares.
    """
    side = np.linspace(-1.0, 1.0, 301)
    x, y = np.meshgrid(side, side)
    inside = np.hypot(x, y) <= 1.0
    x, y = x[inside], y[inside]
    wave = height_mm / 550e-6 / (32.0 * focal_ratio**3) * x * (x**2 + y**2)
    plane = np.stack([np.ones_like(x), x, y], axis=1)
    left = wave - plane @ np.linalg.lstsq(plane, wave, rcond=None)[0]
    return float(left.std())
