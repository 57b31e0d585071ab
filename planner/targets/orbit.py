"""Visual-binary orbits: where the companion stands on a date."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import J2000_YEAR

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]
    Texts = NDArray[np.object_]

MOST_STEPS = 60  # Newton needs about 8; 60 is far beyond e = 0.9999
KEPLER_TOLERANCE_RAD = 1e-12  # 1e-11 of the semi-major axis: nothing an eye could see
PRECESSION_OF_POSITION_ANGLE_DEG_PER_YR = 0.0055675  # n = 20.043"/yr, IAU 1976 (from memory)


@dataclass(frozen=True, slots=True)
class Orbits:
    """Orbital elements of N visual binaries, one array of length N for each column.

    ``wds``, ``discoverer``, ``components`` and ``hip`` (0 where none) say which pair it is.
    Period in years, semi-major axis in arcseconds, inclination, node and longitude of
    periastron (of the secondary) in degrees, periastron time as a decimal year.
    ``node_equinox_yr`` is the equinox to which the node, and so each position angle, refers.
    ``grade`` is that of the Sixth Catalog of Orbits: 1 definitive to 5 indeterminate.
    ``measured_last_yr`` is the last measure the orbit rests on (NaN where not known).
    """

    wds: Texts
    discoverer: Texts
    components: Texts
    hip: Integers
    name: Texts
    v1: Floats
    v2: Floats
    period_yr: Floats
    semi_major_arcsec: Floats
    inclination_deg: Floats
    node_deg: Floats
    periastron_yr: Floats
    eccentricity: Floats
    periastron_longitude_deg: Floats
    node_equinox_yr: Floats
    grade: Integers
    reference: Texts
    source: Texts
    measured_last_yr: Floats

    def __len__(self) -> int:
        """Number of orbits."""
        return len(self.period_yr)


def eccentric_anomaly_rad(mean_anomaly_rad: ArrayLike, eccentricity: ArrayLike) -> Floats:
    """Eccentric anomaly E of Kepler's equation ``M = E - e sin E``, radians.

    Arguments: mean anomaly in radians (any), eccentricity 0 <= e < 1; scalars or arrays,
    broadcast. Result in -pi..pi. Newton's method from above: on 0..pi the function is convex
    and rising, so from a start beyond the root, the least of ``M + e``, ``M / (1 - e)`` and pi,
    it falls to the root without overshooting, for any e < 1.
    """
    e = np.asarray(eccentricity, dtype=float)
    turn = np.asarray(mean_anomaly_rad, dtype=float)
    signed = (turn + np.pi) % (2.0 * np.pi) - np.pi
    mean, e = np.broadcast_arrays(np.abs(signed), e)
    anomaly = np.minimum(np.minimum(mean + e, mean / (1.0 - e)), np.pi)
    for _ in range(MOST_STEPS):
        step = (anomaly - e * np.sin(anomaly) - mean) / (1.0 - e * np.cos(anomaly))
        anomaly = anomaly - step
        if not np.any(np.abs(step) >= KEPLER_TOLERANCE_RAD):  # NaN, of no year, is done at once
            break
    return np.asarray(np.copysign(anomaly, signed))


def apparent_places(orbits: Orbits, year: ArrayLike) -> tuple[Floats, Floats]:
    """Separation in arcseconds and position angle in degrees (0..360) of each companion.

    ``year`` is a decimal year: a scalar or an array of shape (N,), one for each orbit, gives
    results of shape (N,); an array of shape (N, T) or (1, T) gives (N, T). The position angle
    refers to the equinox of the node; ``position_angle_shift_deg`` moves it to another. The
    equations: E from Kepler; ``tan(v/2) = sqrt((1+e)/(1-e)) tan(E/2)``, ``r = a (1 - e cos E)``,
    ``tan(theta - node) = tan(v + omega) cos i``. Limit: the orbit's own error, from about 0.01"
    for grade 1 to anything for grade 5; the difference between Besselian and Julian years is
    ignored, and so is the slow turn of north as the pair moves across the sky.
    Source: Meeus 1998, Astronomical Algorithms, ch. 57.
    """
    when = np.asarray(year, dtype=float)

    def element(values: Floats) -> Floats:
        return values[:, np.newaxis] if when.ndim > 1 else values

    e = element(orbits.eccentricity)
    mean = 2.0 * np.pi * (when - element(orbits.periastron_yr)) / element(orbits.period_yr)
    half = eccentric_anomaly_rad(mean, e) / 2.0
    true = 2.0 * np.arctan2(np.sqrt(1.0 + e) * np.sin(half), np.sqrt(1.0 - e) * np.cos(half))
    radius = element(orbits.semi_major_arcsec) * (1.0 - e * np.cos(2.0 * half))
    along = true + np.radians(element(orbits.periastron_longitude_deg))
    x = radius * np.cos(along)
    y = radius * np.sin(along) * np.cos(np.radians(element(orbits.inclination_deg)))
    angle = (np.degrees(np.arctan2(y, x)) + element(orbits.node_deg)) % 360.0
    return np.hypot(x, y), angle


def position_angle_shift_deg(
    ra_deg: ArrayLike, dec_deg: ArrayLike, from_yr: ArrayLike, to_yr: ArrayLike = J2000_YEAR
) -> Floats:
    """What to add to a position angle to move it from one equinox to another, degrees.

    ``0.0056 deg sin(ra) / cos(dec)`` a year, from ``from_yr`` to ``to_yr`` (decimal years).
    Position in degrees; scalars or arrays, broadcast. Limit: first order, so it fails within a
    degree or so of a pole. Source: Heintz 1978, Double Stars (from memory).
    """
    ra, dec = np.radians(np.asarray(ra_deg, float)), np.radians(np.asarray(dec_deg, float))
    years = np.asarray(to_yr, dtype=float) - np.asarray(from_yr, dtype=float)
    rate = PRECESSION_OF_POSITION_ANGLE_DEG_PER_YR * np.sin(ra) / np.cos(dec)
    return np.asarray(rate * years)
