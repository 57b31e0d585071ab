"""What there is to see on each planet tonight: its markings with size, contrast and place.

Sizes and contrasts in green light are from memory or own estimates, contrasts to some 40 %; the
places on Mars are those of common maps, from memory. Clouds of Venus and spots of Mercury are left
out: no eye behind six inches has them for sure.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import ARCSEC_PER_RADIAN, AU_KM
from planner.verdict.bodies.features import Marking, Shape
from planner.verdict.bodies.ring_gap import CASSINI, CASSINI_KM, CRAPE, ENCKE, ENCKE_WIDTH_KM

if TYPE_CHECKING:
    from collections.abc import Callable

GAP_LEAST_TILT_DEG = 4.0  # a flatter ring shows no gap; own judgement
FACING_COSINE = 0.35  # nearer to the limb than 70 degrees nothing is made out; own judgement
NEAR_LIMB = 0.8  # of the radius: there the bright moons stand out; common practice, no source
PHASE_FROM_SHARE = 0.03  # less that is missing is not listed; own judgement
SHADOW_RADIUS_KM = 105000.0  # in ring B, where the globe's shadow on the ring is measured
MOON_DIAMETERS_KM = {"Io": 3643.2, "Europa": 3121.6, "Ganymede": 5262.4, "Callisto": 4820.6}
_TRANSIT_CONTRAST = {"Io": 0.2, "Europa": 0.2, "Ganymede": -0.2, "Callisto": -0.6}

# name, west longitude and latitude in degrees, width and length in km, contrast
_MARS = (
    ("Syrtis Major", 290.0, 10.0, 1000.0, 1500.0, -0.25),
    ("Mare Acidalium", 30.0, 45.0, 1500.0, 2000.0, -0.25),
    ("Sinus Sabaeus", 340.0, -8.0, 400.0, 3000.0, -0.25),
    ("Mare Erythraeum", 35.0, -25.0, 1200.0, 2500.0, -0.25),
    ("Mare Cimmerium", 220.0, -20.0, 600.0, 2500.0, -0.25),
    ("Solis Lacus", 85.0, -26.0, 600.0, 900.0, -0.20),
    ("Hellas", 290.0, -42.0, 1800.0, 1800.0, 0.15),
)
_MARS_KM = 3396.2
_SOUTH_EDGE = ((190.0, 230.0, 265.0, 290.0, 360.0), (-57.0, -70.0, -80.0, -84.0, -86.0))
_NORTH_EDGE = ((0.0, 40.0, 65.0, 80.0, 160.0), (65.0, 70.0, 77.0, 80.0, 80.0))
_CAP_CONTRAST = 0.5


@dataclass(frozen=True, slots=True)
class Turned:
    """A planet as it is turned to us at one moment; degrees and arcsec.

    ``meridian_deg`` is the central meridian (Jupiter: System II), ``season_deg`` Mars's Ls,
    ``sun_offset_deg`` how far round Saturn's ring the Sun stands from us, ``red_spot_deg`` the
    Red Spot's longitude (None unknown). ``shadows`` and ``transits`` name the moons whose shadow
    or self is on Jupiter's disc, the latter with their distance from the middle in radii.
    """

    name: str
    diameter_arcsec: float
    distance_au: float
    illuminated_fraction: float
    tilt_deg: float
    meridian_deg: float
    season_deg: float | None = None
    sun_offset_deg: float = 0.0
    red_spot_deg: float | None = None
    shadows: tuple[str, ...] = ()
    transits: tuple[tuple[str, float], ...] = ()

    def arcsec(self, km: float) -> float:
        """A length at the planet's distance."""
        return km / (self.distance_au * AU_KM) * ARCSEC_PER_RADIAN


def markings(turned: Turned) -> tuple[Marking, ...]:
    """Every marking of a planet, those turned away marked so; none for others."""
    found = _FINDERS.get(turned.name)
    return tuple(found(turned)) if found else ()


def surface_magnitude(turned: Turned, magnitude: float) -> float:
    """Brightness of the lit surface, V mag per square arcsecond, from the whole light.

    Saturn's ring counts with six tenths of its ellipse.
    """
    area = np.pi / 4.0 * turned.diameter_arcsec**2 * max(turned.illuminated_fraction, 0.01)
    if turned.name == "Saturn":
        tilt = np.sin(np.radians(abs(turned.tilt_deg)))
        area += 0.6 * np.pi / 4.0 * turned.arcsec(2.0 * 136780.0) ** 2 * tilt
    return float(magnitude + 2.5 * np.log10(area))


def _inner(turned: Turned) -> list[Marking]:
    missing = 1.0 - turned.illuminated_fraction
    width = turned.diameter_arcsec
    return [Marking("phase", Shape.PHASE, width, width, missing)]


def _outer(turned: Turned) -> list[Marking]:
    width = turned.diameter_arcsec
    return [Marking("disc", Shape.DISC, width, width, 1.0)]


