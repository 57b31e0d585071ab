"""Sun, Moon and planets through a night: place, brightness, size, phase."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

import numpy as np
from skyfield.magnitudelib import planetary_magnitude

from planner.angles import longitude_latitude_deg, unit_vectors
from planner.constants import ARCSEC_PER_RADIAN, AU_KM, MEAN_MOON_DISTANCE_KM
from planner.ephemeris.body_position import MOON, MOON_RADIUS_KM, SUN, body_position
from planner.ephemeris.refraction import refracted_altitude_deg

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from numpy.typing import ArrayLike, NDArray

    from planner.ephemeris.body_position import BodyPosition
    from planner.ephemeris.moments import TimeGrid
    from planner.ephemeris.site import Site

    Floats = NDArray[np.float64]
    Texts = NDArray[np.object_]

_SUN_RADIUS_KM = 695700.0  # IAU 2015 Resolution B3
_SUN_MAGNITUDE = -26.74  # at 1 au; Allen's Astrophysical Quantities, 4th ed. (from memory)


@dataclass(frozen=True, slots=True)
class Planet:
    """A planet's number in the ephemeris, equatorial radius at 1 au, and range of magnitude."""

    name: str
    naif_number: int
    radius_arcsec: float
    largest_phase_deg: float = 180.0  # beyond this the magnitude is unknown


# Radii in km from the IAU working group 2015 (from memory), over 1 au. Largest phase angles:
# Mallama & Hilton 2018, Astronomy and Computing 25, 10 (from memory); skyfield knows the others.
PLANETS = (
    Planet("Mercury", 1, 3.364, 170.0),
    Planet("Venus", 2, 8.344, 179.0),
    Planet("Mars", 4, 4.683),
    Planet("Jupiter", 5, 98.57),
    Planet("Saturn", 6, 83.10),
    Planet("Uranus", 7, 35.24),
    Planet("Neptune", 8, 34.14),
)


@dataclass(frozen=True, slots=True, eq=False)
class BodyTrack:
    """One body at T moments, seen from the site: arrays (T,).

    ``ra_deg`` and ``dec_deg`` are astrometric, on ICRS axes, for comparison with catalogued
    targets. Altitude is apparent (lifted by the air), azimuth from north through east.
    ``diameter_arcsec`` is equatorial, ``phase_angle_deg`` the angle Sun-body-site (0 full),
    ``elongation_deg`` the angle Sun-site-body. ``magnitude`` is NaN where no formula holds.
    """

    name: str
    ra_deg: Floats
    dec_deg: Floats
    altitude_deg: Floats
    azimuth_deg: Floats
    distance_au: Floats
    magnitude: Floats
    diameter_arcsec: Floats
    phase_angle_deg: Floats
    illuminated_fraction: Floats
    elongation_deg: Floats


@dataclass(frozen=True, slots=True, eq=False)
class Bodies:
    """N bodies in one table: ``name`` (N,), the others (N, T) or, at one moment each, (N,).

    The columns are those of ``BodyTrack``.
    """

    name: Texts
    ra_deg: Floats
    dec_deg: Floats
    altitude_deg: Floats
    azimuth_deg: Floats
    magnitude: Floats
    diameter_arcsec: Floats
    illuminated_fraction: Floats
    elongation_deg: Floats

    def __len__(self) -> int:
        """Number of bodies."""
        return len(self.name)

    @property
    def is_moon(self) -> NDArray[np.bool_]:
        """Which body is the Moon, in the shape of the columns."""
        moon = self.name == "Moon"
        return np.broadcast_to(moon.reshape(-1, *[1] * (self.ra_deg.ndim - 1)), self.ra_deg.shape)

    def at(self, moments: NDArray[np.intp], rows: NDArray[np.intp] | None = None) -> Bodies:
        """Each body, or each of the rows named, at a moment of its own, (N,)."""
        chosen = np.arange(len(self)) if rows is None else rows
        columns = {name: getattr(self, name)[chosen, moments] for name in _BODY_COLUMNS}
        return Bodies(self.name[chosen], **columns)

    def rows(self, rows: ArrayLike) -> Bodies:
        """Some of the bodies."""
        chosen = np.asarray(rows, dtype=np.intp)
        return Bodies(self.name[chosen], *(getattr(self, n)[chosen] for n in _BODY_COLUMNS))


_BODY_COLUMNS = tuple(field.name for field in fields(Bodies))[1:]


def body_table(tracks: Sequence[BodyTrack], moments: int) -> Bodies:
    """Tracks over the same number of moments as one table, also where there is no body."""
    columns = (
        np.array([getattr(track, name) for track in tracks], dtype=float) for name in _BODY_COLUMNS
    )
    names = np.array([track.name for track in tracks], dtype=object)
    return Bodies(names, *(column.reshape(len(tracks), moments) for column in columns))


