"""Twilight: what the Sun below the horizon adds to the sky."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.sky.scales import nanolamberts

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

DARK_SKY_MU = 21.61  # the night sky inside Patat's fit; Patat 2003, A&A 400, 1183

_FIT_DEG = (5.0, 15.0)  # Sun's depression where the fit holds
_DARK_DEG = 18.0  # end of astronomical twilight; definition
_TAIL_POWER = 4.4  # gives the tail from 15 to 18 degrees the slope of the fit at 15

# Sun altitude and zenith sky, V mag/arcsec^2. 0 and -3: mean of Koomen et al. 1952 for
# Sacramento Peak and Maryland, turned into magnitudes. Above 0: a clear day's 700 to
# 4000 cd/m^2 (from memory; rough, only there so that targets are judged not shown).
_BRIGHT_SUN_DEG = np.array([-3.0, 0.0, 5.0, 20.0, 90.0])
_BRIGHT_MU = np.array([9.63, 7.40, 5.5, 4.5, 3.5])


def patat_zenith_mu(depression_deg: ArrayLike) -> Floats:
    """Zenith sky in twilight, night sky included, V mag/arcsec^2.

    ``11.84 + 1.518 x - 0.057 x^2``, x = depression - 5; scalar or array.

    ``depression_deg``: of the Sun below the horizon, 5..15; outside it is held at the ends.
    Source: Patat, Ugolnikov & Postylyakov 2006, A&A 455, 385, Table 1 (spread 0.18 mag).
    Limits: measured at 2635 m with a dark level of 21.61.
    """
    x = np.clip(np.asarray(depression_deg, dtype=float), *_FIT_DEG) - _FIT_DEG[0]
    return np.asarray(11.84 + 1.518 * x - 0.057 * x * x)


def twilight_luminance_nl(sun_altitude_deg: ArrayLike) -> Floats:
    """Luminance the Sun adds to the zenith sky, nanolamberts; zero below -18 degrees.

    From -5 to -15 Patat's fit less its dark level; then down to nothing at -18; above -5
    straight lines in magnitudes through Koomen's values at -3 and 0 and a rough day sky.
    Grows with the Sun's altitude, without jumps.

    ``sun_altitude_deg``: true altitude, -90..90, scalar or array.
    Source: Patat et al. 2006, A&A 455, 385, Table 1; Koomen et al. 1952, JOSA 42, 353.
    Limits: published twilights differ by 0.6 to 0.9 mag, so about 0.5 either way. Zenith
    only: low towards the Sun the sky is a magnitude or more brighter.
    """
    sun = np.asarray(sun_altitude_deg, dtype=float)
    depression = -sun
    dark = float(nanolamberts(DARK_SKY_MU))
    fit = nanolamberts(patat_zenith_mu(depression)) - dark
    left = np.clip((_DARK_DEG - depression) / (_DARK_DEG - _FIT_DEG[1]), 0.0, 1.0)
    deep = fit * left**_TAIL_POWER
    at_joint = nanolamberts(patat_zenith_mu(_FIT_DEG[0])) - dark
    joint_mu = -np.log(at_joint / float(nanolamberts(0.0))) / 0.92104
    knots_deg = np.concatenate(([-_FIT_DEG[0]], _BRIGHT_SUN_DEG))
    knots_mu = np.concatenate(([float(joint_mu)], _BRIGHT_MU))
    bright = nanolamberts(np.interp(sun, knots_deg, knots_mu))
    return np.where(depression < _FIT_DEG[0], bright, deep)
