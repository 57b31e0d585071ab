"""Moons of Jupiter and Saturn tonight: what happens to them, and which this telescope shows."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import ARCSEC_PER_RADIAN, AU_KM, J2000_JD
from planner.ephemeris.jupiter_paths import JUPITER_KM, MOON_NAMES
from planner.ephemeris.saturn_moons import SATURN_AU, SATURN_MOONS, saturn_moons
from planner.eye.glare import glare_per_sr
from planner.eye.stars import eyepiece_background_cd_m2
from planner.eye.threshold import illuminance_lx
from planner.night.body_features import planet_aspect_at
from planner.night.plan import BodyDetail
from planner.verdict.bodies.planets import body_margin_mag

if TYPE_CHECKING:
    import datetime as dt

    from numpy.typing import NDArray

    from planner.ephemeris.bodies import BodyTrack
    from planner.ephemeris.jupiter_events import Happening
    from planner.night.conditions import Conditions
    from planner.night.plan import PlannedTarget

    Floats = NDArray[np.float64]

# V of Saturn's moons at 1 au from Sun and Earth; from memory, to 0.2 mag (Iapetus 0.6 to 2.4).
SATURN_MOON_MAG = (3.3, 2.2, 0.7, 0.9, 0.2, -1.2, 1.5)
BESIDE_RADII = 1.1  # nearer to the middle a moon is before or behind the globe


@dataclass(frozen=True, slots=True)
class MoonPlace:
    """One moon beside its planet: radii to the celestial west and north, its margin in magnitudes.

    ``magnitude`` is None for Jupiter's, which any telescope shows, and ``margin_mag`` for a moon
    before or behind the globe.
    """

    name: str
    west: float
    north: float
    separation_arcsec: float
    magnitude: float | None = None
    margin_mag: float | None = None


@dataclass(frozen=True, slots=True)
class MoonEvent:
    """One beginning or end; ``seen`` by this site; ``fade_min`` is how long it takes at least."""

    time: dt.datetime
    moon: str
    happening: Happening
    begins: bool
    seen: bool
    fade_min: float


@dataclass(frozen=True, slots=True)
class Satellites:
    """The moons at the planet's best time, and what happens to them through the night."""

    places: tuple[MoonPlace, ...]
    events: tuple[MoonEvent, ...] = ()
    red_spot_times: tuple[dt.datetime, ...] = ()


def with_satellites(conditions: Conditions, target: PlannedTarget) -> PlannedTarget:
    """The same target with its moons; others than Jupiter and Saturn are left as they are."""
    detail = target.detail
    if not isinstance(detail, BodyDetail) or target.best_time is None or target.view is None:
        return target
    finder = {"Jupiter": _jupiter, "Saturn": _saturn}.get(target.name)
    track = next((t for t in conditions.planets if t.name == target.name), None)
    if finder is None or track is None:
        return target
    moment = conditions.instants.index(target.best_time)
    found = finder(conditions, track, moment, target)
    return replace(target, detail=replace(detail, satellites=found))


def _jupiter(
    conditions: Conditions, track: BodyTrack, moment: int, target: PlannedTarget
) -> Satellites:
    from planner.ephemeris.jupiter_events import Happening, jupiter_events, moon_places
    from planner.ephemeris.jupiter_paths import jupiter_paths

    days = np.asarray(conditions.grid.times.tt) - J2000_JD
    x, y, _ = moon_places(jupiter_paths(days[moment], days[moment]), days[moment : moment + 1])
    radius = JUPITER_KM / (track.distance_au[moment] * AU_KM) * ARCSEC_PER_RADIAN
    places = tuple(
        MoonPlace(name, float(x[0, n]), float(y[0, n]), float(np.hypot(x[0, n], y[0, n]) * radius))
        for n, name in enumerate(MOON_NAMES)
    )
    events = jupiter_events(float(days[0]), float(days[-1]))
    up = conditions.above_horizon(track) & conditions.safe
    seconds = (events.day - days[0]) * 86400.0
    near = np.clip(np.round(seconds / 300.0).astype(np.intp), 0, len(days) - 1)
    told = tuple(
        MoonEvent(
            time=conditions.grid.instant(float(seconds[n])),
            moon=MOON_NAMES[int(events.moon[n])],
            happening=Happening(int(events.happening[n])),
            begins=bool(events.begins[n]),
            seen=bool(up[near[n]] and not events.hidden[n]),
            fade_min=float(events.fade_days[n] * 1440.0),
        )
        for n in range(len(events.day))
    )
    return Satellites(places, told, _red_spot_times(conditions, track))


