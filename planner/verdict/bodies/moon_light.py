"""How a feature of the Moon stands in the light: Sun height, size in the sky, shadow."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import ARCSEC_PER_RADIAN, AU_KM
from planner.ephemeris.body_position import MOON_RADIUS_KM

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.ephemeris.moon_face import MoonFace
    from planner.targets.lunar_features import LunarFeatures

    Floats = NDArray[np.float64]

_SIMPLE_CRATER_KM = 15.0  # Pike 1977 (from memory)


@dataclass(frozen=True, slots=True, eq=False)
class MoonLight:
    """N features at T moments, arrays (N, T).

    ``sun_altitude_deg`` on level ground, negative in the night; ``from_centre_deg`` 90 at the
    limb, more behind it; ``size_arcsec`` along the limb, ``radial_arcsec`` foreshortened towards
    it (0 behind the limb); ``shadow_km`` of the height, NaN in the night or with no known height.
    """

    sun_altitude_deg: Floats
    from_centre_deg: Floats
    size_arcsec: Floats
    radial_arcsec: Floats
    shadow_km: Floats


def moon_light(features: LunarFeatures, face: MoonFace, distance_au: Floats) -> MoonLight:
    """Light on every feature; ``distance_au`` (T,) from the observer to the Moon's centre.

    Shadow on level ground ``height / tan h``; it falls outside the feature once longer than that.
    """
    sun = face.sun_altitude_deg(features.lon_east_deg, features.lat_deg)
    away = face.from_centre_deg(features.lon_east_deg, features.lat_deg)
    # The nearer side of the ball is nearer by up to its radius (0.5 %).
    near_km = distance_au * AU_KM - MOON_RADIUS_KM * np.cos(np.radians(away))
    size = features.size_km[:, None] / near_km * ARCSEC_PER_RADIAN
    tangent = np.tan(np.radians(np.where(sun > 0.0, sun, np.nan)))
    return MoonLight(
        sun_altitude_deg=sun,
        from_centre_deg=away,
        size_arcsec=size,
        radial_arcsec=size * np.clip(np.cos(np.radians(away)), 0.0, None),
        shadow_km=feature_height_km(features)[:, None] / tangent,
    )


def feature_height_km(features: LunarFeatures) -> Floats:
    """Height, or depth of a crater, in km (N,): typed, else a crater's usual one; else NaN.

    ``0.196 D^1.01`` below 15 km, ``1.044 D^0.301`` above, D the diameter in km. Fresh craters;
    old and flooded ones are shallower. Source: Pike 1977 (from memory).
    """
    size = features.size_km
    usual = np.where(size < _SIMPLE_CRATER_KM, 0.196 * size**1.01, 1.044 * size**0.301)
    usual = np.where(features.kind == "crater", usual, np.nan)
    return np.where(np.isnan(features.height_km), usual, features.height_km)
