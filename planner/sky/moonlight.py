"""Moonlight scattered into the sky."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import MEAN_MOON_DISTANCE_KM
from planner.sky.airmass import airmass

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

_LN10 = float(np.log(10.0))
_JOINT_DEG = (8.0, 12.0)  # the two forms of f meet at 10 degrees with a step of 28 %
_LEAST_SEPARATION_DEG = 0.3  # the Moon's own disc
_LOW_MOON_DEG = 10.0  # below, the paper's optical path is too short for the Moon's light


@dataclass(frozen=True, slots=True)
class Moon:
    """The Moon as a lamp: one value for each time, arrays of one shape or scalars.

    ``altitude_deg`` as seen (refracted), ``phase_angle_deg`` 0 at full Moon and 180 at new,
    ``distance_km`` from the observer or from the Earth's centre (the difference is 3 %).
    """

    altitude_deg: ArrayLike
    phase_angle_deg: ArrayLike
    distance_km: ArrayLike = MEAN_MOON_DISTANCE_KM


def scattering_path(zenith_distance_deg: ArrayLike) -> Floats:
    """Optical path of sky glow in units of the zenith's: ``(1 - 0.96 sin^2 Z)^-1/2``.

    1 at the zenith, 5 at the horizon: for light made in a layer high up, not an airmass for
    extinction. Source: Krisciunas & Schaefer 1991, PASP 103, 1033, eq 3.
    """
    sine = np.sin(np.radians(np.asarray(zenith_distance_deg, dtype=float)))
    return np.asarray(1.0 / np.sqrt(1.0 - 0.96 * sine * sine))


def scattering_function(separation_deg: ArrayLike) -> Floats:
    """Brightness of scattered light by the distance from the Moon, in the paper's units.

    Molecules ``10^5.36 (1.06 + cos^2 rho)``; aerosol ``10^(6.15 - rho / 40)``, or
    ``6.2e7 rho^-2`` close to the Moon. The two aerosol forms are 28 % apart where the paper
    joins them at 10 degrees; here one runs over into the other from 8 to 12 degrees.

    ``separation_deg``: 0..180, scalar or array; below 0.3 taken as 0.3.
    Source: Krisciunas & Schaefer 1991, PASP 103, 1033, eqs 16-19.
    """
    rho = np.asarray(np.maximum(np.asarray(separation_deg, dtype=float), _LEAST_SEPARATION_DEG))
    cosine = np.cos(np.radians(rho))
    far = np.asarray(_LN10 * (6.15 - rho / 40.0))
    aerosol = np.array(np.exp(far))
    close = rho < _JOINT_DEG[1]
    near = np.log(6.2e7) - 2.0 * np.log(rho[close])
    weight = np.clip((rho[close] - _JOINT_DEG[0]) / (_JOINT_DEG[1] - _JOINT_DEG[0]), 0.0, 1.0)
    aerosol[close] = np.exp(weight * far[close] + (1.0 - weight) * near)
    return np.asarray(10.0**5.36 * (1.06 + cosine * cosine) + aerosol)


def moon_illuminance(phase_angle_deg: ArrayLike, distance_km: ArrayLike) -> Floats:
    """Illuminance of the Moon outside the air, in the paper's units (0.0291 at full).

    ``10^(-0.4 (3.84 + 0.026 |alpha| + 4e-9 alpha^4))``, times the inverse square of the
    distance over 384400 km. Broadcast.
    Source: Krisciunas & Schaefer 1991, PASP 103, 1033, eq 20.
    Limits: leaves out the surge at opposition: within 7 degrees of full the Moon is up to
    35 % brighter than this (from memory).
    """
    alpha = np.abs(np.asarray(phase_angle_deg, dtype=float))
    ratio = MEAN_MOON_DISTANCE_KM / np.asarray(distance_km, dtype=float)
    return np.asarray(10.0 ** (-0.4 * (3.84 + 0.026 * alpha + 4e-9 * alpha**4)) * ratio**2)


def _share_reaching_air(altitude_deg: Floats, extinction_mag: float) -> Floats:
    """Share of moonlight left at the scattering air: the paper's, cut down for a low Moon.

    The paper's path is 5 at the horizon where the airmass is 38. Below 10 degrees the
    difference comes in gradually (own bridge), so that a rising Moon makes no jump.
    """
    up = altitude_deg >= 0.0
    altitude = np.where(up, altitude_deg, 0.0)
    path = scattering_path(90.0 - altitude)
    lowness = np.clip(1.0 - altitude / _LOW_MOON_DEG, 0.0, 1.0)
    path = path + lowness * np.maximum(airmass(altitude) - path, 0.0)
    return np.where(up, 10.0 ** (-0.4 * extinction_mag * path), 0.0)


def moon_luminance_nl(
    moon: Moon, separation_deg: ArrayLike, altitude_deg: ArrayLike, extinction_mag: float
) -> Floats:
    """Sky luminance added by the Moon, nanolamberts; zero while it is down.

    ``f(rho) I 10^(-0.4 k X(Zm)) (1 - 10^(-0.4 k X(Z)))``.

    ``moon``: values for each time, (T,) or scalar. ``separation_deg``: Moon to target, 0..180.
    ``altitude_deg``: of the target, 0..90. ``extinction_mag``: k, per airmass. All broadcast,
    so (N, T) with (T,) gives (N, T).
    Source: Krisciunas & Schaefer 1991, PASP 103, 1033, eqs 3, 15-21; stated accuracy 8-23 %.
    Limits: thin cloud or haze scatters far more. No opposition surge.
    """
    lamp = moon_illuminance(moon.phase_angle_deg, moon.distance_km) * _share_reaching_air(
        np.asarray(moon.altitude_deg, dtype=float), extinction_mag
    )
    path = scattering_path(90.0 - np.asarray(altitude_deg, dtype=float))
    caught = -np.expm1(-0.4 * _LN10 * extinction_mag * path)
    if not np.any(lamp > 0.0):
        return np.asarray(lamp * caught * np.zeros_like(np.asarray(separation_deg, dtype=float)))
    return np.asarray(scattering_function(separation_deg) * lamp * caught)