def _jupiter(turned: Turned) -> list[Marking]:
    across, km = turned.diameter_arcsec, turned.arcsec
    found = [
        Marking("main belts", Shape.STRIPE, km(12000.0), 0.8 * across, -0.25),
        Marking("temperate belts", Shape.STRIPE, km(4000.0), 0.6 * across, -0.10),
        Marking("polar shading", Shape.STRIPE, km(15000.0), 0.4 * across, -0.15),
    ]
    if turned.red_spot_deg is not None:
        off = np.cos(np.radians(turned.meridian_deg - turned.red_spot_deg))
        away = bool(off < FACING_COSINE)
        width = km(np.sqrt(14000.0 * max(float(off), FACING_COSINE) * 11000.0))
        found.append(Marking("Red Spot", Shape.SPOT, width, width, -0.12, away))
    for name in turned.shadows:
        width = km(MOON_DIAMETERS_KM[name])
        found.append(Marking(f"shadow of {name}", Shape.SPOT, width, width, -1.0))
    for name, off in turned.transits:
        contrast = _TRANSIT_CONTRAST[name]
        if contrast < 0.0 or off > NEAR_LIMB:
            width = km(MOON_DIAMETERS_KM[name])
            found.append(Marking(f"{name} in transit", Shape.SPOT, width, width, contrast))
    return found


def _saturn(turned: Turned) -> list[Marking]:
    across, km, tilt = turned.diameter_arcsec, turned.arcsec, abs(turned.tilt_deg)
    flat = tilt < GAP_LEAST_TILT_DEG
    minor = km(136780.0) * np.sin(np.radians(tilt))
    long = float(1.4 * minor)
    shadow = km(SHADOW_RADIUS_KM) * float(np.sin(np.radians(abs(turned.sun_offset_deg))))
    return [
        Marking("equatorial belt", Shape.STRIPE, km(8400.0), 0.7 * across, -0.12),
        Marking(CASSINI, Shape.GAP, km(CASSINI_KM), long, -1.0, flat),
        Marking(ENCKE, Shape.GAP, km(ENCKE_WIDTH_KM), long, -1.0, flat),
        Marking(CRAPE, Shape.GAP, km(92000.0 - 74500.0), long, 0.12, flat),
        Marking("globe's shadow on the ring", Shape.STRIPE, max(shadow, 1e-3), float(minor), -1.0,
                flat),
    ]  # fmt: skip


def _mars(turned: Turned) -> list[Marking]:
    found = []
    for name, longitude, latitude, width, length, contrast in _MARS:
        cosine = _cosine(turned, longitude, latitude)
        seen = max(cosine, FACING_COSINE) ** 0.5
        away = cosine < FACING_COSINE
        if length > 3.0 * width:
            size = turned.arcsec(width), turned.arcsec(length * seen)
            found.append(Marking(name, Shape.STRIPE, *size, contrast, away))
        else:
            size = turned.arcsec(np.sqrt(width * length) * seen), turned.arcsec(length)
            found.append(Marking(name, Shape.SPOT, *size, contrast, away))
    found += _caps(turned)
    if 1.0 - turned.illuminated_fraction > PHASE_FROM_SHARE:
        found += _inner(turned)
    return found


def _caps(turned: Turned) -> list[Marking]:
    """The polar caps of the season; a pole in its own winter lies under haze and is left out."""
    found, season = [], turned.season_deg
    if season is None:
        return []
    for name, edges, tilt in (
        ("north polar cap", _NORTH_EDGE, turned.tilt_deg),
        ("south polar cap", _SOUTH_EDGE, -turned.tilt_deg),
    ):
        if not edges[0][0] <= season <= edges[0][-1]:
            continue
        edge = abs(float(np.interp(season, *edges)))
        middle = min(edge - tilt, 90.0)
        width = _MARS_KM * (1.0 - np.sin(np.radians(middle)))
        length = 2.0 * _MARS_KM * np.cos(np.radians(edge))
        size = turned.arcsec(float(np.sqrt(max(width, 1.0) * length)))
        away = edge - tilt >= 90.0
        found.append(Marking(name, Shape.SPOT, size, size, _CAP_CONTRAST, bool(away)))
    return found


def _cosine(turned: Turned, west_longitude: float, latitude: float) -> float:
    """Cosine of the angle from the middle of the disc."""
    tilt, lat = np.radians(turned.tilt_deg), np.radians(latitude)
    apart = np.radians(turned.meridian_deg - west_longitude)
    return float(np.sin(tilt) * np.sin(lat) + np.cos(tilt) * np.cos(lat) * np.cos(apart))


_FINDERS: dict[str, Callable[[Turned], list[Marking]]] = {
    "Mercury": _inner, "Venus": _inner, "Mars": _mars, "Jupiter": _jupiter, "Saturn": _saturn,
    "Uranus": _outer, "Neptune": _outer,
}  # fmt: skip