def _red_spot_times(conditions: Conditions, track: BodyTrack) -> tuple[dt.datetime, ...]:
    """When the Red Spot passes the middle of the disc tonight; none without its longitude."""
    from planner.ephemeris.aspect import jupiter_meridians

    spot = conditions.request.red_spot
    if spot is None:
        return ()
    longitude = spot.longitude_at(conditions.request.date)
    moments = np.arange(0, len(conditions.instants), 6)
    off = np.array([
        jupiter_meridians(planet_aspect_at(conditions, track, int(m)))[1][0] for m in moments
    ])  # fmt: skip
    off = (off - longitude + 180.0) % 360.0 - 180.0
    up = conditions.above_horizon(track) & conditions.safe
    found = []
    for n in np.flatnonzero((off[:-1] < 0.0) & (off[1:] >= 0.0) & (off[1:] - off[:-1] < 90.0)):
        share = -off[n] / (off[n + 1] - off[n])
        at = moments[n] + share * 6.0
        if up[min(round(at), len(up) - 1)]:
            found.append(conditions.grid.instant(float(at * 300.0)))
    return tuple(found)


def _saturn(
    conditions: Conditions, track: BodyTrack, moment: int, target: PlannedTarget
) -> Satellites:
    seen = planet_aspect_at(conditions, track, moment)
    x, y, _ = saturn_moons(seen)
    sun_au = float(conditions.sun.distance_au[moment])
    away = float(track.distance_au[moment])
    phase = np.radians(track.elongation_deg[moment])
    to_sun = float(np.sqrt(sun_au**2 + away**2 - 2.0 * sun_au * away * np.cos(phase)))
    radius = SATURN_AU / away * ARCSEC_PER_RADIAN
    places = []
    for n, name in enumerate(SATURN_MOONS):
        apart = float(np.hypot(x[n, 0], y[n, 0]) * radius)
        magnitude = SATURN_MOON_MAG[n] + 5.0 * np.log10(to_sun * away)
        hidden = np.hypot(x[n, 0], y[n, 0] / 0.9) < BESIDE_RADII
        margin = None if hidden else _beside_planet(conditions, target, apart, float(magnitude))
        places.append(
            MoonPlace(name, float(x[n, 0]), float(y[n, 0]), apart, float(magnitude), margin)
        )
    return Satellites(tuple(places))


def _beside_planet(
    conditions: Conditions, target: PlannedTarget, apart_arcsec: float, magnitude: float
) -> float | None:
    """Magnitudes in hand of a moon in the planet's glare, in the planet's eyepiece.

    The star limit with the planet's veil (CIE 135/1) added to the sky in the eyepiece. Good to half
    a magnitude.
    """
    view, setup = target.view, conditions.setup
    if view is None or target.airmass is None or target.magnitude is None:
        return None
    sky = conditions.request.zenith_sky_mag
    inside = float(eyepiece_background_cd_m2(setup.eye, view.exit_pupil_mm, sky))
    lux = float(illuminance_lx(target.magnitude)) * setup.telescope.throughput
    lux *= (setup.telescope.clear_aperture_mm / view.exit_pupil_mm) ** 2
    shrunk = (view.exit_pupil_mm / setup.observer.dark_pupil_mm) ** 2
    angle = apart_arcsec / 3600.0 * view.magnification
    veil = float(glare_per_sr(angle, setup.observer.age_years)) * lux * shrunk
    veiled = sky - 2.5 * np.log10((inside + veil) / inside)
    dimming = float(setup.dimming_mag(target.airmass))
    return float(body_margin_mag(setup, view.exit_pupil_mm, magnitude, dimming, veiled))
