"""The conditions of a night: its moments, Sun, Moon and planets, and the sky they make."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from planner.angles import separation_deg
from planner.constants import AU_KM
from planner.ephemeris.bodies import moon_track, planet_tracks, separation_from_body, sun_track
from planner.ephemeris.body_position import SUN, body_position
from planner.ephemeris.civil_night import civil_night
from planner.ephemeris.clock_hours import next_step, within_hours
from planner.ephemeris.moments import grid
from planner.ephemeris.site import ceiling_altitude_deg, horizon_altitude_deg
from planner.ephemeris.sun_safety import safe_sun_deg
from planner.sky.background import SkyState, sky_background
from planner.verdict.deepsky.small_views import small_views
from planner.verdict.sightlines import Sightlines

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.ephemeris.bodies import Bodies, BodyTrack
    from planner.ephemeris.civil_night import CivilNight
    from planner.ephemeris.moments import TimeGrid
    from planner.ephemeris.site import Site
    from planner.ephemeris.track import Track
    from planner.night.request import Request
    from planner.optics.view import View
    from planner.verdict.deepsky.small_views import SmallView
    from planner.verdict.setup import Setup

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]

STEP_MIN = 5
SUN_SET_DEG = -0.8333  # centre of the Sun when its upper limb sets; Astronomical Almanac
CIVIL_TWILIGHT_DEG = -6.0
SAFE_STEPS = 3  # not from a quarter of an hour before the Sun is back there; own judgement
INNER_PLANETS = ("Mercury", "Venus")
NEAR_SUN_MOON_DEG = 30.0  # a younger or older Moon is sought in twilight; own judgement


@dataclass(frozen=True, slots=True, eq=False)
class Conditions:
    """One night at one site, on a grid of T moments five minutes apart.

    ``hours`` (T,) marks those that the request allows; ``down``, ``dark`` and ``safe`` (T,), of
    the whole night, the Sun set, the Sun at least 6 degrees down, or set in a night that gets no
    darker, and the Sun 2 degrees down, in the morning for another quarter of an hour, when the
    sky beside it may be swept.
    ``views`` are those whose exit pupil the observer likes (all of them when there is none).
    """

    request: Request
    setup: Setup
    views: tuple[View, ...]
    night: CivilNight
    grid: TimeGrid
    instants: tuple[dt.datetime, ...]
    sun: BodyTrack
    moon: BodyTrack
    planets: tuple[BodyTrack, ...]
    sky: SkyState
    hours: Bools
    down: Bools
    safe: Bools
    dark: Bools

    @property
    def small_views(self) -> tuple[SmallView, ...]:
        """The finders and the bare eye."""
        return small_views(self.request.observer, self.request.finders)

    @property
    def every_view(self) -> tuple[View, ...]:
        """Those of the telescope, then the finders and the bare eye: as verdicts count them."""
        return (*self.views, *(small.view for small in self.small_views))

    @property
    def sun_down(self) -> Bools:
        """The Sun set, within the hours asked for, (T,)."""
        return np.asarray(self.hours & self.down)

    @property
    def sun_safe(self) -> Bools:
        """The sky beside the Sun safe to sweep, within the hours asked for, (T,)."""
        return np.asarray(self.hours & self.safe)

    @property
    def twilight_over(self) -> Bools:
        """Civil twilight over where the night has an end of it, within the hours, (T,)."""
        return np.asarray(self.hours & self.dark)

    @property
    def whole_night(self) -> Conditions:
        """The same night, all its hours allowed."""
        return replace(self, hours=np.ones_like(self.hours))

    @property
    def least_altitude_deg(self) -> float:
        """The lowest altitude of interest: the one asked for, or the lowest of the horizon."""
        points = self.request.site.horizon
        lowest = min((altitude for _, altitude in points), default=0.0)
        return max(self.request.least_altitude_deg, lowest)

    def above_horizon(self, track: Track | BodyTrack) -> Bools:
        """Where targets stand above the least altitude and the horizon; the track's shape."""
        horizon = horizon_altitude_deg(self.request.site, track.azimuth_deg)
        least = np.maximum(horizon, self.request.least_altitude_deg)
        return np.asarray(track.altitude_deg >= least)

    def within_reach(self, track: Track | BodyTrack) -> Bools:
        """Where they are above the horizon, under the ceiling, and as low as the mount points."""
        ceiling = ceiling_altitude_deg(self.request.site, track.azimuth_deg)
        most = np.minimum(ceiling, self.request.telescope.greatest_altitude_deg)
        return np.asarray(self.above_horizon(track) & (track.altitude_deg <= most))

    def body_hours(self, bodies: Bodies) -> Bools:
        """When the Moon and planets may be looked at, (N, T).

        From civil dusk to civil dawn where the night has them, else while the Sun is safely down;
        Mercury and Venus, and a Moon within 30 degrees of the Sun, all the time that is safe.
        """
        inner = np.isin(bodies.name, INNER_PLANETS)[:, None]
        inner = inner | (bodies.is_moon & (bodies.elongation_deg < NEAR_SUN_MOON_DEG))
        dark = self.twilight_over & self.sun_safe
        outer = dark if dark.any() else self.sun_safe
        return np.asarray(np.where(inner, self.sun_safe, outer))

    def sightlines(self, track: Track, ra_deg: Floats, dec_deg: Floats) -> Sightlines:
        """The sky behind fixed targets (N,) through the night, (N, T)."""
        apart = separation_from_body(self.moon, ra_deg, dec_deg)
        return _sightlines(self.sky, track.altitude_deg, apart)

    def sightlines_to(self, bodies: Bodies) -> Sightlines:
        """The sky behind the Moon and planets through the night, (N, T)."""
        moon = self.moon
        apart = separation_deg(moon.ra_deg, moon.dec_deg, bodies.ra_deg, bodies.dec_deg)
        return _sightlines(self.sky, bodies.altitude_deg, apart)

    def sightlines_at(
        self, altitude_deg: Floats, ra_deg: Floats, dec_deg: Floats, moments: Ints
    ) -> Sightlines:
        """The sky behind N targets, each at one moment of its own; arrays (N,)."""
        moon = self.moon
        state = sky_state(self.request, self.sun, moon, moments)
        apart = separation_deg(moon.ra_deg[moments], moon.dec_deg[moments], ra_deg, dec_deg)
        return _sightlines(state, altitude_deg, apart)


