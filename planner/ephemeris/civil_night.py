"""The civil night: from one noon to the next, and what Sun and Moon do in between."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from enum import Enum
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import AU_KM
from planner.ephemeris.body_position import MOON, MOON_RADIUS_KM, SUN, body_position
from planner.ephemeris.crossings import crossings, cubic_values
from planner.ephemeris.kernel import require_covered
from planner.ephemeris.moments import grid_at, later, seconds_between
from planner.ephemeris.site import Site, site_zone
from planner.errors import UsageError

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.ephemeris.crossings import Crossings
    from planner.ephemeris.moments import TimeGrid

    Floats = NDArray[np.float64]

SUNRISE_ALTITUDE_DEG = -50.0 / 60.0  # centre; 34' refraction + 16' radius, Astronomical Almanac
HORIZON_REFRACTION_DEG = 34.0 / 60.0  # Astronomical Almanac, explanation of risings
_STEP_S = 600.0
_HALF_DAY_S = 43200.0
_DEGREES_PER_SECOND = 15.0 / 3600.0  # of the Sun's hour angle
_MIDNIGHT_SUN_MORNING_S = 6 * 3600.0


class Darkness(Enum):
    """How dark a night gets, by the lowest altitude of the Sun's centre."""

    FULL = "full darkness"  # -18 degrees or lower
    ASTRONOMICAL = "astronomical twilight only"  # -12 to -18
    NAUTICAL = "nautical twilight only"  # -6 to -12
    CIVIL = "civil twilight only"  # below the horizon, above -6
    MIDNIGHT_SUN = "midnight sun"


_LIMIT_DEG = {
    Darkness.FULL: -18.0,
    Darkness.ASTRONOMICAL: -12.0,
    Darkness.NAUTICAL: -6.0,
    Darkness.CIVIL: SUNRISE_ALTITUDE_DEG,
}


@dataclass(frozen=True, slots=True)
class CivilNight:
    """The night that belongs to the evening of ``date``.

    ``start`` and ``end`` are true noons of the site (the Sun on the meridian), about 24 hours
    apart; ``solar_midnight`` is the middle. All datetimes are aware, in the site's zone; an
    event that does not happen is None. Subtract and compare them with
    ``moments.seconds_between``: plain ``end - start`` is an hour wrong over a clock change.
    ``sun_never_rises`` means polar night; ``moon_up_at_start`` tells a Moon that is up all the
    time from one that is down all the time, where it neither rises nor sets.
    """

    date: date
    site: Site
    start: datetime
    end: datetime
    solar_midnight: datetime
    sunset: datetime | None
    civil_dusk: datetime | None
    nautical_dusk: datetime | None
    astronomical_dusk: datetime | None
    astronomical_dawn: datetime | None
    nautical_dawn: datetime | None
    civil_dawn: datetime | None
    sunrise: datetime | None
    moonrise: datetime | None
    moonset: datetime | None
    moon_up_at_start: bool
    deepest_twilight: Darkness
    sun_never_rises: bool
    lowest_sun_deg: float


@lru_cache(maxsize=16)  # a command asks for one night several times
def civil_night(site: Site, evening: date) -> CivilNight:
    """The night that begins on the evening of a date, with its events.

    The night runs from true noon to true noon, centred on the site's solar midnight nearest
    to the zone's midnight at the end of ``evening``. Clock noon would not do: where the
    zone is far from the Sun, or the Sun sets soon after noon, it would cut off a sunset.
    Sunset and sunrise: the Sun's centre 50' below the horizon; twilights: 6, 12, 18 degrees;
    dusks are sought before the Sun's lowest point, dawns after it.
    Moonrise and moonset: upper limb on the horizon with 34' refraction and the Moon's own
    radius and parallax, within the same 24 hours; when there are several (high latitudes)
    the one nearest solar midnight. Altitudes are geometric, of a flat horizon at the
    site: no dip for height, no hills, mean air. Good to a few seconds against that
    definition, unless the body only grazes the horizon; real air moves a rising by a minute
    or more at high latitudes.
    Raises DateOutsideEphemerisError, KitError for an unknown zone.
    Source: definitions as in the Astronomical Almanac and the U.S. Naval Observatory's
    explanation of rise, set and twilight.
    """
    require_covered(evening)
    noon, midnight, next_noon = _noons(site, evening)
    day_s = seconds_between(noon, next_noon)
    grid = grid_at(site, noon, np.arange(-_STEP_S, day_s + 2 * _STEP_S, _STEP_S))
    sun_deg = body_position(grid, SUN).altitude_deg
    every_minute = np.arange(0.0, day_s, _STEP_S / 10.0)
    sun_fine_deg = cubic_values(sun_deg, 1.0 + every_minute / _STEP_S)
    lowest, highest = float(sun_fine_deg.min()), float(sun_fine_deg.max())
    lowest_s = float(every_minute[np.argmin(sun_fine_deg)])
    events = {
        limit: _dusk_and_dawn(
            grid, crossings(grid.seconds, sun_deg - _LIMIT_DEG[limit]), lowest_s, day_s
        )
        for limit in _LIMIT_DEG
    }
    moonrise, moonset, moon_up = _moon_events(grid, day_s)
    zone = site_zone(site)
    return CivilNight(
        date=evening,
        site=site,
        start=noon.astimezone(zone),
        end=next_noon.astimezone(zone),
        solar_midnight=midnight.astimezone(zone),
        sunset=events[Darkness.CIVIL][0],
        civil_dusk=events[Darkness.NAUTICAL][0],
        nautical_dusk=events[Darkness.ASTRONOMICAL][0],
        astronomical_dusk=events[Darkness.FULL][0],
        astronomical_dawn=events[Darkness.FULL][1],
        nautical_dawn=events[Darkness.ASTRONOMICAL][1],
        civil_dawn=events[Darkness.NAUTICAL][1],
        sunrise=events[Darkness.CIVIL][1],
        moonrise=moonrise,
        moonset=moonset,
        moon_up_at_start=moon_up,
        deepest_twilight=_deepest(lowest),
        sun_never_rises=highest < SUNRISE_ALTITUDE_DEG,
        lowest_sun_deg=lowest,
    )


