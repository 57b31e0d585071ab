"""How a planet's globe is turned towards us: axis, central meridian, phase, sunlit side."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import AU_KM, J2000_JD, LIGHT_SPEED_KM_S
from planner.ephemeris.axes import equator_axes, position_angle_deg, rotation
from planner.ephemeris.body_position import SUN, body_position

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.ephemeris.bodies import Planet
    from planner.ephemeris.moments import TimeGrid

    Floats = NDArray[np.float64]

LIGHT_DAYS_PER_AU = AU_KM / LIGHT_SPEED_KM_S / 86400.0
RING_MAJOR_ARCSEC_AU = 375.35  # ring A's outer edge; Meeus 1998, Astronomical Algorithms, ch. 45
_SYSTEM_I = 67.1, 877.900  # degrees at J2000, degrees a day; Meeus 1998, ch. 43
SYSTEM_II_DEG_A_DAY = 870.270
_SYSTEM_II = 43.3, SYSTEM_II_DEG_A_DAY


@dataclass(frozen=True, slots=True, eq=False)
class Aspect:
    """One planet at T moments as seen from one place; arrays (T,), angles in degrees.

    ``sub_site_lat`` and ``sub_sun_lat`` are planetocentric; ``central_meridian`` is the west
    longitude in the middle of the whole disc, ``sun_meridian`` that under the Sun.
    ``phase_angle`` is Sun-planet-site, ``axis_angle`` and ``bright_limb_angle`` are position
    angles on the sky, from ICRS north through east. ``to_site`` and ``to_sun`` (3, T) are unit
    vectors from the planet, ``pole`` its north pole; ``distance_au`` is from the site, ``tt_jd``
    when the light left.
    """

    sub_site_lat: Floats
    sub_sun_lat: Floats
    central_meridian: Floats
    sun_meridian: Floats
    phase_angle: Floats
    axis_angle: Floats
    bright_limb_angle: Floats
    to_site: Floats
    to_sun: Floats
    pole: Floats
    distance_au: Floats
    tt_jd: Floats

    @property
    def illuminated_fraction(self) -> Floats:
        """Share of the disc that is lit, 0..1."""
        return np.asarray((1.0 + np.cos(np.radians(self.phase_angle))) / 2.0)


def aspect(name: str, planet_au: Floats, sun_au: Floats, tt_jd: Floats) -> Aspect:
    """The aspect of a planet from the vectors site-planet and site-Sun, (3, T), light time in.

    ``tt_jd`` (T,) is when the light arrives, terrestrial time. With e and s the unit vectors to
    the site and the Sun, P the pole and N, Q along the equator: latitude ``asin(P e)``, central
    meridian ``W - atan2(e Q, e N)``. Position angles of date are up to 0.04 degrees larger.
    Source: geometry; axes after the IAU working group 2015; tested against the worked examples of
    Meeus 1998, Astronomical Algorithms, ch. 41 to 45.
    """
    distance = np.linalg.norm(planet_au, axis=0)
    left = tt_jd - distance * LIGHT_DAYS_PER_AU
    to_site = -planet_au / distance
    to_sun = sun_au - planet_au
    to_sun = to_sun / np.linalg.norm(to_sun, axis=0)
    pole, spin = rotation(name, left)
    node, further = equator_axes(pole)
    cross = np.linalg.norm(np.cross(to_site, to_sun, axis=0), axis=0)
    return Aspect(
        sub_site_lat=_latitude(pole, to_site),
        sub_sun_lat=_latitude(pole, to_sun),
        central_meridian=(spin - _turned(node, further, to_site)) % 360.0,
        sun_meridian=(spin - _turned(node, further, to_sun)) % 360.0,
        phase_angle=np.degrees(np.arctan2(cross, np.sum(to_site * to_sun, axis=0))),
        axis_angle=position_angle_deg(-to_site, pole),
        bright_limb_angle=position_angle_deg(-to_site, to_sun),
        to_site=to_site,
        to_sun=to_sun,
        pole=pole,
        distance_au=distance,
        tt_jd=left,
    )


def planet_aspect(grid: TimeGrid, planet: Planet) -> Aspect:
    """The aspect of a planet from the grid's site at its moments."""
    here, sun = body_position(grid, planet.naif_number), body_position(grid, SUN)
    return aspect(planet.name, here.vector_au, sun.vector_au, np.asarray(grid.times.tt))


def jupiter_meridians(found: Aspect) -> tuple[Floats, Floats]:
    """Central meridians of Jupiter's Systems I (equator) and II (the rest), degrees (T,).

    Geometric; the middle of the lit disc lies up to 0.6 degrees on, by ``57.3 sin^2(i/2)``.
    Source: Meeus 1998, Astronomical Algorithms, ch. 43 (rates); axis as ``rotation``.
    """
    node, further = equator_axes(found.pole)
    turned = _turned(node, further, found.to_site)
    days = found.tt_jd - J2000_JD
    first, second = ((w0 + rate * days - turned) % 360.0 for w0, rate in (_SYSTEM_I, _SYSTEM_II))
    return first, second


def mars_season_deg(found: Aspect, velocity: Floats) -> Floats:
    """Mars's season Ls, degrees: 0 is the northern spring equinox, 90 the summer solstice.

    ``velocity`` (3, T) of Mars about the Sun, any unit. x is where equator and orbit cross, y 90
    degrees on: ``Ls = atan2(s y, s x)`` with s the direction of the Sun, turned half round.
    Source: geometry; within 0.02 degrees of Allison & McEwen 2000, Planet. Space Sci. 48, 215.
    """
    outward = -found.to_sun
    normal = np.cross(outward, velocity, axis=0)
    normal = normal / np.linalg.norm(normal, axis=0)
    x = np.cross(found.pole, normal, axis=0)
    x = x / np.linalg.norm(x, axis=0)
    y = np.cross(normal, x, axis=0)
    towards = np.sum(-outward * y, axis=0), np.sum(-outward * x, axis=0)
    return np.asarray(np.degrees(np.arctan2(*towards)) % 360.0)


def ring_axes_arcsec(found: Aspect) -> tuple[Floats, Floats]:
    """Major and minor axis of Saturn's ring A at its outer edge, arcsec (T,).

    ``375.35" / distance``, times ``sin |B|``. Source: Meeus 1998, ch. 45.
    """
    major = RING_MAJOR_ARCSEC_AU / found.distance_au
    return major, major * np.sin(np.radians(np.abs(found.sub_site_lat)))


def ring_sun_offset_deg(found: Aspect) -> Floats:
    """How far the Sun stands from us round Saturn's ring, degrees, -180..180.

    The ring's shadow on the globe and the globe's on the ring lie to its side. Meeus's dU.
    """
    return np.asarray((found.central_meridian - found.sun_meridian + 180.0) % 360.0 - 180.0)


def _latitude(pole: Floats, direction: Floats) -> Floats:
    return np.asarray(np.degrees(np.arcsin(np.sum(pole * direction, axis=0))))


def _turned(node: Floats, further: Floats, direction: Floats) -> Floats:
    """Angle along the equator from the node to below a direction, degrees."""
    along = np.sum(direction * further, axis=0), np.sum(direction * node, axis=0)
    return np.asarray(np.degrees(np.arctan2(*along)))
