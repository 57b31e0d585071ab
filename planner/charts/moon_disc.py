"""The Moon drawn from maps of her brightness and relief, lit as the Sun stands over her."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.body_position import MOON_RADIUS_KM
from planner.targets.lunar_relief import load_lunar_relief

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from planner.ephemeris.moon_face import MoonFace

    Floats = NDArray[np.float64]

GAMMA = 0.6  # lifts the dim ground by the terminator as an eye there takes it; own judgement
ROOM = 1.02  # half the picture's width, in radii of the Moon
BRIGHT_SHARE = 0.995  # of the disc is darker than white
SHADOW_STEPS_KM = np.geomspace(9.0, 130.0, 14)  # where along the Sun's way a ridge is looked for
LONGEST_SHADOW_SUN_DEG = 16.0  # with a higher Sun nothing on the Moon throws one that shows here
HALF_SHADE = 0.012  # of a slope: half the Sun is hidden over its half degree, and the map is coarse


@dataclass(frozen=True, slots=True, eq=False)
class MoonView:
    """How the disc lies in a picture: ``matrix`` (2, 2) takes the Moon's own east and north on the
    disc, in radii, to right and up.
    """

    face: MoonFace
    matrix: Floats

    @property
    def towards_dark(self) -> Floats:
        """Unit step (right, up) away from the Sun; up where she is full to the brim."""
        face = self.face
        apart = np.radians(face.sun_lon_deg[0] - face.libration_lon_deg[0])
        sun, tilt = np.radians(face.sun_lat_deg[0]), np.radians(face.libration_lat_deg[0])
        across = np.cos(sun) * np.sin(apart)
        along = np.sin(sun) * np.cos(tilt) - np.cos(sun) * np.sin(tilt) * np.cos(apart)
        away = -self.matrix @ np.array([across, along])
        length = float(np.hypot(*away))
        return np.asarray(away / length if length > 1e-6 else np.array([0.0, 1.0]))

    def places(self, lon_east_deg: ArrayLike, lat_deg: ArrayLike) -> tuple[Floats, Floats]:
        """Right and up of places (N,), in radii; NaN for those behind the limb."""
        lon = np.radians(np.asarray(lon_east_deg, dtype=float) - self.face.libration_lon_deg[0])
        lat, tilt = np.radians(lat_deg), np.radians(self.face.libration_lat_deg[0])
        x = np.cos(lat) * np.sin(lon)
        y = np.sin(lat) * np.cos(tilt) - np.cos(lat) * np.sin(tilt) * np.cos(lon)
        z = np.sin(lat) * np.sin(tilt) + np.cos(lat) * np.cos(tilt) * np.cos(lon)
        right, up = self.matrix @ np.stack([x, y])
        return np.where(z > 0.0, right, np.nan), np.where(z > 0.0, up, np.nan)


def moon_view(face: MoonFace, sky_matrix: ArrayLike) -> MoonView:
    """The disc in a picture whose ``sky_matrix`` (2, 2) takes sky east and north to right and up.

    The Moon's east is the sky's west where her axis points north; any scale of the matrix drops
    out. From afar: the disc is drawn as a globe without perspective, 0.3 degrees off at the limb.
    """
    angle = np.radians(face.axis_angle_deg[0])
    own = np.array([[-np.cos(angle), np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    turned = np.asarray(sky_matrix, dtype=float) @ own
    return MoonView(face, turned / np.sqrt(abs(np.linalg.det(turned))))


def disc_shades(view: MoonView, side: int) -> tuple[Floats, NDArray[np.bool_]]:
    """Brightness 0..1 (side, side), rows from the top, and which pixels lie on the disc.

    ``albedo mu0 / (mu0 + mu)``, mu0 and mu the cosines of Sun and eye from the slope's own
    upright, with shadows thrown over some 130 km, then ``^0.6``. Source: Lommel & Seeliger's law
    (Seeliger 1887, from memory). Limits: maps of 10 km cells; no light from the Earth.
    """
    axis = ROOM * (2.0 * (np.arange(side) + 0.5) / side - 1.0)
    right, up = np.meshgrid(axis, -axis)
    x, y = np.tensordot(np.linalg.inv(view.matrix), np.stack([right, up]), 1)
    on = x**2 + y**2 < 1.0
    lon, lat, towards_us = _globe(view.face, x[on], y[on])
    sun = _local(lon, lat, view.face.sun_lon_deg[0], view.face.sun_lat_deg[0])
    lit = np.flatnonzero(sun[2] > -0.08)
    light = np.zeros(lon.size)
    light[lit] = _light(lon[lit], lat[lit], sun[:, lit], towards_us[:, lit])
    white = float(np.quantile(light, BRIGHT_SHARE)) or 1.0
    shades = np.zeros((side, side))
    shades[on] = np.clip(light / white, 0.0, 1.0) ** GAMMA
    return shades, on


def _globe(face: MoonFace, x: Floats, y: Floats) -> tuple[Floats, Floats, Floats]:
    """Longitude and latitude of places on the disc, radians, and the eye's direction there."""
    z, tilt = np.sqrt(np.maximum(1.0 - x**2 - y**2, 0.0)), np.radians(face.libration_lat_deg[0])
    lat = np.arcsin(np.clip(y * np.cos(tilt) + z * np.sin(tilt), -1.0, 1.0))
    lon = np.arctan2(x, z * np.cos(tilt) - y * np.sin(tilt))
    lon = lon + np.radians(face.libration_lon_deg[0])
    return lon, lat, _local(lon, lat, face.libration_lon_deg[0], face.libration_lat_deg[0])


