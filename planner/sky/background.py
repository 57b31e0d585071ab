"""The sky behind a target: night glow, moonlight and twilight together."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import MEAN_MOON_DISTANCE_KM
from planner.errors import ModelRangeError
from planner.sky.moonlight import Moon, moon_luminance_nl, scattering_path
from planner.sky.scales import nanolamberts, surface_brightness_from_nanolamberts
from planner.sky.twilight import twilight_luminance_nl

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

ZENITH_RANGE_MU = (15.0, 22.3)  # brightest city to darkest sky; common practice, no source
EXTINCTION_RANGE_MAG = (0.05, 1.5)  # high mountain to thick haze; common practice, no source


@dataclass(frozen=True, slots=True)
class SkyState:
    """The sky over one site through one night.

    ``zenith_sky_mag``: moonless zenith, V mag/arcsec^2, 15..22.3. ``extinction_mag``: per
    airmass. The rest for each time, (T,) or scalar: altitudes as seen, degrees; the Moon's
    phase angle, degrees (0 full); its distance, km.
    Raises: ModelRangeError for a sky or an extinction no site has.
    """

    zenith_sky_mag: float
    extinction_mag: float
    sun_altitude_deg: ArrayLike
    moon_altitude_deg: ArrayLike
    moon_phase_angle_deg: ArrayLike
    moon_distance_km: ArrayLike = MEAN_MOON_DISTANCE_KM

    def __post_init__(self) -> None:
        """Refuse a sky or an extinction outside what sites have."""
        for name, value, (least, most) in (
            ("zenith sky", self.zenith_sky_mag, ZENITH_RANGE_MU),
            ("extinction", self.extinction_mag, EXTINCTION_RANGE_MAG),
        ):
            if not least <= value <= most:
                raise ModelRangeError(f"{name} {value:g} is outside {least:g}..{most:g}")


@dataclass(frozen=True, slots=True)
class Background:
    """Sky behind targets: ``sky_mag`` in V mag/arcsec^2, and what adds to the night glow.

    Moon and twilight are shares of the whole, 0..1. All three arrays have the shape of the
    targets and times, (N, T). NaN below the horizon.
    """

    sky_mag: Floats
    moon_share: Floats
    twilight_share: Floats


def night_luminance_nl(
    zenith_sky_mag: float, extinction_mag: float, altitude_deg: ArrayLike
) -> Floats:
    """Moonless night sky at an altitude, nanolamberts: brighter down to about 20 degrees.

    ``B_zenith X 10^(-0.4 k (X - 1))`` with the path X of ``scattering_path``.
    Source: Krisciunas & Schaefer 1991, PASP 103, 1033, eq 2.
    Limits: natural air glow. The light dome of a town is not in it.
    """
    path = scattering_path(90.0 - np.asarray(altitude_deg, dtype=float))
    dimming = np.exp(-0.4 * np.log(10.0) * extinction_mag * (path - 1.0))
    return np.asarray(nanolamberts(zenith_sky_mag) * path * dimming)


def sky_background(
    state: SkyState, altitude_deg: ArrayLike, moon_separation_deg: ArrayLike
) -> Background:
    """Sky brightness behind targets, and the shares of Moon and twilight in it.

    The three luminances are added. ``altitude_deg`` and ``moon_separation_deg``: degrees,
    (N, T), or anything that broadcasts with the (T,) arrays of ``state``.
    Returns arrays of the broadcast shape; NaN where a target is below the horizon.
    Source: Krisciunas & Schaefer 1991; Patat et al. 2006; Koomen et al. 1952 (see the
    modules moonlight and twilight).
    Limits: about 0.2 mag with the Moon up, 0.5 in twilight. Twilight is the zenith's.
    """
    altitude = np.asarray(altitude_deg, dtype=float)
    altitude = np.where(altitude >= 0.0, altitude, np.nan)
    moon = Moon(state.moon_altitude_deg, state.moon_phase_angle_deg, state.moon_distance_km)
    night = night_luminance_nl(state.zenith_sky_mag, state.extinction_mag, altitude)
    moonlight = moon_luminance_nl(moon, moon_separation_deg, altitude, state.extinction_mag)
    twilight = twilight_luminance_nl(state.sun_altitude_deg)
    total = night + moonlight + twilight
    return Background(
        sky_mag=surface_brightness_from_nanolamberts(total),
        moon_share=moonlight / total,
        twilight_share=twilight / total,
    )
