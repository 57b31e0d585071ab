"""The faintest uniform patch of light a telescope shows."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.eye.stars import EyeAtTelescope, eyepiece_background_cd_m2
from planner.eye.threshold import (
    STEREORADIAN_PER_ARCMIN2,
    background_cd_m2,
    star_magnitude,
    threshold_increment_cd_m2,
)

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]


def _increment_cd_m2(
    eye: EyeAtTelescope, exit_pupil_mm: ArrayLike, sky_mag: ArrayLike, area_arcmin2: ArrayLike
) -> Floats:
    """Luminance in the sky that a patch must add to be noticed through the eyepiece."""
    magnification = eye.aperture_mm / np.asarray(exit_pupil_mm, dtype=float)
    seen = eyepiece_background_cd_m2(eye, exit_pupil_mm, sky_mag)
    area_sr = np.asarray(area_arcmin2, dtype=float) * STEREORADIAN_PER_ARCMIN2 * magnification**2
    in_eyepiece = threshold_increment_cd_m2(area_sr, seen)
    return np.asarray(eye.demand * in_eyepiece * background_cd_m2(sky_mag) / seen)


def surface_brightness_limit(
    eye: EyeAtTelescope, exit_pupil_mm: ArrayLike, sky_mag: ArrayLike, area_arcmin2: ArrayLike
) -> Floats:
    """Faintest surface brightness of a uniform patch, V mag/arcsec^2 above the sky.

    The threshold increment at the apparent area ``A M^2`` and the eyepiece's background,
    scaled back to the sky: eq 84, with the increment held where the background is black.

    ``exit_pupil_mm``: above 0, which also sets the magnification, aperture over exit pupil;
    ``sky_mag``: V mag/arcsec^2; ``area_arcmin2``: of the patch in the sky, above 0; broadcast.
    Source: Crumey 2014, MNRAS 442, 2600, eqs 81-86.
    Limits: round, uniform, white light; about 0.5 mag. No emission nebulae (line light).
    """
    return np.asarray(
        12.58 - 2.5 * np.log10(_increment_cd_m2(eye, exit_pupil_mm, sky_mag, area_arcmin2))
    )


def patch_limit_mag(
    eye: EyeAtTelescope, exit_pupil_mm: ArrayLike, sky_mag: ArrayLike, area_arcmin2: ArrayLike
) -> Floats:
    """Faintest total V magnitude of a uniform patch, as it reaches the ground.

    The surface brightness limit summed over the area (eq 88); for a point it is the star
    limit. Arguments and limits as ``surface_brightness_limit``.
    Source: Crumey 2014, MNRAS 442, 2600, eq 88.
    """
    area_sr = np.asarray(area_arcmin2, dtype=float) * STEREORADIAN_PER_ARCMIN2
    return star_magnitude(_increment_cd_m2(eye, exit_pupil_mm, sky_mag, area_arcmin2) * area_sr)