def _local(lon: Floats, lat: Floats, to_lon_deg: float, to_lat_deg: float) -> Floats:
    """Unit vectors (3, N) to a body over a point of the Moon: along east, north and up."""
    apart, b = np.radians(to_lon_deg) - lon, np.radians(to_lat_deg)
    east = np.cos(b) * np.sin(apart)
    north = np.cos(lat) * np.sin(b) - np.sin(lat) * np.cos(b) * np.cos(apart)
    return np.stack(
        [east, north, np.sin(lat) * np.sin(b) + np.cos(lat) * np.cos(b) * np.cos(apart)]
    )


def _light(lon: Floats, lat: Floats, sun: Floats, eye: Floats) -> Floats:
    """What comes back from places (N,), in units of a white plain's."""
    brightness, east, north = (_sampled(name, lon, lat) for name in ("brightness", "east", "north"))
    steep = np.sqrt(1.0 + east**2 + north**2)
    into = (sun[2] - east * sun[0] - north * sun[1]) / steep
    out = np.maximum((eye[2] - east * eye[0] - north * eye[1]) / steep, 0.05)
    into = np.maximum(into, 0.0) * _unshaded(lon, lat, sun)
    return np.asarray(brightness * into / (into + out))


def _unshaded(lon: Floats, lat: Floats, sun: Floats) -> Floats:
    """Share of the Sun's disc that no ridge hides, 0..1 (N,)."""
    share = np.ones(lon.size)
    low = np.flatnonzero(sun[2] < np.sin(np.radians(LONGEST_SHADOW_SUN_DEG)))
    if not low.size:
        return share
    level = np.hypot(sun[0, low], sun[1, low])
    east, north, rise = sun[0, low] / level, sun[1, low] / level, sun[2, low] / level
    here = _nearest_height(lon[low], lat[low])
    steepest = np.full(low.size, -np.inf)
    for km in SHADOW_STEPS_KM:
        away = km / MOON_RADIUS_KM
        there_lat = lat[low] + away * north
        there_lon = lon[low] + away * east / np.maximum(np.cos(lat[low]), 0.05)
        drop = km * away / 2.0  # the globe falls away
        over = (_nearest_height(there_lon, there_lat) - here - drop) / km
        np.maximum(steepest, over, out=steepest)
    share[low] = np.clip((rise - steepest) / HALF_SHADE + 0.5, 0.0, 1.0)
    return share


@cache
def _maps() -> dict[str, NDArray[np.float32]]:
    """Brightness, height and the ground's slope to east and north, on the maps' own grid."""
    relief = load_lunar_relief()
    cell_km = np.radians(relief.cell_deg) * MOON_RADIUS_KM
    rows = len(relief.height_km)
    latitude = np.radians(90.0 - (np.arange(rows) + 0.5) * relief.cell_deg)
    down, across = np.gradient(relief.height_km, cell_km)
    wide = np.maximum(np.cos(latitude), 0.05)[:, None]
    return {
        "brightness": relief.brightness,
        "height": relief.height_km,
        "east": (across / wide).astype(np.float32),
        "north": -down.astype(np.float32),
    }


def _cells(lon: Floats, lat: Floats) -> tuple[Floats, Floats]:
    """Row and column on the maps, fractions of a cell too, held inside."""
    relief = load_lunar_relief()
    rows, columns = relief.brightness.shape
    row = (90.0 - np.degrees(lat)) / relief.cell_deg - 0.5
    column = (np.degrees(lon) - relief.first_lon_deg) / relief.cell_deg
    return np.clip(row, 0.0, rows - 1.001), np.clip(column, 0.0, columns - 1.001)


def _sampled(name: str, lon: Floats, lat: Floats) -> Floats:
    """A map's values between its cells, (N,)."""
    values = _maps()[name]
    row, column = _cells(lon, lat)
    r, c = row.astype(np.intp), column.astype(np.intp)
    down, across = row - r, column - c
    upper = values[r, c] * (1.0 - across) + values[r, c + 1] * across
    lower = values[r + 1, c] * (1.0 - across) + values[r + 1, c + 1] * across
    return np.asarray(upper * (1.0 - down) + lower * down, dtype=float)


def _nearest_height(lon: Floats, lat: Floats) -> Floats:
    row, column = _cells(lon, lat)
    found = _maps()["height"][np.rint(row).astype(np.intp), np.rint(column).astype(np.intp)]
    return np.asarray(found, dtype=float)
