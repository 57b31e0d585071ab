"""Many nights at once: the conditions of all of them on one grid of moments."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.bodies import moon_track, planet_tracks, sun_track
from planner.ephemeris.body_position import SUN, body_position
from planner.ephemeris.civil_night import civil_night
from planner.ephemeris.clock_hours import within_hours
from planner.ephemeris.kernel import require_covered
from planner.ephemeris.moments import grid_at
from planner.ephemeris.rough_sun import rough_sun_altitude_deg
from planner.ephemeris.site import site_zone
from planner.ephemeris.sun_safety import safe_sun_deg
from planner.night.conditions import (
    CIVIL_TWILIGHT_DEG,
    SUN_SET_DEG,
    Conditions,
    liked_views,
    sky_state,
)
from planner.targets.kind import Kind

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.night.request import Request

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]

DARK_SUN_DEG = -18.0  # astronomical dusk; Astronomical Almanac
IN_HAND_DEG = 1.0  # more than the rough Sun is ever out
NOON = dt.time(12)
RISING_SAFE_DEG = -6.0  # a rising Sun nearer than this may be up before the next moment


@dataclass(frozen=True, slots=True, eq=False)
class ManyNights:
    """D nights on one grid of T moments, in order of time.

    ``night`` (T,) has the number of each moment's night in ``dates``; a night without a moment in
    the hours asked for has none. ``conditions`` are those of all moments; its ``night`` is that of
    the first date, and its grid of even steps within each night only.
    """

    conditions: Conditions
    dates: tuple[dt.date, ...]
    night: NDArray[np.intp]
    step_min: int

    def minutes(self, wanted: Bools) -> Floats:
        """Minutes of each night (D,) at which something (T,) holds."""
        count = np.bincount(self.night, weights=wanted, minlength=len(self.dates))
        return np.asarray(count * self.step_min)

    @property
    def dark(self) -> Bools:
        """The Sun 18 degrees down and the Moon below the horizon, (T,)."""
        moonless = self.conditions.moon.altitude_deg < 0.0
        return np.asarray((self.conditions.sun.altitude_deg < DARK_SUN_DEG) & moonless)


def many_nights(request: Request, dates: tuple[dt.date, ...], step_min: int) -> ManyNights:
    """The conditions of many nights, ``step_min`` minutes between moments, in the usual hours.

    ``dates`` rise. Moments with the Sun up are left out but for the first night's.

    Raises:
        DateOutsideEphemerisError: a date is beyond the ephemeris.
        UsageError: the hours asked for end before they begin.
    """
    zone = site_zone(request.site)
    require_covered(dates[0])
    require_covered(dates[-1])
    noon = [dt.datetime.combine(date, NOON, zone) for date in dates]
    start = noon[0]
    begin = np.array([(one - start.astimezone(dt.UTC)).total_seconds() for one in _utc(noon)])
    steps = np.asarray(np.arange(0, 1440 // step_min) * (60.0 * step_min), dtype=np.float64)
    hours = _hours(request, noon, steps)
    night, step = np.nonzero(hours)
    times = grid_at(request.site, start, begin[night] + steps[step], short_nutation=True)
    sun, moon = sun_track(request.site, times), moon_track(request.site, times)
    true_sun_deg = body_position(times, SUN).altitude_deg
    lowest = np.full(len(dates), 90.0)
    np.minimum.at(lowest, night, true_sun_deg)
    dark_from = np.where(lowest < CIVIL_TWILIGHT_DEG, CIVIL_TWILIGHT_DEG, SUN_SET_DEG)[night]
    rising = np.asarray(times.seconds - begin[night] > 12 * 3600.0)
    safe = true_sun_deg < np.where(rising, RISING_SAFE_DEG, safe_sun_deg(request.site.elevation_m))
    planets = Kind.PLANET in request.kinds
    conditions = Conditions(
        request=request,
        setup=request.setup,
        views=liked_views(request),
        night=civil_night(request.site, dates[0]),
        grid=times,
        instants=times.instants,
        sun=sun,
        moon=moon,
        planets=planet_tracks(request.site, times, request.only) if planets else (),
        sky=sky_state(request, sun, moon),
        hours=np.ones(len(night), dtype=bool),
        down=true_sun_deg < SUN_SET_DEG,
        safe=safe,
        dark=true_sun_deg < dark_from,
    )
    return ManyNights(conditions, dates, night, step_min)


def _utc(moments: list[dt.datetime]) -> list[dt.datetime]:
    return [moment.astimezone(dt.UTC) for moment in moments]


def _hours(request: Request, noon: list[dt.datetime], steps: Floats) -> Bools:
    """Which steps after noon each night (D, S) may hold: in the hours asked for, the Sun down.

    The clock changes at most twice a year: the hours are counted once for each offset of a noon
    and of the midnight after it.
    """
    sun_down = _sun_down(request, noon, steps)
    known: dict[object, Bools] = {}
    rows = []
    for one in noon:
        after = (one.astimezone(dt.UTC) + dt.timedelta(hours=23)).astimezone(one.tzinfo)
        key = one.utcoffset(), after.utcoffset()
        if key not in known:
            moments = [
                (one.astimezone(dt.UTC) + dt.timedelta(seconds=float(s))).astimezone(one.tzinfo)
                for s in steps
            ]
            known[key] = within_hours(moments, one, request.start, request.end)
        rows.append(known[key])
    return np.asarray(np.stack(rows) & sun_down)


def _sun_down(request: Request, noon: list[dt.datetime], steps: Floats) -> Bools:
    """About when the Sun is down, a degree in hand."""
    days = np.array([(one - _J2000).total_seconds() for one in _utc(noon)]) / 86400.0
    altitude = rough_sun_altitude_deg(request.site, days[:, None] + steps / 86400.0)
    return np.asarray(altitude < SUN_SET_DEG + IN_HAND_DEG)


_J2000 = dt.datetime(2000, 1, 1, 12, tzinfo=dt.UTC)