def _sightlines(state: SkyState, altitude_deg: Floats, moon_separation_deg: Floats) -> Sightlines:
    behind = sky_background(state, altitude_deg, moon_separation_deg)
    return Sightlines(altitude_deg, behind.sky_mag, behind.moon_share, behind.twilight_share)


def night_conditions(request: Request) -> Conditions:
    """Work out the night of a request.

    Raises:
        DateOutsideEphemerisError: the date is beyond the ephemeris.
        UsageError: the hours asked for end before they begin.
    """
    night = civil_night(request.site, request.date)
    courses = _courses(request.site, request.date)
    sun, moon, true_sun_deg = courses.sun, courses.moon, courses.true_sun_deg
    instants = courses.grid.instants
    hours = within_hours(instants, night.start, request.start, request.end)
    reached = night.lowest_sun_deg < CIVIL_TWILIGHT_DEG
    dark_from_deg = CIVIL_TWILIGHT_DEG if reached else SUN_SET_DEG
    return Conditions(
        request=request,
        setup=request.setup,
        views=liked_views(request),
        night=night,
        grid=courses.grid,
        instants=instants,
        sun=sun,
        moon=moon,
        planets=courses.planets,
        sky=sky_state(request, sun, moon),
        hours=hours,
        down=true_sun_deg < SUN_SET_DEG,
        safe=_sun_safe(
            true_sun_deg,
            true_sun_deg < safe_sun_deg(request.site.elevation_m),
            ends_at_sunrise=night.sunrise is not None,
        ),
        dark=true_sun_deg < dark_from_deg,
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Courses:
    """Sun, Moon and planets through a night, and the Sun's altitude (T,) without air."""

    grid: TimeGrid
    sun: BodyTrack
    moon: BodyTrack
    planets: tuple[BodyTrack, ...]
    true_sun_deg: Floats


@lru_cache(maxsize=4)  # a target's place on the whole list asks for the same night again
def _courses(site: Site, date: dt.date) -> _Courses:
    """What is the same whatever the request asks for in that night."""
    night = civil_night(site, date)
    start = next_step(night.sunset or night.start, STEP_MIN)
    times = grid(site, start, night.sunrise or night.end, STEP_MIN)
    return _Courses(
        times,
        sun_track(site, times),
        moon_track(site, times),
        planet_tracks(site, times),
        body_position(times, SUN).altitude_deg,
    )


def liked_views(request: Request) -> tuple[View, ...]:
    """The views whose exit pupil the observer likes, all of them when there is none."""
    least = request.observer.least_exit_pupil_mm
    liked = tuple(view for view in request.views if view.exit_pupil_mm >= least)
    return liked or request.views


def _sun_safe(true_sun_deg: Floats, down: Bools, ends_at_sunrise: bool) -> Bools:
    """Which moments (T,) are safe beside the Sun, once it is far enough ``down`` and until when."""
    after = np.append(down, np.full(SAFE_STEPS, not ends_at_sunrise))[SAFE_STEPS:]
    rising = np.gradient(true_sun_deg) > 0.0 if len(true_sun_deg) > 1 else np.ones_like(down)
    return np.asarray(down & (after | ~rising))


def sky_state(
    request: Request, sun: BodyTrack, moon: BodyTrack, moments: Ints | slice = slice(None)
) -> SkyState:
    """The sky at some of the night's moments, all of them if left out."""
    return SkyState(
        zenith_sky_mag=request.zenith_sky_mag,
        extinction_mag=request.extinction_mag,
        sun_altitude_deg=sun.altitude_deg[moments],
        moon_altitude_deg=moon.altitude_deg[moments],
        moon_phase_angle_deg=moon.phase_angle_deg[moments],
        moon_distance_km=moon.distance_au[moments] * AU_KM,
    )
