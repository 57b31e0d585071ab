"""A second opinion on the faintest star, from an older and independent model."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.constants import NANOLAMBERT_AT_ZERO_MAG
from planner.eye.stars import EyeAtTelescope, light_loss_factor

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

NIGHT_LIMIT_NL = 10.0**3.17  # rods below, cones above; Schaefer 1990, eq 2
_NIGHT = (10.0**-9.80, 10.0**-1.90)  # C and K of Schaefer 1990, eq 2
_DAY = (10.0**-8.35, 10.0**-5.90)
_ONE_EYE = 1.41  # Schaefer 1990, table 1
_SKY_BV = 0.7  # colour of the night sky (from memory)
NIGHT_EXTINCTION = 1.2  # Schaefer 1990, eq 3: rods see bluer light than V


def threshold_footcandle(background_nl: ArrayLike) -> Floats:
    """Illuminance of the faintest star, foot-candles: ``C (1 + sqrt(K B))^2``.

    ``background_nl``: nanolamberts as the eye sees them, scalar or array.
    Source: Schaefer 1990, PASP 102, 212, eq 2 (data of Knoll 1946, form of Hecht 1947).
    Limits: a step of 0.09 mag where rods give way to cones, at 1480 nanolamberts.
    """
    background = np.asarray(background_nl, dtype=float)
    dark = background < NIGHT_LIMIT_NL
    scale, slope = (np.where(dark, n, d) for n, d in zip(_NIGHT, _DAY, strict=True))
    return np.asarray(scale * (1.0 + np.sqrt(slope * background)) ** 2)


def footcandle_magnitude(illuminance_fc: ArrayLike) -> Floats:
    """V magnitude of foot-candles: ``-16.57 - 2.5 log10 I``; Schaefer 1990, eq 16."""
    return np.asarray(-16.57 - 2.5 * np.log10(np.asarray(illuminance_fc, dtype=float)))


def _rod_colour_factor(colour_bv: ArrayLike) -> Floats:
    """Schaefer 1990, eq 13: ``-2.5 log10 Fc = 1 - (B - V) / 2``."""
    return np.asarray(10.0 ** (-0.4 * (1.0 - np.asarray(colour_bv, dtype=float) / 2.0)))


def schaefer_limit_mag(
    eye: EyeAtTelescope,
    exit_pupil_mm: ArrayLike,
    sky_mag: ArrayLike,
    extinction_mag: ArrayLike = 0.0,
    colour_bv: ArrayLike = 0.7,
) -> Floats:
    """Faintest star through the telescope after Schaefer, V magnitude outside the air.

    Threshold of eq 2 at the eyepiece's background, times the factors for one eye, extinction
    (1.2 of it at night), light loss, light outside the eye pupil, aperture and colour.

    ``exit_pupil_mm``: above 0; ``sky_mag``: V mag/arcsec^2; ``extinction_mag``: V band, along
    the line of sight; ``colour_bv``: B-V of the star; broadcast. The field factor of ``eye``
    does not enter: this is an average eye of experience 6 out of 9.
    Source: Schaefer 1990, PASP 102, 212, eqs 2-16. What divides the background (eq 15) is
    from memory.
    Limits: before extinction 0.4 to 0.95 mag fainter than ``telescopic_limit_mag`` at field
    factor 2. Left out: the direction effect of the eye (eq 9: up to 0.12 mag, and of the wrong
    sign) and seeing (eq 7).
    """
    exit_pupil = np.asarray(exit_pupil_mm, dtype=float)
    loss = light_loss_factor(eye, np.minimum(exit_pupil, eye.eye_pupil_mm))
    spill = np.maximum(exit_pupil / eye.eye_pupil_mm, 1.0) ** 2
    gain = (eye.eye_pupil_mm / eye.aperture_mm) ** 2
    power_squared = (eye.aperture_mm / exit_pupil) ** 2
    sky_nl = NANOLAMBERT_AT_ZERO_MAG * np.exp(-0.92104 * np.asarray(sky_mag, dtype=float))
    dimming = _ONE_EYE * loss * spill * gain * power_squared * _rod_colour_factor(_SKY_BV)
    needed = threshold_footcandle(sky_nl / dimming) * _ONE_EYE * loss * spill * gain
    limit = footcandle_magnitude(needed * _rod_colour_factor(colour_bv))
    return np.asarray(limit - NIGHT_EXTINCTION * np.asarray(extinction_mag, dtype=float))