def sun_track(site: Site, grid: TimeGrid) -> BodyTrack:
    """The Sun at the grid's moments; magnitude -26.74 at 1 au, no phase."""
    here = body_position(grid, SUN)
    return _body_track(
        "Sun",
        site,
        here,
        here,
        {
            "magnitude": _SUN_MAGNITUDE + 5.0 * np.log10(here.distance_au),
            "diameter_arcsec": _disc_arcsec(_SUN_RADIUS_KM, here.distance_au),
        },
    )


def moon_track(site: Site, grid: TimeGrid) -> BodyTrack:
    """The Moon at the grid's moments, from the site itself (up to 1 degree off the Earth's centre).

    ``V = -12.73 + 0.026 a + 4e-9 a^4 + 5 log10(d / 384400 km)``, a the phase angle in degrees.
    Good to about 0.1 mag up to 130 degrees; within 7 degrees of full the Moon is up
    to 0.35 mag brighter; the thin crescent is uncertain; eclipses are left out.
    Source: Krisciunas & Schaefer 1991, PASP 103, 1033, eq. 9 (after Allen 1976).
    """
    here, sun = body_position(grid, MOON), body_position(grid, SUN)
    phase = _phase_angle_deg(here, sun)
    away = 5.0 * np.log10(here.distance_au * AU_KM / MEAN_MOON_DISTANCE_KM)
    return _body_track(
        "Moon",
        site,
        here,
        sun,
        {
            "magnitude": -12.73 + 0.026 * phase + 4e-9 * phase**4 + away,
            "diameter_arcsec": _disc_arcsec(MOON_RADIUS_KM, here.distance_au),
        },
    )


def planet_tracks(
    site: Site, grid: TimeGrid, only: Collection[str] | None = None
) -> tuple[BodyTrack, ...]:
    """Mercury to Neptune, or only those named, at the grid's moments.

    Magnitudes after Mallama & Hilton 2018, as in skyfield: Mars without the pattern of its surface
    (0.06 mag), Saturn with its rings. NaN where that paper gives none (Mercury and
    Venus close to the Sun's disc; Neptune before 2000 off opposition).
    """
    sun = body_position(grid, SUN)
    wanted = [planet for planet in PLANETS if only is None or planet.name in only]
    return tuple(_planet_track(site, grid, planet, sun) for planet in wanted)


def separation_from_body(body: BodyTrack, ra_deg: ArrayLike, dec_deg: ArrayLike) -> Floats:
    """Angle between a body and N targets at the body's T moments: (N, T), degrees.

    Targets in ICRS degrees, (N,). Exact to 0.01".
    """
    targets = unit_vectors(np.atleast_1d(ra_deg), np.atleast_1d(dec_deg))
    cosine = targets @ unit_vectors(body.ra_deg, body.dec_deg).T
    np.clip(cosine, -1.0, 1.0, out=cosine)
    return np.asarray(np.degrees(np.arccos(cosine)))


def _planet_track(site: Site, grid: TimeGrid, planet: Planet, sun: BodyPosition) -> BodyTrack:
    here = body_position(grid, planet.naif_number)
    magnitude = np.asarray(planetary_magnitude(here.position), dtype=float)
    unknown = _phase_angle_deg(here, sun) > planet.largest_phase_deg
    return _body_track(
        planet.name,
        site,
        here,
        sun,
        {
            "magnitude": np.where(unknown, np.nan, magnitude),
            "diameter_arcsec": 2.0 * planet.radius_arcsec / here.distance_au,
        },
    )


def _body_track(
    name: str, site: Site, here: BodyPosition, sun: BodyPosition, looks: dict[str, Floats]
) -> BodyTrack:
    ra, dec = longitude_latitude_deg(here.vector_au.T)
    phase = _phase_angle_deg(here, sun)
    return BodyTrack(
        name=name,
        ra_deg=ra,
        dec_deg=dec,
        altitude_deg=refracted_altitude_deg(
            here.altitude_deg, site.pressure_hpa, site.temperature_c
        ),
        azimuth_deg=here.azimuth_deg,
        distance_au=here.distance_au,
        phase_angle_deg=phase,
        illuminated_fraction=(1.0 + np.cos(np.radians(phase))) / 2.0,
        elongation_deg=_angle_deg(here.vector_au, sun.vector_au),
        **looks,
    )


def _disc_arcsec(radius_km: float, distance_au: Floats) -> Floats:
    return np.asarray(2.0 * np.arcsin(radius_km / (distance_au * AU_KM)) * ARCSEC_PER_RADIAN)


def _phase_angle_deg(here: BodyPosition, sun: BodyPosition) -> Floats:
    """Angle Sun-body-site; zero for the Sun itself."""
    if here is sun:
        return np.zeros_like(here.distance_au)
    return _angle_deg(-here.vector_au, sun.vector_au - here.vector_au)


def _angle_deg(a: Floats, b: Floats) -> Floats:
    """Angle between vectors (3, T); exact for small angles too."""
    across = np.linalg.norm(np.cross(a, b, axis=0), axis=0)
    return np.asarray(np.degrees(np.arctan2(across, np.sum(a * b, axis=0))))
