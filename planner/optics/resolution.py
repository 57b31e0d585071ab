"""How finely a telescope resolves: classical limits, and the disc of a perfect image."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import LAMBDA_ARCSEC_MM
from planner.errors import ModelRangeError

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

DAWES_ARCSEC_MM = 115.8  # 4.56" for one inch: Dawes 1867, Mem. RAS 35, 137
_ANGLES = np.arange(64) * (np.pi / 64)  # equal steps: the sum over them is exact for x < 50
_COS, _SIN2 = np.cos(_ANGLES), np.sin(_ANGLES) ** 2


def dawes_arcsec(aperture_mm: ArrayLike) -> Floats:
    """Dawes's limit in arcsec: 115.8 / aperture, for two yellowish stars of about magnitude 6.

    ``aperture_mm`` scalar or array, above 0. Found by eye with small refractors: a rule of
    experience; unequal, very bright or faint pairs need more room.
    Source: Dawes 1867, Memoirs of the Royal Astronomical Society 35, 137 (4.56" / inch).
    """
    return np.asarray(DAWES_ARCSEC_MM / np.asarray(aperture_mm, dtype=float))


def rayleigh_arcsec(aperture_mm: ArrayLike) -> Floats:
    """Rayleigh's limit in arcsec, 138.4 / aperture: one star on the other's first dark ring.

    ``1.2197 lambda / D`` at 550 nm, clear aperture; ``aperture_mm`` scalar or array, above 0.
    Source: Rayleigh 1879, Philosophical Magazine 8, 261.
    """
    return dark_ring_arcsec(aperture_mm)


def dark_ring_arcsec(aperture_mm: ArrayLike, obstruction_ratio: float = 0.0) -> Floats:
    """Radius of the first dark ring in arcsec, with a central obstruction, 550 nm.

    ``aperture_mm`` scalar or array, above 0; ``obstruction_ratio`` (diameter) 0..0.95. The
    obstruction makes the disc smaller and the rings around it brighter.
    Source: the zero of the annular aperture's amplitude, solved here; Schroeder 2000,
    Astronomical Optics, table 10.1 lists it.
    """
    zero = _dark_ring_lambda_d(_checked(obstruction_ratio))
    return np.asarray(zero * LAMBDA_ARCSEC_MM / np.asarray(aperture_mm, dtype=float))


def sparrow_arcsec(aperture_mm: ArrayLike, obstruction_ratio: float = 0.0) -> Floats:
    """Sparrow's limit in arcsec: two equal stars closer than this show no dip between them.

    Twice the radius at which the image of one star turns from convex to concave; 107.4 /
    aperture when clear. Arguments as for :func:`dark_ring_arcsec`; perfect optics and air.
    Source: Sparrow 1916, Astrophysical Journal 44, 76 (the criterion); solved here.
    """
    separation = _sparrow_lambda_d(_checked(obstruction_ratio))
    return np.asarray(separation * LAMBDA_ARCSEC_MM / np.asarray(aperture_mm, dtype=float))


def central_light_share(obstruction_ratio: float = 0.0) -> float:
    """Share, 0..1, of the light of a perfect star image that falls inside the first dark ring.

    Share of the light that passes the obstruction; the rest feeds the rings and dulls fine
    planetary contrast. ``obstruction_ratio`` 0..0.95.
    Source: ``(1-e^2)/2`` times the integral of ``I(x) x dx``; Schroeder 2000, table 10.1.
    """
    e = _checked(obstruction_ratio)
    x, step = np.linspace(0.0, np.pi * _dark_ring_lambda_d(e), 2001, retstep=True)
    inside = np.sum(_amplitude(x, e, 0) ** 2 * x) * step  # trapezia: both ends are 0
    return float((1.0 - e * e) / 2.0 * inside)


def strehl(wavefront_rms_waves: ArrayLike) -> Floats:
    """Strehl ratio of a wavefront error: ``exp(-(2 pi sigma)^2)``.

    ``wavefront_rms_waves`` RMS of the wave in wavelengths, scalar or array, 0 or more. Good
    to 0.01 up to 1/13 wave, too pessimistic beyond about 0.1.
    Source: Mahajan 1983, Journal of the Optical Society of America 73, 860.
    """
    return np.asarray(np.exp(-((2.0 * np.pi * np.asarray(wavefront_rms_waves, dtype=float)) ** 2)))


def _checked(obstruction_ratio: float) -> float:
    """The obstruction ratio, or an error where no aperture is left."""
    if not 0.0 <= obstruction_ratio <= 0.95:
        raise ModelRangeError(f"obstruction ratio {obstruction_ratio} is outside 0..0.95")
    return float(obstruction_ratio)


def _jinc(x: Floats, order: int) -> Floats:
    """``2 J1(x)/x`` (order 0) or its 1st or 2nd derivative, by Poisson's integral.

    ``2/pi`` times the integral of ``cos(x cos t) sin^2 t`` over 0..pi: Abramowitz & Stegun
    1964, 9.1.20. Equal steps on a periodic function converge to rounding error.
    """
    phase = np.multiply.outer(x, _COS) + order * (np.pi / 2.0)  # each derivative: a quarter turn
    return np.asarray(2.0 * np.mean(np.cos(phase) * _COS**order * _SIN2, axis=-1))


def _amplitude(x: Floats, obstruction: float, order: int) -> Floats:
    """Amplitude of the annular aperture's image (1 in the middle) or its derivatives in x."""
    e2 = obstruction * obstruction
    hole = e2 * obstruction**order * _jinc(obstruction * x, order)
    return (_jinc(x, order) - hole) / (1.0 - e2)


@lru_cache(maxsize=32)
def _dark_ring_lambda_d(obstruction: float) -> float:
    """First zero of the amplitude, in lambda/D."""
    return _zero(lambda x: float(_amplitude(np.asarray(x), obstruction, 0)), 1.0, 4.0) / np.pi


@lru_cache(maxsize=32)
def _sparrow_lambda_d(obstruction: float) -> float:
    """Separation in lambda/D at which ``I'' = 2 (a'^2 + a a'')`` vanishes half-way."""

    def bend(x: float) -> float:
        a, slope, curve = (float(_amplitude(np.asarray(x), obstruction, n)) for n in (0, 1, 2))
        return -(slope * slope + a * curve)

    return 2.0 * _zero(bend, 0.1, 2.0) / np.pi


def _zero(function: Callable[[float], float], low: float, high: float) -> float:
    """The sign change of a function that falls from positive to negative, by bisection."""
    for _ in range(50):
        middle = (low + high) / 2.0
        low, high = (middle, high) if function(middle) > 0.0 else (low, middle)
    return (low + high) / 2.0
