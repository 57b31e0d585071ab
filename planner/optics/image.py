"""The image of a star: transfer function, profile, rings and equal pairs.

Angles in units of lambda/D, frequencies in units of D/lambda (1 is the cut-off), D being the
clear aperture. A profile is 1 at the centre for a perfect wave through the same annulus.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from planner.errors import ModelRangeError
from planner.optics.figure import Figure, refocused_error
from planner.optics.quadrature import gauss_legendre

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Bools = NDArray[np.bool_]
    Complexes = NDArray[np.complexfloating]
    Floats = NDArray[np.float64]

FIGURE_SCALE = 0.25  # correlation length of an unmapped error, in D/lambda; calibrated by hand
NODES = 400  # Gauss-Legendre nodes of the transform; exact to 1e-6 out to 60 lambda/D
WIDEST_OBSTRUCTION = 0.6  # shadow over aperture; no visual telescope has more
_RINGS, _ANGLES = 240, 48
_FINE = 16000  # steps of the radius; the nearest is good to 1e-5 in contrast

# Abramowitz & Stegun 1964, 9.4.1 and 9.4.3; absolute error below 1e-7
_J0_SMALL = (1.0, -2.2499997, 1.2656208, -0.3163866, 0.0444479, -0.0039444, 0.0002100)
_J0_SIZE = (0.79788456, -7.7e-7, -0.00552740, -9.512e-5, 0.00137237, -7.2805e-4, 1.4476e-4)
_J0_TURN = (-0.78539816, -0.04166397, -3.954e-5, 0.00262573, -5.4125e-4, -2.9333e-4, 1.3558e-4)


def _polynomial(coefficients: tuple[float, ...], x: Floats) -> Floats:
    total = np.full_like(x, coefficients[-1])
    for c in coefficients[-2::-1]:
        total *= x
        total += c
    return total


def bessel_j0(x: Floats) -> Floats:
    """J0(x) for x >= 0, any shape. Source: as the constants; absolute error below 1e-7."""
    large = np.maximum(x, 3.0)
    far = _polynomial(_J0_SIZE, 3.0 / large) * np.cos(large + _polynomial(_J0_TURN, 3.0 / large))
    far /= np.sqrt(large)
    return np.where(x < 3.0, _polynomial(_J0_SMALL, np.minimum(x / 3.0, 1.0) ** 2), far)


def _checked(obstruction_ratio: float) -> float:
    if not 0.0 <= obstruction_ratio <= WIDEST_OBSTRUCTION:
        raise ModelRangeError(
            f"obstruction of {obstruction_ratio} of the aperture is outside "
            f"0..{WIDEST_OBSTRUCTION}; give the secondary's minor axis over the clear aperture"
        )
    return obstruction_ratio


def _overlap(frequency: Floats) -> Floats:
    """Overlap of two unit discs 2 frequency apart, over the area of one."""
    f = np.clip(frequency, 0.0, 1.0)
    return np.asarray(2.0 / np.pi * (np.arccos(f) - f * np.sqrt(1.0 - f**2)))


def annular_mtf(frequency: ArrayLike, obstruction_ratio: float) -> Floats:
    """Contrast a perfect annular aperture passes, 0..1.

    Overlap of two annuli: disc on disc + hole on hole - 2 disc on hole. ``frequency`` in
    D/lambda, any shape; ``obstruction_ratio`` 0..0.6.
    Raises ModelRangeError for a wider obstruction.
    Source: O'Neill 1956, J. Opt. Soc. Am. 46, 285.
    """
    e = _checked(obstruction_ratio)
    f = np.asarray(frequency, dtype=float)
    if e == 0.0:
        return _overlap(f)
    apart = np.clip(2.0 * f, 1.0 - e, 1.0 + e)
    disc = np.arccos(np.clip((apart**2 + 1.0 - e**2) / (2.0 * apart), -1.0, 1.0))
    hole = np.arccos(np.clip((apart**2 + e**2 - 1.0) / (2.0 * apart * e), -1.0, 1.0))
    kite = ((1.0 + e) ** 2 - apart**2) * (apart**2 - (1.0 - e) ** 2)
    shared = (disc + e**2 * hole - 0.5 * np.sqrt(np.maximum(kite, 0.0))) / np.pi
    holes = e**2 * _overlap(np.minimum(f, e) / e)
    return np.asarray((_overlap(f) + holes - 2.0 * shared) / (1.0 - e**2))


def wavefront_mtf(frequency: ArrayLike, obstruction_ratio: float, figure: Figure) -> Floats:
    """Contrast passed by an annulus with the figure's mapped error, refocused.

    Autocorrelation of the pupil in polar coordinates with exact limits of angle, 240 x 48
    points in single precision: good to 2e-4 in contrast. Half of the overlap is summed, where the
    shifted pupil lies nearer to its middle; the other half is its mirror image. ``frequency`` in
    D/lambda, one axis; may go negative where contrast is reversed.
    """
    e = _checked(obstruction_ratio)
    nodes, weights = gauss_legendre(_RINGS)
    radius = e + (1.0 - e) * (nodes + 1.0) / 2.0
    here, fine = (
        np.exp(2j * np.pi * refocused_error(figure, e, at))
        for at in (radius, np.linspace(0.0, 1.0, _FINE + 1))
    )
    ring = np.conj(here) * weights * 2.0 * (1.0 - e) * radius
    fine = fine.astype(np.complex64)
    steps = [
        ring[rows] @ _ring_sums(radius[rows], first, last, f, fine)
        for f in np.maximum(np.asarray(frequency, dtype=float), 1e-9)
        for rows, first, last in (_open_angles(radius, e, f),)
    ]
    return np.real(steps) / (np.pi * (1.0 - e**2))


def _open_angles(radius: Floats, e: float, f: float) -> tuple[Bools, Floats, Floats]:
    """Which rings meet the inner half of the shifted pupil, and from which angle to which."""
    limits = [(radius**2 + 4.0 * f**2 - edge**2) / (4.0 * f * radius) for edge in (e, 1.0)]
    limits[1] = np.maximum(limits[1], f / radius)
    first, last = (np.arccos(np.clip(limit, -1.0, 1.0)) for limit in limits)
    rows = last > first
    return rows, first[rows], last[rows]


def _ring_sums(radius: Floats, first: Floats, last: Floats, f: float, fine: Complexes) -> Complexes:
    """The shifted pupil's wave summed along the open part of each ring.

    ``fine`` is the wave as a complex number at even steps of the radius; the nearest is taken.
    """
    nodes, weights = gauss_legendre(_ANGLES)
    half = (nodes + 1.0).astype(np.float32) / 2.0
    place = np.multiply.outer((last - first).astype(np.float32), half)
    place += first.astype(np.float32)[:, None]
    np.cos(place, out=place)
    place *= (-4.0 * f * radius).astype(np.float32)[:, None]
    place += (radius**2 + 4.0 * f**2).astype(np.float32)[:, None]
    np.sqrt(np.clip(place, 0.0, 1.0, out=place), out=place)
    place *= fine.size - 1
    along = fine.take(np.rint(place, out=place).astype(np.intp)) @ weights.astype(np.float32)
    return np.asarray(along * (last - first) / 2.0)


def figure_factor(frequency: ArrayLike, rms_waves: float) -> Floats:
    """Loss of contrast from an unmapped error of the wave, 0..1, any shape.

    ``exp(-(2 pi sigma)^2 (1 - exp(-(f/l)^2)))`` with l = 0.25: the core keeps
    ``exp(-(2 pi sigma)^2)``, the rest forms a halo some 4 lambda/D wide.
    Source: O'Neill 1963, Introduction to Statistical Optics (from memory); l by hand.
    """
    f = np.asarray(frequency, dtype=float)
    spread = 1.0 - np.exp(-((f / FIGURE_SCALE) ** 2))
    return np.asarray(np.exp(-((2.0 * np.pi * rms_waves) ** 2) * spread))


def instrument_mtf(frequency: ArrayLike, obstruction_ratio: float, figure: Figure) -> Floats:
    """Contrast the telescope passes: annulus, mapped and unmapped errors; one axis."""
    if any(w for _, w in figure.profile):
        mapped = wavefront_mtf(frequency, obstruction_ratio, figure)
    else:
        mapped = annular_mtf(frequency, obstruction_ratio)
    return mapped * figure_factor(frequency, figure.rms_waves)


@lru_cache(maxsize=1)
def mtf_nodes() -> tuple[Floats, Floats]:
    """Frequencies (400,) at which profiles want the transfer function, and their weights."""
    nodes, weights = gauss_legendre(NODES)
    root = (nodes + 1.0) / 2.0
    return root**2, weights * root**3


def psf_matrix(radius: ArrayLike, obstruction_ratio: float) -> Floats:
    """Matrix (400, R) that turns transfer functions into star profiles.

    ``profile = transfer @ matrix``, with ``transfer`` (..., 400) at ``mtf_nodes``. It is
    the Hankel transform ``8/(1-e^2) integral of T(f) J0(2 pi v f) f df``; ``radius`` (R,) in
    lambda/D, 0..60.
    """
    frequency, weight = mtf_nodes()
    v = np.asarray(radius, dtype=float)
    waves = bessel_j0(2.0 * np.pi * frequency[:, None] * v)
    return waves * (weight * 8.0 / (1.0 - _checked(obstruction_ratio) ** 2))[:, None]
