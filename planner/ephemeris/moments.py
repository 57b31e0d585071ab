"""A grid of moments at one site: the times, and the site's directions in space at each."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

import numpy as np
from skyfield.nutationlib import iau2000b_radians
from skyfield.toposlib import wgs84

from planner.constants import AU_KM, J2000_JD, J2000_YEAR, LIGHT_SPEED_KM_S
from planner.ephemeris.kernel import kernel, require_covered, times_after
from planner.ephemeris.site import Site, site_zone
from planner.errors import ModelRangeError, UsageError

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

_AU_PER_DAY_OF_LIGHT = LIGHT_SPEED_KM_S * 86400.0 / AU_KM
_EARTH = 399  # NAIF number of the Earth's centre
_WHOLE_STEP = 1e-6  # share of a step by which rounding may miss the last moment


@dataclass(frozen=True, slots=True, eq=False)
class TimeGrid:
    """T moments at one site.

    ``times`` is a skyfield Time (T,); ``seconds`` (T,) counts from ``start``. ``zenith``,
    ``north`` and ``east`` (3, T) are unit vectors on the axes of the ICRS; ``velocity``
    (3, T) is the site's own velocity about the Solar System's centre of mass, Earth's
    orbit and rotation together, in units of the speed of light. ``years`` (T,) are
    Julian years such as 2026.47. ``observer`` is the site as skyfield knows it.
    """

    start: datetime
    seconds: Floats
    zone: ZoneInfo
    times: Any
    observer: Any
    zenith: Floats
    north: Floats
    east: Floats
    velocity: Floats
    years: Floats

    @property
    def instants(self) -> tuple[datetime, ...]:
        """The moments as datetimes in the site's zone."""
        return tuple(self.instant(s) for s in self.seconds)

    def instant(self, seconds: float) -> datetime:
        """The moment a number of seconds after the start, in the site's zone."""
        return later(self.start, seconds).astimezone(self.zone)


def later(moment: datetime, seconds: float) -> datetime:
    """An aware datetime moved by real seconds, in UTC.

    Adding a timedelta to a local datetime moves the hands of the clock instead, and is an
    hour wrong when summer time begins or ends in between.
    """
    return moment.astimezone(UTC) + timedelta(seconds=float(seconds))


def seconds_between(start: datetime, end: datetime) -> float:
    """Real seconds from one aware datetime to another; negative if the second is earlier.

    The plain difference of two datetimes of one zone counts hours on the clock's face and
    is an hour wrong over a change to or from summer time.
    """
    return (end.astimezone(UTC) - start.astimezone(UTC)).total_seconds()


def grid(site: Site, start: datetime, end: datetime, step_minutes: float) -> TimeGrid:
    """The moments start, start + step, ... that do not lie after the end.

    ``start`` and ``end`` are aware datetimes, ``step_minutes`` > 0.
    Raises ModelRangeError for a step of no length or an end before the start,
    DateOutsideEphemerisError outside the ephemeris, UsageError for a time without zone.
    """
    if start.utcoffset() is None or end.utcoffset() is None:
        raise UsageError(f"the times {start} and {end} need a zone each")
    span_minutes = seconds_between(start, end) / 60.0
    if not step_minutes > 0.0 or span_minutes < 0.0:
        raise ModelRangeError(
            f"a grid needs a step above zero and an end after its start; "
            f"the step is {step_minutes} min, the span {span_minutes:.1f} min"
        )
    require_covered(start.date())
    require_covered((end - timedelta(days=1)).date())  # a night ends on the morrow of its date
    steps = int(span_minutes / step_minutes + _WHOLE_STEP)
    return grid_at(site, start, np.arange(steps + 1) * (60.0 * step_minutes))


def grid_at(
    site: Site, start: datetime, seconds: ArrayLike, *, short_nutation: bool = False
) -> TimeGrid:
    """The moments at given seconds (T,) after an aware datetime.

    Precession and nutation are IAU 2006/2000A as in skyfield, with ``short_nutation`` 2000B: good
    to 0.001" and four times as fast over thousands of moments. The wandering of the poles (0.3")
    is left out. The zenith is that of the WGS84 ellipsoid.
    """
    zone = site_zone(site)
    offsets = np.atleast_1d(np.asarray(seconds, dtype=float))
    times = times_after(start, offsets)
    if short_nutation:
        times._nutation_angles_radians = iau2000b_radians(times)
    place = wgs84.latlon(site.latitude_deg, site.longitude_deg, site.elevation_m)
    observer = (kernel()[_EARTH] + place).at(times)
    north, east, zenith = np.asarray(place.rotation_at(times), dtype=float)
    return TimeGrid(
        start=start.astimezone(zone),
        seconds=offsets,
        zone=zone,
        times=times,
        observer=observer,
        zenith=zenith,
        north=north,
        east=east,
        velocity=np.asarray(observer.velocity.au_per_d) / _AU_PER_DAY_OF_LIGHT,
        years=J2000_YEAR + (np.asarray(times.tt) - J2000_JD) / 365.25,
    )