def coming_night_date(site: Site, now: datetime) -> date:
    """The date whose night a person means who asks at ``now`` (aware).

    From noon on: today's. Before sunrise: yesterday's, which is still going on. Between
    sunrise and noon: today's. Noon is the site's true noon. Without sunrise the night goes
    on until noon in polar night, and until six hours after solar midnight under the
    midnight sun.
    Raises UsageError for a time without zone, DateOutsideEphemerisError, KitError.
    """
    if now.utcoffset() is None:
        raise UsageError(f"the time {now} has no zone; give it one")
    today = now.astimezone(site_zone(site)).date()
    night = civil_night(site, today - timedelta(days=1))
    if seconds_between(night.end, now) >= 0.0:
        night = civil_night(site, today)
    if night.sunrise is not None:
        over = night.sunrise
    elif night.deepest_twilight is Darkness.MIDNIGHT_SUN:
        over = later(night.solar_midnight, _MIDNIGHT_SUN_MORNING_S)
    else:
        over = night.end
    return night.date + timedelta(days=int(seconds_between(over, now) >= 0.0))


def _noons(site: Site, evening: date) -> tuple[datetime, datetime, datetime]:
    """True noon, true midnight and the next true noon around the end of a date, in UTC."""
    clock = datetime.combine(evening + timedelta(days=1), time.min, site_zone(site))
    utc = clock.astimezone(UTC)
    utc_hours = utc.hour + utc.minute / 60.0 + utc.second / 3600.0
    past_midnight = (utc_hours + site.longitude_deg / 15.0 + 12.0) % 24.0 - 12.0
    mean_midnight = later(utc, -3600.0 * past_midnight)
    grid = grid_at(site, mean_midnight, [-_HALF_DAY_S, 0.0, _HALF_DAY_S])
    hour_angle = _hour_angle_deg(site, grid)
    ahead = (hour_angle - np.array([0.0, 180.0, 0.0]) + 180.0) % 360.0 - 180.0
    noon, midnight, next_noon = grid.seconds - ahead / _DEGREES_PER_SECOND
    return (
        later(mean_midnight, noon),
        later(mean_midnight, midnight),
        later(mean_midnight, next_noon),
    )


def _hour_angle_deg(site: Site, grid: TimeGrid) -> Floats:
    sun = body_position(grid, SUN)
    alt, az, lat = (np.radians(a) for a in (sun.altitude_deg, sun.azimuth_deg, site.latitude_deg))
    west = -np.cos(alt) * np.sin(az)
    towards_meridian = np.cos(lat) * np.sin(alt) - np.sin(lat) * np.cos(alt) * np.cos(az)
    return np.asarray(np.degrees(np.arctan2(west, towards_meridian)))


def _dusk_and_dawn(
    grid: TimeGrid, passages: Crossings, lowest_s: float, day_s: float
) -> tuple[datetime | None, datetime | None]:
    """Last sinking before the Sun's lowest point and first rising after it."""
    down = passages.at[~passages.rising]
    up = passages.at[passages.rising]
    down = down[(down >= 0.0) & (down <= lowest_s)]
    up = up[(up >= lowest_s) & (up <= day_s)]
    return (
        grid.instant(down[-1]) if down.size else None,
        grid.instant(up[0]) if up.size else None,
    )


def _moon_events(grid: TimeGrid, day_s: float) -> tuple[datetime | None, datetime | None, bool]:
    """Rise, set, and whether the Moon is up at the start, of which the grid has the moment."""
    moon = body_position(grid, MOON)
    radius_deg = np.degrees(np.arcsin(MOON_RADIUS_KM / (moon.distance_au * AU_KM)))
    above_deg = moon.altitude_deg + radius_deg + HORIZON_REFRACTION_DEG
    passages = crossings(grid.seconds, above_deg)
    inside = (passages.at >= 0.0) & (passages.at <= day_s)
    found: list[datetime | None] = []
    for rising in (True, False):
        at = passages.at[inside & (passages.rising == rising)]
        nearest = at[np.argsort(np.abs(at - day_s / 2))][:1]
        found.append(grid.instant(nearest[0]) if nearest.size else None)
    return found[0], found[1], bool(above_deg[np.searchsorted(grid.seconds, 0.0)] > 0.0)


def _deepest(lowest_sun_deg: float) -> Darkness:
    for darkness, limit in _LIMIT_DEG.items():
        if lowest_sun_deg < limit:
            return darkness
    return Darkness.MIDNIGHT_SUN
