"""Where Saturn's brighter moons stand beside it.

Source of every constant: Meeus 1998, Astronomical Algorithms, ch. 46, after Harper & Taylor 1993
and others (from memory; the chapter's worked example is a test). Limits: against another library
within 0.7" from Mimas to Rhea, 1.6" for Titan, 5" for Iapetus, 2000 to 2035.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.ephemeris.aspect import Aspect

    Floats = NDArray[np.float64]

SATURN_MOONS = ("Mimas", "Enceladus", "Tethys", "Dione", "Rhea", "Titan", "Iapetus")
SATURN_AU = 60330.0 / 149597870.7  # equatorial radius of the chapter, au
_TILT, _NODE = np.radians(28.0817), 168.8112  # of the ring's plane on the ecliptic of 1950
_OBLIQUITY = np.radians(23.4457889)  # of 1950; Lieske 1979
# Axes of B1950 to those of J2000; Explanatory Supplement 1992, eq. 3.591 (from memory).
_TO_J2000 = np.array([
    [0.9999256782, -0.0111820611, -0.0048579477],
    [0.0111820610, 0.9999374784, -0.0000271765],
    [0.0048579479, -0.0000271474, 0.9999881997],
])  # fmt: skip


def saturn_moons(found: Aspect) -> tuple[Floats, Floats, Floats]:
    """x, y and depth of the seven moons, (7, T), in Saturn's equatorial radii.

    ``found`` is Saturn's aspect. x counts along the equator towards celestial west, y towards its
    north pole, depth towards us; perspective is in.
    """
    places = _places(found.tt_jd)
    towards, pole = found.to_site, found.pole
    west = np.cross(pole, towards, axis=0)
    west = west / np.linalg.norm(west, axis=0)
    north = np.cross(towards, west, axis=0)
    depth = np.einsum("mit,it->mt", places, towards)
    nearer = 1.0 / (1.0 - depth * SATURN_AU / found.distance_au)
    x = np.einsum("mit,it->mt", places, west) * nearer
    return x, np.einsum("mit,it->mt", places, north) * nearer, depth


@dataclass(frozen=True, slots=True, eq=False)
class _Orbit:
    """A place in an orbit: longitude and node in degrees, radius, tilt of the plane in radians."""

    longitude: Floats
    radius: Floats
    tilt: Floats
    node: Floats


def _places(tt_jd: Floats) -> Floats:
    """Vectors (7, 3, T) from Saturn on the axes of J2000, in radii."""
    arguments = _Arguments(tt_jd)
    orbits = [
        _mimas(arguments), _enceladus(arguments), _tethys(arguments), _dione(arguments),
        _rhea(arguments), _titan(arguments), _iapetus(arguments),
    ]  # fmt: skip
    return np.stack([_vector(orbit) for orbit in orbits])


class _Arguments:
    """The times and angles that the moons share; angles in degrees."""

    def __init__(self, tt_jd: Floats) -> None:
        self.t1 = tt_jd - 2411093.0
        self.t2 = self.t1 / 365.25
        self.t4 = tt_jd - 2411368.0
        t5 = self.t4 / 365.25
        self.t7 = (tt_jd - 2415020.0) / 36525.0
        self.t10 = tt_jd - 2409786.0
        self.t11 = self.t10 / 36525.0
        self.w0 = 5.095 * ((tt_jd - 2433282.423) / 365.25 + 1950.0 - 1866.39)
        self.w1, self.w2 = 74.4 + 32.39 * self.t2, 134.3 + 92.62 * self.t2
        self.w3, self.w4 = 42.0 - 0.5118 * t5, 276.59 + 0.5118 * t5
        self.w5 = 267.2635 + 1222.1136 * self.t7
        self.w6 = 175.4762 + 1221.5515 * self.t7
        self.w7 = 2.4891 + 0.002435 * self.t7
        self.w8 = 113.35 - 0.2597 * self.t7
        self.saturn_e = 0.05589 - 0.000346 * self.t7


def _sin(degrees: Floats) -> Floats:
    return np.asarray(np.sin(np.radians(degrees)))


def _cos(degrees: Floats) -> Floats:
    return np.asarray(np.cos(np.radians(degrees)))


def _mimas(a: _Arguments) -> _Orbit:
    mean = 127.64 + 381.994497 * a.t1 - 43.57 * _sin(a.w0) - 0.720 * _sin(3.0 * a.w0)
    mean = mean - 0.02144 * _sin(5.0 * a.w0)
    anomaly = mean - (106.1 + 365.549 * a.t2)
    centre = 2.18287 * _sin(anomaly) + 0.025988 * _sin(2.0 * anomaly)
    centre = centre + 0.00043 * _sin(3.0 * anomaly)
    radius = 3.06879 / (1.0 + 0.01905 * _cos(anomaly + centre))
    return _Orbit(mean + centre, radius, np.radians(1.563), 54.5 - 365.072 * a.t2)


def _enceladus(a: _Arguments) -> _Orbit:
    mean = 200.317 + 262.7319002 * a.t1 + 0.25667 * _sin(a.w1) + 0.20883 * _sin(a.w2)
    anomaly = mean - (309.107 + 123.44121 * a.t2)
    centre = 0.55577 * _sin(anomaly) + 0.00168 * _sin(2.0 * anomaly)
    radius = 3.94118 / (1.0 + 0.00485 * _cos(anomaly + centre))
    return _Orbit(mean + centre, radius, np.radians(0.0262), 348.0 - 151.95 * a.t2)


def _tethys(a: _Arguments) -> _Orbit:
    longitude = 285.306 + 190.69791226 * a.t1 + 2.063 * _sin(a.w0) + 0.03409 * _sin(3.0 * a.w0)
    longitude = longitude + 0.001015 * _sin(5.0 * a.w0)
    radius = np.full_like(longitude, 4.880998)
    return _Orbit(longitude, radius, np.radians(1.0976), 111.33 - 72.2441 * a.t2)


def _dione(a: _Arguments) -> _Orbit:
    mean = 254.712 + 131.53493193 * a.t1 - 0.0215 * _sin(a.w1) - 0.01733 * _sin(a.w2)
    anomaly = mean - (174.8 + 30.820 * a.t2)
    centre = 0.24717 * _sin(anomaly) + 0.00033 * _sin(2.0 * anomaly)
    radius = 6.24871 / (1.0 + 0.002157 * _cos(anomaly + centre))
    return _Orbit(mean + centre, radius, np.radians(0.0139), 232.0 - 30.27 * a.t2)


def _rhea(a: _Arguments) -> _Orbit:
    own = 342.7 + 10.057 * a.t2
    one = 0.000265 * _sin(own) + 0.001 * _sin(a.w4)
    two = 0.000265 * _cos(own) + 0.001 * _cos(a.w4)
    turn = 345.0 - 10.057 * a.t2
    return _from_elements(
        eccentricity=np.hypot(one, two),
        mean=359.244 + 79.69004720 * a.t1 + 0.086754 * _sin(turn),
        apse=np.degrees(np.arctan2(one, two)),
        axis=np.full_like(one, 8.725924),
        node=168.8034 + 0.736936 * _sin(turn) + 0.041 * _sin(a.w3),
        tilt=28.0362 + 0.346898 * _cos(turn) + 0.01930 * _cos(a.w3),
    )


def _titan(a: _Arguments) -> _Orbit:
    mean = 261.1582 + 22.57697855 * a.t4 + 0.074025 * _sin(a.w3)
    tilt, node = 27.45141 + 0.295999 * _cos(a.w3), 168.66925 + 0.628808 * _sin(a.w3)
    one = _sin(a.w7) * _sin(node - a.w8)
    two = _cos(a.w7) * _sin(tilt) - _sin(a.w7) * _cos(tilt) * _cos(node - a.w8)
    psi, slant = np.degrees(np.arctan2(one, two)), np.hypot(one, two)
    start = 102.8623
    g = a.w4 - node - psi
    apse = a.w4
    for _ in range(3):
        apse = a.w4 + 0.37515 * (_sin(2.0 * g) - _sin(np.asarray(2.0 * start)))
        g = apse - node - psi
    own = 0.029092 + 0.00019048 * (_cos(2.0 * g) - _cos(np.asarray(2.0 * start)))
    q = 2.0 * (a.w5 - apse)
    b1 = _sin(tilt) * _sin(node - a.w8)
    b2 = _cos(a.w7) * _sin(tilt) * _cos(node - a.w8) - _sin(a.w7) * _cos(tilt)
    theta = np.degrees(np.arctan2(b1, b2)) + a.w8
    u = 2.0 * a.w5 - 2.0 * theta + psi
    h = 0.9375 * own**2 * _sin(q) + 0.1875 * slant**2 * _sin(2.0 * (a.w5 - theta))
    sunward = a.saturn_e * _sin(a.w6) + 0.75 * a.saturn_e**2 * _sin(2.0 * a.w6) + h
    return _from_elements(
        eccentricity=own + 0.002778797 * own * _cos(q),
        mean=mean - 0.254744 * sunward,
        apse=apse + 0.159215 * _sin(q),
        axis=np.full_like(mean, 20.216193),
        node=node + 0.031843 * slant * _sin(u) / _sin(tilt),
        tilt=tilt + 0.031843 * slant * _cos(u),
    )


def _iapetus(a: _Arguments) -> _Orbit:
    titan = 261.1582 + 22.57697855 * a.t4
    psi, phi = 4.367 - 0.195 * a.t7, 60.470 + 1.521 * a.t7
    theta, capital = 146.819 - 3.198 * a.t7, 205.055 - 2.091 * a.t7
    own, apse = 0.028298 + 0.001156 * a.t11, 352.91 + 11.71 * a.t11
    mu = 76.3852 + 4.53795125 * a.t10
    t = a.t11
    tilt = 18.4602 - 0.9518 * t - 0.072 * t**2 + 0.0054 * t**3
    node = 143.198 - 3.919 * t + 0.116 * t**2 + 0.008 * t**3
    own_mean, g, g1 = mu - apse, apse - node - psi, apse - node - phi
    ls = a.w5 - (91.796 + 0.562 * a.t7)
    gs = (91.796 + 0.562 * a.t7) - theta
    lt, gt = titan - a.w4, a.w4 - capital
    u1, u2 = 2.0 * (own_mean + g - ls - gs), own_mean + g1 - lt - gt
    u3, u4, u5 = own_mean + 2.0 * (g - ls - gs), lt + gt - g1, 2.0 * (ls + gs)
    u6, u7, u8 = u5 + psi, own_mean + g1 + lt + gt + phi, u2 + phi
    e = own - 0.0014097 * _cos(g1 - gt) + 0.0003733 * _cos(u5 - 2.0 * g) + 0.0001180 * _cos(u3)
    e = e + 0.0002408 * _cos(own_mean) + 0.0002849 * _cos(own_mean + u2) + 0.0006190 * _cos(u4)
    w = 0.08077 * _sin(g1 - gt) + 0.02139 * _sin(u5 - 2.0 * g) - 0.00676 * _sin(u3)
    w = w + 0.01380 * _sin(own_mean) + 0.01632 * _sin(own_mean + u2) + 0.03547 * _sin(u4)
    mean = mu - 0.04299 * _sin(u2) - 0.00789 * _sin(u1) - 0.06312 * _sin(ls)
    mean = mean - 0.00295 * _sin(2.0 * ls) - 0.02231 * _sin(u5) + 0.00650 * _sin(u6)
    tilting = 0.04204 * _cos(u6) + 0.00235 * _cos(u7) + 0.00360 * _cos(u8)
    turning = 0.04204 * _sin(u6) + 0.00235 * _sin(u7) + 0.00358 * _sin(u8)
    return _from_elements(
        eccentricity=e,
        mean=mean,
        apse=apse + w / own,
        axis=58.935028 + 0.004638 * _cos(u1) + 0.058222 * _cos(u2),
        node=node + turning / _sin(tilt),
        tilt=tilt + tilting,
    )


def _from_elements(
    *, eccentricity: Floats, mean: Floats, apse: Floats, axis: Floats, node: Floats, tilt: Floats
) -> _Orbit:
    """An orbit on the ecliptic of 1950 as one on the plane of the ring."""
    e, anomaly = eccentricity, mean - apse
    centre = (2.0 * e - e**3 / 4.0 + 5.0 * e**5 / 96.0) * _sin(anomaly)
    centre += (1.25 * e**2 - 11.0 * e**4 / 24.0) * _sin(2.0 * anomaly)
    centre += (13.0 * e**3 / 12.0 - 43.0 * e**5 / 64.0) * _sin(3.0 * anomaly)
    centre += 103.0 * e**4 / 96.0 * _sin(4.0 * anomaly)
    centre = np.degrees(centre)
    radius = axis * (1.0 - e**2) / (1.0 + e * _cos(anomaly + centre))
    g = node - _NODE
    s1, c1 = np.sin(_TILT), np.cos(_TILT)
    one = _sin(tilt) * _sin(g)
    two = c1 * _sin(tilt) * _cos(g) - s1 * _cos(tilt)
    u = np.degrees(np.arctan2(one, two))
    h = c1 * _sin(tilt) - s1 * _cos(tilt) * _cos(g)
    psi = np.degrees(np.arctan2(s1 * _sin(g), h))
    return _Orbit(mean + centre + u - g - psi, radius, np.arcsin(np.hypot(one, two)), _NODE + u)


def _vector(orbit: _Orbit) -> Floats:
    """A place in an orbit as a vector (3, T) on the axes of J2000."""
    u, w = orbit.longitude - orbit.node, orbit.node - _NODE
    flat, steep = np.cos(orbit.tilt), np.sin(orbit.tilt)
    x = orbit.radius * (_cos(u) * _cos(w) - _sin(u) * flat * _sin(w))
    y = orbit.radius * (_sin(u) * _cos(w) * flat + _cos(u) * _sin(w))
    z = orbit.radius * _sin(u) * steep
    y, z = np.cos(_TILT) * y - np.sin(_TILT) * z, np.sin(_TILT) * y + np.cos(_TILT) * z
    turn = np.radians(_NODE)
    x, y = np.cos(turn) * x - np.sin(turn) * y, np.sin(turn) * x + np.cos(turn) * y
    tilt = _OBLIQUITY
    y, z = np.cos(tilt) * y - np.sin(tilt) * z, np.sin(tilt) * y + np.cos(tilt) * z
    return np.asarray(_TO_J2000 @ np.array([x, y, z]))
