"""Seeing: how much the air blurs, moves and spreads the image of a star."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.constants import ARCSEC_PER_RADIAN, WAVELENGTH_NM

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

KOLMOGOROV_FWHM = 0.976  # FWHM = 0.976 lambda/r0 of a long exposure; Fried 1966, Roddier 1981
AIRMASS_EXPONENT = 0.6  # FWHM grows as X^(3/5); Roddier 1981
TILT_FOLLOWED = 0.85  # share of the image motion the eye follows; calibrated by hand, 0.7..1.0
STANDARD_PRESSURE_HPA = 1013.25  # Edlen 1966
STANDARD_KELVIN = 288.15  # Edlen 1966
BLUE_GREEN_NM, ORANGE_NM = 510.0, 610.0  # half-power points of photopic vision, CIE 1924


def fried_parameter_mm(fwhm_arcsec: ArrayLike) -> Floats:
    """Fried's r0 in mm at 550 nm from the long-exposure FWHM in the line of sight.

    ``r0 = 0.976 lambda / FWHM``. ``fwhm_arcsec`` above 0, any shape. FWHM is what a seeing
    monitor gives; a 1-to-10 scale is not, and no published table converts one.
    Source: Fried 1966, J. Opt. Soc. Am. 56, 1372; Roddier 1981, Progress in Optics 19, 281.
    """
    fwhm = np.asarray(fwhm_arcsec, dtype=float)
    return np.asarray(KOLMOGOROV_FWHM * WAVELENGTH_NM * 1e-6 * ARCSEC_PER_RADIAN / fwhm)


def apertures_per_r0(aperture_mm: float, fwhm_arcsec: ArrayLike) -> Floats:
    """The number D/r0 that says how broken the wave is; FWHM in the line of sight, any shape."""
    return aperture_mm / fried_parameter_mm(fwhm_arcsec)


def line_of_sight_fwhm(zenith_fwhm: ArrayLike, airmass: ArrayLike) -> Floats:
    """Seeing at an airmass from seeing at the zenith (same unit), ``X^0.6``; broadcast.

    Source: Roddier 1981. Seeing made near the ground or in the tube does not follow it.
    """
    return np.asarray(zenith_fwhm, dtype=float) * np.power(airmass, AIRMASS_EXPONENT)


def atmosphere_mtf(
    frequency: ArrayLike, d_over_r0: ArrayLike, tilt_followed: float = TILT_FOLLOWED
) -> Floats:
    """Contrast that the air leaves, 0..1, to an eye that follows part of the image's motion.

    ``exp(-3.44 (f D/r0)^(5/3) (1 - a f^(1/3)))``. ``frequency`` in D/lambda, 0..1, and
    ``d_over_r0`` >= 0 broadcast. ``tilt_followed`` is a: 0 a long exposure, 1 an eye that
    follows all motion. The tilt term goes with f^2 as a motion blur does, so 1 - a is the
    share of the motion's variance left in the picture.
    Source: Fried 1966, J. Opt. Soc. Am. 56, 1372. Limits: at a = 1 it gives 4 % (D/r0 = 1) to
    30 % (D/r0 = 4) less peak than simulated frames; unproved above D/r0 of about 5.
    """
    f = np.asarray(frequency, dtype=float)
    strength = np.asarray(d_over_r0, dtype=float) ** (5.0 / 3.0)
    loss = 3.44 * f ** (5.0 / 3.0) * (1.0 - tilt_followed * np.cbrt(f))
    return np.asarray(np.exp(-strength * loss))


def refractivity(wavelength_nm: float) -> float:
    """n - 1 of dry air at 15 C and 1013.25 hPa, for 230..1700 nm.

    Source: Edlen 1966, Metrologia 2, 71, eq. 22 (constants from memory).
    """
    square = (1000.0 / wavelength_nm) ** 2
    return 1e-8 * (8342.13 + 2406030.0 / (130.0 - square) + 15997.0 / (38.9 - square))


def dispersion_arcsec(
    airmass: ArrayLike,
    pressure_hpa: float = STANDARD_PRESSURE_HPA,
    temperature_c: float = 15.0,
) -> Floats:
    """Length of the little spectrum the air makes of a star, in arcsec, upright in the sky.

    ``(n(510 nm) - n(610 nm)) tan z``, the width in which the eye's response exceeds half;
    ``airmass`` 1..10, any shape, read as sec z. A flat atmosphere: too long by 10 % at X = 5.
    Source: Edlen 1966 for n; density from the ideal gas.
    """
    tangent = np.sqrt(np.maximum(np.square(np.asarray(airmass, dtype=float)) - 1.0, 0.0))
    density = pressure_hpa / STANDARD_PRESSURE_HPA * STANDARD_KELVIN / (temperature_c + 273.15)
    spread = (refractivity(BLUE_GREEN_NM) - refractivity(ORANGE_NM)) * ARCSEC_PER_RADIAN
    return np.asarray(spread * density * tangent)
