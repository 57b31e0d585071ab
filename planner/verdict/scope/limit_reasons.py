"""Why the faintest star is what it is: from the bare eye's limit, step by step in magnitudes."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from itertools import accumulate
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.stars import (
    ONE_EYE,
    black_exit_pupil_mm,
    eyepiece_background_cd_m2,
    light_loss_factor,
    naked_eye_limit_mag,
)
from planner.eye.threshold import (
    background_cd_m2,
    colour_gain_mag,
    star_magnitude,
    star_threshold_lx,
)

if TYPE_CHECKING:
    from planner.eye.stars import EyeAtTelescope
    from planner.verdict.setup import Setup

BLUE_BV, RED_BV = 0.0, 1.5  # a white-blue star like Vega, a red one like Betelgeuse


class Cause(Enum):
    """What moves the limit of the bare eye to that at the eyepiece."""

    APERTURE = auto()
    IRIS = auto()
    TRANSMISSION = auto()
    OBSTRUCTION = auto()
    ONE_EYE = auto()
    DARKER_SKY = auto()
    AIR = auto()


@dataclass(frozen=True, slots=True)
class LimitReasons:
    """The faintest star overhead in one view, by Crumey's model, as a sum.

    ``bare_eye_mag`` plus every change in ``changes`` is ``limit_mag``; a change above 0 shows
    fainter stars. ``sky_darker_mag`` is how much the eyepiece darkens the sky. Exit pupils of
    ``black_exit_pupil_mm`` and less show a black field: more power gains no stars. The two
    colour gains are those of stars of B-V 0.0 and 1.5 against a common star (0.7).
    """

    exit_pupil_mm: float
    bare_eye_mag: float
    changes: tuple[tuple[Cause, float], ...]
    limit_mag: float
    sky_darker_mag: float
    black_exit_pupil_mm: float
    blue_gain_mag: float
    red_gain_mag: float

    @property
    def totals(self) -> tuple[float, ...]:
        """The limit after the bare eye and after each change in turn."""
        return tuple(accumulate((mag for _, mag in self.changes), initial=self.bare_eye_mag))


def limit_reasons(setup: Setup, exit_pupil_mm: float) -> LimitReasons:
    """The reasons for the faintest star at an exit pupil (mm, above 0).

    With D aperture, p eye pupil, d_max the wider of exit pupil and eye pupil, T transmission,
    Ft the light loss with the secondary, B the sky, Ba the sky in the eyepiece, I0 the star
    threshold and F the observer's factor: ``m(F I0(B)) + 5 log D/p - 5 log d_max/p + 2.5 log T
    - 2.5 log(Ft T) - 2.5 log sqrt 2 + 2.5 log[I0(B) / I0(Ba)] - air``.

    Source: Crumey 2014, MNRAS 442, 2600, eqs 53, 65-73, taken apart; colours eq 18.
    Limits: as for ``telescopic_limit_mag``; about half a magnitude from person to person.
    """
    eye = setup.eye
    bare = float(naked_eye_limit_mag(setup.zenith_sky_mag, eye.field_factor))
    sky, seen = _backgrounds(eye, exit_pupil_mm, setup.zenith_sky_mag)
    loss = float(light_loss_factor(eye, exit_pupil_mm))
    pupil = eye.eye_pupil_mm
    changes = (
        (Cause.APERTURE, 5.0 * np.log10(eye.aperture_mm / pupil)),
        (Cause.IRIS, -5.0 * np.log10(max(exit_pupil_mm, pupil) / pupil)),
        (Cause.TRANSMISSION, 2.5 * np.log10(eye.transmission)),
        (Cause.OBSTRUCTION, -2.5 * np.log10(loss * eye.transmission)),
        (Cause.ONE_EYE, -2.5 * np.log10(ONE_EYE)),
        (Cause.DARKER_SKY, _threshold_mag(seen) - _threshold_mag(sky)),
        (Cause.AIR, -setup.zenith_loss_mag),
    )
    plain = tuple((cause, float(change) + 0.0) for cause, change in changes)
    return LimitReasons(
        exit_pupil_mm=exit_pupil_mm,
        bare_eye_mag=bare,
        changes=plain,
        limit_mag=bare + sum(change for _, change in plain),
        sky_darker_mag=float(2.5 * np.log10(sky / seen)),
        black_exit_pupil_mm=float(black_exit_pupil_mm(eye, setup.zenith_sky_mag)),
        blue_gain_mag=float(colour_gain_mag(BLUE_BV)),
        red_gain_mag=float(colour_gain_mag(RED_BV)),
    )


def _backgrounds(
    eye: EyeAtTelescope, exit_pupil_mm: float, zenith_sky_mag: float
) -> tuple[float, float]:
    """The sky to the bare eye and in the eyepiece, cd/m^2."""
    return (
        float(background_cd_m2(zenith_sky_mag)),
        float(eyepiece_background_cd_m2(eye, exit_pupil_mm, zenith_sky_mag)),
    )


def _threshold_mag(background: float) -> float:
    """The faintest star of the laboratory eye on a background, V."""
    return float(star_magnitude(star_threshold_lx(background)))
