"""The faintest star: with the bare eye, and through a telescope."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.errors import ModelRangeError
from planner.eye.threshold import (
    BLACK_CD_M2,
    background_cd_m2,
    colour_gain_mag,
    star_magnitude,
    star_threshold_lx,
)

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

ONE_EYE = float(np.sqrt(2.0))  # one eye needs this much more light than two; Crumey 2014
_LEAST_OPEN_SHARE = 1e-6  # of a pupil filled by the secondary's shadow: dark, yet finite


@dataclass(frozen=True, slots=True)
class EyeAtTelescope:
    """One eye behind one telescope. Lengths in millimetres.

    ``aperture_mm`` and ``obstruction_mm`` are diameters, ``transmission`` the share of light
    that glass and mirrors pass, without the obstruction; ``eye_pupil_mm`` the dark pupil;
    ``field_factor`` 1 laboratory, 1.4 keen, 2 typical, 2.4 casual (Crumey 2014).
    Raises: ModelRangeError for values no telescope or eye has.
    """

    aperture_mm: float
    obstruction_mm: float
    transmission: float
    eye_pupil_mm: float
    field_factor: float

    def __post_init__(self) -> None:
        """Refuse values no telescope or eye has."""
        for name, fine, remedy in (
            ("aperture", self.aperture_mm > 0.0, "above 0 mm"),
            (
                "obstruction",
                0.0 <= self.obstruction_mm < self.aperture_mm,
                "0 mm to less than the aperture",
            ),
            ("transmission", 0.0 < self.transmission <= 1.0, "above 0, to 1"),
            ("eye pupil", 1.0 <= self.eye_pupil_mm <= 10.0, "1 to 10 mm"),
            ("field factor", 0.1 <= self.field_factor <= 30.0, "0.1 to 30"),
        ):
            if not fine:
                raise ModelRangeError(f"{name} must be {remedy}")

    @property
    def demand(self) -> float:
        """Crumey's phi: field factor times root two for the one eye in use."""
        return ONE_EYE * self.field_factor


def naked_eye_limit_mag(sky_mag: ArrayLike, field_factor: ArrayLike = 2.0) -> Floats:
    """Faintest star of the bare eyes, V magnitude: that of ``F B R(B)``.

    ``sky_mag``: V mag/arcsec^2; ``field_factor``: F; scalars or arrays, broadcast.
    Source: Crumey 2014, MNRAS 442, 2600, eqs 34 and 53.
    Limits: people differ by a magnitude; that is what F is for.
    """
    threshold = star_threshold_lx(background_cd_m2(sky_mag))
    return star_magnitude(np.asarray(field_factor, dtype=float) * threshold)


def field_factor_from_limit(limit_mag: ArrayLike, sky_mag: ArrayLike) -> Floats:
    """Field factor of a person from the faintest star seen with bare eyes.

    ``10^(0.4 (m0(mu, F = 1) - limit))``.

    ``limit_mag``: V magnitude; ``sky_mag``: V mag/arcsec^2 there; broadcast.
    Source: Crumey 2014, MNRAS 442, 2600, sect. 3.1.
    Limits: F fitted to catalogue magnitudes near the zenith holds one airmass of extinction
    and the colour of common stars; dim further stars only by what the air takes beyond that.
    """
    best = naked_eye_limit_mag(sky_mag, 1.0)
    return np.asarray(10.0 ** (0.4 * (best - np.asarray(limit_mag, dtype=float))))


def light_loss_factor(eye: EyeAtTelescope, exit_pupil_mm: ArrayLike) -> Floats:
    """Crumey's Ft, one over the share of light passed: ``1 / [T (1 - (s / d_used)^2)]``.

    s is the secondary's shadow in the exit pupil, d_used the part of the exit pupil that
    enters the eye: where the exit pupil is the wider, the outer part is lost and the shadow
    fills more of what is left.

    ``exit_pupil_mm``: above 0, scalar or array. Source: geometry; Crumey 2014, sect. 4.
    """
    exit_pupil = np.asarray(exit_pupil_mm, dtype=float)
    used = np.minimum(exit_pupil, eye.eye_pupil_mm)
    shadow = np.minimum(exit_pupil * (eye.obstruction_mm / eye.aperture_mm) / used, 1.0)
    return np.asarray(1.0 / (eye.transmission * np.maximum(1.0 - shadow**2, _LEAST_OPEN_SHARE)))


def eyepiece_background_cd_m2(
    eye: EyeAtTelescope, exit_pupil_mm: ArrayLike, sky_mag: ArrayLike
) -> Floats:
    """Luminance of the sky as seen in the eyepiece: ``(d_used / p)^2 B / Ft``; broadcast.

    Source: Crumey 2014, MNRAS 442, 2600, eq 66.
    """
    used = np.minimum(np.asarray(exit_pupil_mm, dtype=float), eye.eye_pupil_mm)
    share = (used / eye.eye_pupil_mm) ** 2 / light_loss_factor(eye, exit_pupil_mm)
    return np.asarray(share * background_cd_m2(sky_mag))


def telescopic_limit_mag(
    eye: EyeAtTelescope,
    exit_pupil_mm: ArrayLike,
    sky_mag: ArrayLike,
    colour_bv: ArrayLike | None = None,
) -> Floats:
    """Faintest star through the telescope, V magnitude as it reaches the ground.

    ``I = (d_max / D)^2 Ft phi I0(Ba)``: d_max the wider of exit pupil and eye pupil, I0 the
    star threshold at the eyepiece's background Ba. More magnification never costs stars;
    once the background is black it gains none either.

    ``exit_pupil_mm``: above 0; ``sky_mag``: V mag/arcsec^2; ``colour_bv``: B-V, or None for a
    typical star; scalars or arrays, broadcast.
    Source: Crumey 2014, MNRAS 442, 2600, eqs 65-73.
    Limits: a steady point image. Bad seeing at high power and haze cost more; published
    limits for one aperture spread over 0.9 mag, so about 0.5 either way.
    """
    exit_pupil = np.asarray(exit_pupil_mm, dtype=float)
    widest = np.maximum(exit_pupil, eye.eye_pupil_mm)
    threshold = star_threshold_lx(eyepiece_background_cd_m2(eye, exit_pupil, sky_mag))
    gathered = (widest / eye.aperture_mm) ** 2 * light_loss_factor(eye, exit_pupil)
    limit = star_magnitude(gathered * eye.demand * threshold)
    return limit if colour_bv is None else limit + colour_gain_mag(colour_bv)


def black_exit_pupil_mm(eye: EyeAtTelescope, sky_mag: ArrayLike) -> Floats:
    """Exit pupil below which the field looks black and stars gain nothing more, mm.

    ``p sqrt(1e-5 Ft / B)``; never above the eye pupil. ``sky_mag``: scalar or array.
    Source: Crumey 2014, MNRAS 442, 2600, eq 70.
    """
    loss = light_loss_factor(eye, eye.eye_pupil_mm)
    ratio = np.sqrt(BLACK_CD_M2 * loss / background_cd_m2(sky_mag))
    return np.asarray(eye.eye_pupil_mm * np.minimum(ratio, 1.0))
