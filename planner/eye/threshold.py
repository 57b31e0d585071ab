"""Thresholds of the unaided eye: the least star and the least contrast it notices.

Crumey 2014, MNRAS 442, 2600: one law fitted to Blackwell's laboratory data from starlight to
daylight. Everything here is for field factor 1; what a person wants beyond the laboratory
threshold multiplies it (see ``stars``).
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

BLACK_CD_M2 = 1e-5  # darker backgrounds look black and act alike; Crumey 2014, sect. 2
STEREORADIAN_PER_ARCMIN2 = (np.pi / 10800.0) ** 2  # definition
TYPICAL_STAR_BV = 0.7  # B-V for which the limits hold as they stand; common practice

_RICCO_DARK = (6.505e-4, -8.461e-4)  # Crumey 2014, eq 26
_RICCO_FULL = (5.949e-8, -2.389e-7, 2.459e-7, 4.120e-4, -4.225e-4)  # eq 28
_CONTRAST_DARK = (7.633e-3, -7.174e-3)  # eq 37
_CONTRAST_FULL = (9.606e-6, -4.112e-5, 5.019e-5, 4.837e-3, -4.884e-3)  # eq 40

# The night law is closer to the paper's printed figures, the full law goes on into daylight.
# Between these luminances (18 and 15 mag/arcsec^2), near which they cross, one runs over into
# the other; they are nowhere there more than 0.2 mag apart.
_JOINT_CD_M2 = (6.792e-3, 0.10765)
_HUMP_CD_M2 = 0.01827  # here B R(B) has a false maximum: 8 % lower at 0.053


def background_cd_m2(sky_mag: ArrayLike) -> Floats:
    """Luminance in cd/m^2 of V mag/arcsec^2: ``10^(0.4 (12.58 - mu))``; scalar or array.

    Source: Crumey 2014, sect. 1. Limits: 0.004 mag from the zero point of sky meters.
    """
    return np.asarray(10.0 ** (0.4 * (12.58 - np.asarray(sky_mag, dtype=float))))


def star_magnitude(illuminance_lx: ArrayLike) -> Floats:
    """V magnitude of an illuminance in lux: ``-2.5 log10 I - 13.99``; scalar or array.

    Source: Crumey 2014, sect. 1 (V = 0 is 2.54e-6 lx).
    """
    return np.asarray(-2.5 * np.log10(np.asarray(illuminance_lx, dtype=float)) - 13.99)


def illuminance_lx(magnitude: ArrayLike) -> Floats:
    """Lux of a V magnitude, the way back from ``star_magnitude``; scalar or array."""
    return np.asarray(10.0 ** (-0.4 * (np.asarray(magnitude, dtype=float) + 13.99)))


def _seen(background: ArrayLike) -> Floats:
    """The background as it acts: none darker than black."""
    return np.asarray(np.maximum(np.asarray(background, dtype=float), BLACK_CD_M2))


def _joined(background: Floats, dark: tuple[float, ...], full: tuple[float, ...]) -> Floats:
    """The night polynomial in B^-1/4, the full-range one, and a smooth change between."""
    u = background**-0.25
    everywhere = np.sqrt(full[0] * u * u + full[1] * u + full[2]) + full[3] * u + full[4]
    low, high = np.log(_JOINT_CD_M2)
    t = np.clip((np.log(background) - low) / (high - low), 0.0, 1.0)
    weight = t * t * (3.0 - 2.0 * t)
    return np.asarray(weight * everywhere + (1.0 - weight) * (dark[0] * u + dark[1]))


def ricco_factor_sr(background: ArrayLike) -> Floats:
    """Ricco's factor R, steradian: area times threshold contrast of small targets.

    Night: ``(r1 B^-1/4 + r2)^2``; from 15 mag/arcsec^2 to day: eq 28; smooth from 18.

    ``background``: B in cd/m^2, 1e-5 to 1e5, scalar or array; darker is taken as 1e-5.
    Source: Crumey 2014, MNRAS 442, 2600, eqs 25-28.
    """
    floor = _seen(background)
    return np.asarray(_joined(floor, _RICCO_DARK, _RICCO_FULL) ** 2)


def contrast_limit(background: ArrayLike) -> Floats:
    """Threshold contrast of a very large target; for 50 % forced choice, field factor 1.

    Night: ``k1 B^-1/4 + k2``; from 15 mag/arcsec^2 to day: eq 40; smooth from 18.

    ``background``: B in cd/m^2, 1e-5 to 1e5, scalar or array; darker is taken as 1e-5.
    Source: Crumey 2014, MNRAS 442, 2600, eqs 37-40.
    """
    floor = _seen(background)
    return _joined(floor, _CONTRAST_DARK, _CONTRAST_FULL)


def summation_exponent(background: ArrayLike) -> Floats:
    """Exponent q that joins the small-target and the large-target law; scalar or array.

    0.6 below 0.193 cd/m^2; ``0.8861 + 0.4 log10 B`` to 3.40; ``1.146 - 0.0885 log10 B``.
    Source: Crumey 2014, MNRAS 442, 2600, eq 47.
    """
    values = np.asarray(background, dtype=float)
    log_b = np.log10(np.maximum(values, BLACK_CD_M2))
    middle = np.maximum(0.8861 + 0.4 * log_b, 0.6)
    return np.asarray(np.minimum(middle, 1.146 - 0.0885 * log_b))


def star_threshold_lx(background: ArrayLike) -> Floats:
    """Illuminance of the faintest star, lux, for field factor 1: ``B R(B)``.

    Constant (1.150e-9 lx) below 1e-5 cd/m^2, and never falling as the sky brightens: the law
    as printed dips between 0.018 and 0.08 cd/m^2 (bright twilight), and is held there.

    ``background``: B in cd/m^2, scalar or array.
    Source: Crumey 2014, MNRAS 442, 2600, eqs 34, 53, 71.
    """
    floor = _seen(background)
    plain = floor * ricco_factor_sr(floor)
    held = np.maximum(plain, _HUMP_CD_M2 * float(ricco_factor_sr(_HUMP_CD_M2)))
    return np.where(floor > _HUMP_CD_M2, held, plain)


def threshold_increment_cd_m2(area_sr: ArrayLike, background: ArrayLike) -> Floats:
    """Luminance a uniform patch must add to the background to be noticed, cd/m^2.

    ``[(I / A)^q + (B Cinf)^q]^(1/q)`` with the star threshold I. The increment, not the
    contrast, is what stays constant below 1e-5 cd/m^2.

    ``area_sr``: A as the eye sees it, above 0; ``background``: B in cd/m^2; broadcast.
    Source: Crumey 2014, MNRAS 442, 2600, eqs 41 and 47.
    As a contrast it agrees with Blackwell 1946 within 0.18 dex.
    Limits: for round patches; a strip longer than 7 widths needs more than its area says.
    """
    floor = _seen(background)
    q = summation_exponent(floor)
    small = star_threshold_lx(floor) / np.asarray(area_sr, dtype=float)
    large = floor * contrast_limit(floor)
    return np.asarray((small**q + large**q) ** (1.0 / q))


def scotopic_ratio(colour_bv: ArrayLike) -> Floats:
    """Night-vision to day-vision brightness of a star, 1 for the standard source.

    ``log10 rho = 0.4378 - 0.1094 (B - V)``; scalar or array, -0.3..2.
    Source: Crumey 2014, MNRAS 442, 2600, eq 13 (5 %).
    """
    return np.asarray(10.0 ** (0.4378 - 0.1094 * np.asarray(colour_bv, dtype=float)))


def colour_gain_mag(colour_bv: ArrayLike, reference_bv: float = TYPICAL_STAR_BV) -> Floats:
    """Magnitudes by which stars of a colour are seen fainter, in V, than a reference colour.

    ``2.5 log10(rho / rho_reference)`` = 0.27 (reference - colour): blue stars gain, red lose.
    Source: Crumey 2014, MNRAS 442, 2600, eq 18. Limits: rods only; bright stars are seen
    with the cones and do not follow it.
    """
    return np.asarray(2.5 * np.log10(scotopic_ratio(colour_bv) / scotopic_ratio(reference_bv)))
