"""Acuity at the eyepiece: the eye's own blur, and how faint stars coarsen it."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

BLUR_FWHM_ARCMIN = 1.0  # optics and retina of a good eye, small pupil; calibrated by hand
BRIGHT_UNTIL_MAG = 7.0  # brightness down to which acuity is full; calibrated by hand on Lewis 1914
LOSS_PER_MAG = 0.09  # log10 of coarsening a magnitude; calibrated by hand on Lewis 1914
REFERENCE_APERTURE_MM = 152.4  # six inches: where the brightness scale equals the magnitude
REFERENCE_PUPIL_MM = 1.0  # exit pupil of the same


def image_brightness_mag(
    magnitude: ArrayLike, aperture_mm: float, exit_pupil_mm: ArrayLike
) -> Floats:
    """Brightness of a star's disc on the retina, on a magnitude scale.

    ``m - 5 log10(D/152.4 mm) - 5 log10(d/1 mm)``: the magnitude of the star that looks as
    bright in six inches at 1 mm of exit pupil. More aperture gives more light, a smaller
    exit pupil spreads it. ``magnitude`` (after extinction) and ``exit_pupil_mm`` broadcast.
    """
    gain = 5.0 * np.log10(aperture_mm / REFERENCE_APERTURE_MM)
    spread = 5.0 * np.log10(np.asarray(exit_pupil_mm, dtype=float) / REFERENCE_PUPIL_MM)
    return np.asarray(np.asarray(magnitude, dtype=float) - gain - spread)


def coarsening(brightness_mag: ArrayLike) -> Floats:
    """Factor, 1 or more, by which a faint image coarsens the eye's resolution; any shape.

    ``10^(0.09 (b - 7))`` beyond b = 7. A straight line fitted by hand so that faint pairs need
    what Lewis 1914 found against bright ones (class means from memory); it has the slope of
    published acuity curves only roughly, and is untried beyond b = 14.
    """
    excess = np.maximum(np.asarray(brightness_mag, dtype=float) - BRIGHT_UNTIL_MAG, 0.0)
    return np.asarray(10.0 ** (LOSS_PER_MAG * excess))


def blur_fwhm_arcmin(brightness_mag: ArrayLike) -> Floats:
    """FWHM of the eye's own blur in arcmin of apparent angle; any shape."""
    return BLUR_FWHM_ARCMIN * coarsening(brightness_mag)
