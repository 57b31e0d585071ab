"""The coming nights hour by hour: when the Moon is up, and when a feature of hers is well lit."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.kernel import covered_dates
from planner.ephemeris.moon_face import face_from
from planner.night.events.sky_hours import SkyHours, sky_hours
from planner.targets.columns import rows_of
from planner.targets.lunar_features import load_lunar_features
from planner.verdict.bodies.lunar_markings import EDGE_DEG, good_light_deg

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.ephemeris.site import Site
    from planner.night.moon_tonight import MoonTonight

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]

NIGHT_SUN_DEG = -6.0  # civil dusk, from which a Moon well off the Sun is looked at; almanacs
BESIDE_SUN_DEG = 30.0  # nearer she is sought in twilight; own judgement
LOOK_DAYS = 60  # ahead: two lunations
MOST_NIGHTS = 6


@dataclass(frozen=True, slots=True)
class LunarNight:
    """One night with the Moon up, or a feature in good light: the hour at which she is highest.

    ``first`` and ``last`` bound the good hours, to the hour. ``date`` is the evening's.
    ``sun_altitude_deg`` is the Sun's height at the feature, None without one.
    """

    date: dt.date
    time: dt.datetime
    first: dt.datetime
    last: dt.datetime
    altitude_deg: float
    azimuth_deg: float
    sun_altitude_deg: float | None = None
    morning: bool | None = None


@dataclass(frozen=True, slots=True)
class LunarFeatureTonight:
    """One feature: its facts, the Moon with it alone tonight (None without her), good nights."""

    name: str
    kind: str
    lon_east_deg: float
    lat_deg: float
    size_km: float
    source: str
    good_sun_deg: tuple[float, float]
    moon: MoonTonight | None
    good_nights: tuple[LunarNight, ...]


def feature_tonight(
    site: Site, first: dt.date, row: int, least_altitude_deg: float, moon: MoonTonight | None
) -> LunarFeatureTonight:
    """One feature of the table with its next good nights, those after the first date."""
    features = load_lunar_features()
    low, high = good_light_deg(rows_of(features, [row]))[0]
    return LunarFeatureTonight(
        name=str(features.name[row]),
        kind=str(features.kind[row]),
        lon_east_deg=float(features.lon_east_deg[row]),
        lat_deg=float(features.lat_deg[row]),
        size_km=float(features.size_km[row]),
        source=str(features.source[row]),
        good_sun_deg=(float(low), float(high)),
        moon=moon,
        good_nights=good_nights(site, first, row, least_altitude_deg),
    )


def next_moon(site: Site, after: dt.date, least_altitude_deg: float) -> LunarNight | None:
    """The first night after a date in which this site sees the Moon; None within two months."""
    hours = _hours(site, after + dt.timedelta(days=1), least_altitude_deg)
    if hours is None:
        return None
    found = _nights(hours, _seen(hours), None)
    return found[0] if found else None


def good_nights(
    site: Site, first: dt.date, row: int, least_altitude_deg: float
) -> tuple[LunarNight, ...]:
    """The next nights, from a date on, in which a feature stands in good light; six at most.

    Good light after ``good_light_deg``; the feature no nearer to the limb than 10 degrees. Worked
    out every hour of two months.
    """
    hours = _hours(site, first, least_altitude_deg)
    if hours is None:
        return ()
    feature = rows_of(load_lunar_features(), [row])
    moon, sun = hours.row("Moon"), hours.row("Sun")
    face = face_from(
        hours.vector[moon] * hours.distance_au[moon],
        hours.vector[sun] * hours.distance_au[sun],
        np.asarray(hours.grid.times.tt),
    )
    height = face.sun_altitude_deg(feature.lon_east_deg, feature.lat_deg)[0]
    away = face.from_centre_deg(feature.lon_east_deg, feature.lat_deg)[0]
    low, high = good_light_deg(feature)[0]
    good = _seen(hours) & (height >= low) & (height <= high) & (away <= EDGE_DEG)
    morning = np.sin(np.radians(face.sun_lon_deg - feature.lon_east_deg[0])) > 0.0
    return tuple(_nights(hours, good, (height, morning))[:MOST_NIGHTS])


def _hours(site: Site, first: dt.date, least_altitude_deg: float) -> SkyHours | None:
    """Every hour of two months, or of what the ephemeris still has."""
    days = min(LOOK_DAYS, (covered_dates()[1] - first).days)
    if days < 1:
        return None
    return sky_hours(site, first, days, least_altitude_deg, ("Sun", "Moon"))


def _seen(hours: SkyHours) -> Bools:
    """When the Moon may be looked at: in darkness, or beside the Sun while that is safely down.

    In bright twilight only in the evening: a look before sunrise has to end in time.
    """
    sun = hours.altitude_deg[hours.row("Sun")]
    dark, sinking = sun < NIGHT_SUN_DEG, np.gradient(sun) < 0.0
    beside = hours.separation_deg("Sun", "Moon") < BESIDE_SUN_DEG
    wanted = beside if dark.any() else np.ones_like(dark)
    return np.asarray(hours.up("Moon") & (dark | (wanted & sinking)))


def _nights(hours: SkyHours, good: Bools, light: tuple[Floats, Bools] | None) -> list[LunarNight]:
    """The good hours night by night."""
    altitude = hours.altitude_deg[hours.row("Moon")]
    found: list[LunarNight] = []
    number = np.arange(len(good)) // 24  # the hours run from noon
    for night in np.unique(number[good]):
        those = np.flatnonzero(good & (number == night))
        best = int(those[np.argmax(altitude[those])])
        found.append(
            LunarNight(
                date=(hours.instant(float(24 * night)) + dt.timedelta(hours=2)).date(),
                time=hours.instant(best),
                first=hours.instant(float(those[0])),
                last=hours.instant(float(those[-1])),
                altitude_deg=float(altitude[best]),
                azimuth_deg=float(hours.azimuth_deg[hours.row("Moon"), best]),
                sun_altitude_deg=None if light is None else float(light[0][best]),
                morning=None if light is None else bool(light[1][best]),
            )
        )
    return found
