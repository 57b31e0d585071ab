"""What diffraction theory says of perfect annular images, worked out from the closed form."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


def _bessel_j1_over_x(x: Floats) -> Floats:
    """J1(x)/x by Poisson's integral, Abramowitz & Stegun 1964, 9.1.20.

    ``(1/pi) integral over 0..pi of cos(x cos t) sin^2 t dt`` by the trapezium rule, which is exact
    to rounding once its points outnumber the largest x.
    """
    points = int(np.max(x, initial=0.0)) + 40
    total = np.zeros_like(x)
    for angle in (np.arange(points) + 0.5) * np.pi / 2.0 / points:
        total += np.cos(x * np.cos(angle)) * np.sin(angle) ** 2
    return np.asarray(total / points)


def annular_profile(radius: Floats, obstruction_ratio: float) -> Floats:
    """Profile of a star in a perfect annular telescope, 1 at the centre; radius in lambda/D.

    ``[(2 J1(x)/x - e^2 2 J1(ex)/(ex)) / (1 - e^2)]^2``, x = pi v.
    Source: Schroeder 2000, Astronomical Optics, 2nd ed., ch. 10.
    """
    e, x = obstruction_ratio, np.pi * np.abs(radius)
    amplitude = 2.0 * (_bessel_j1_over_x(x) - e**2 * _bessel_j1_over_x(e * x)) / (1.0 - e**2)
    return np.asarray(amplitude**2)


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
