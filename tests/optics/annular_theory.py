"""What diffraction theory says of perfect annular images, worked out from the profile."""

from __future__ import annotations

import numpy as np

from planner.optics.image import annular_profile


def first_dark_ring(obstruction_ratio: float) -> float:
    """Radius of the first dark ring of a perfect annular telescope, lambda/D."""
    v = np.linspace(0.9, 1.3, 40001)
    return float(v[np.argmin(annular_profile(v, obstruction_ratio))])


def first_bright_ring(obstruction_ratio: float) -> float:
    """Brightness of the first bright ring's crest, as a share of the centre."""
    v = first_dark_ring(obstruction_ratio) + np.linspace(0.0, 0.9, 9001)
    return float(np.max(annular_profile(v, obstruction_ratio)))


def encircled_energy(radius: float, obstruction_ratio: float) -> float:
    """Share of the transmitted light within a radius (lambda/D, up to 20), perfect annulus."""
    nodes, weights = np.polynomial.legendre.leggauss(200)
    v = radius * (nodes + 1.0) / 2.0
    inside = annular_profile(v, obstruction_ratio) * v @ weights * radius / 2.0
    return float(inside * np.pi**2 / 2.0 * (1.0 - obstruction_ratio**2))


def equal_pair_dip(separation: float, obstruction_ratio: float) -> float:
    """Depth of the dark gap between equal stars, 0..1, in a perfect annular telescope.

    One minus valley over crest on the line through both; separation in lambda/D, 0.1..3.
    """
    x = np.linspace(0.0, separation / 2.0, 4001)
    line = annular_profile(x, obstruction_ratio)
    line += annular_profile(separation - x, obstruction_ratio)
    return float(1.0 - line[-1] / line.max())


def sparrow_separation(obstruction_ratio: float) -> float:
    """Separation, lambda/D, at which equal stars show a flat top (Sparrow 1916): the dip ends.

    Twice the radius at which the profile's curvature changes sign.
    """
    step = 0.01
    v = np.arange(0.2, 0.8, step / 20.0)
    near = [annular_profile(v + d, obstruction_ratio) for d in (-step, 0.0, step)]
    return float(2.0 * np.interp(0.0, near[0] - 2.0 * near[1] + near[2], v))


def separation_for_dip(dip: float, obstruction_ratio: float) -> float:
    """Separation, lambda/D, at which equal stars show a given dip (0.001..0.9)."""
    low, high = sparrow_separation(obstruction_ratio), 2.0
    for _ in range(40):
        middle = 0.5 * (low + high)
        deep = equal_pair_dip(middle, obstruction_ratio) >= dip
        low, high = (low, middle) if deep else (middle, high)
    return high
