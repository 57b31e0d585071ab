"""What each planet shows at its moment: its markings judged, and the eyepiece they want."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from planner.angles import unit_vectors
from planner.constants import J2000_JD
from planner.ephemeris.aspect import (
    SYSTEM_II_DEG_A_DAY,
    aspect,
    jupiter_meridians,
    mars_season_deg,
    ring_sun_offset_deg,
)
from planner.ephemeris.bodies import PLANETS
from planner.ephemeris.kernel import kernel
from planner.night.detail_views import detail_views
from planner.night.moon_tonight import moon_detail
from planner.sky.airmass import airmass
from planner.verdict.bodies.detail import DetailVerdict, PlanetSight, judge_detail
from planner.verdict.bodies.planet_markings import Turned, markings, surface_magnitude

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.ephemeris.aspect import Aspect
    from planner.ephemeris.bodies import Bodies, BodyTrack
    from planner.night.conditions import Conditions
    from planner.verdict.bodies.judge import BodyDetail
    from planner.verdict.verdicts import Verdicts

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]

SHADOW_WORTH_DEG = 6.0  # of height that a moon's shadow on the disc is worth; own judgement
SPOT_WORTH_DEG = 6.0  # and the Red Spot; own judgement
SPOT_NEAR_COSINE = 0.7  # of the angle from the middle, within which it is worth it; own judgement
_PLANET_NUMBERS = {planet.name: planet.naif_number for planet in PLANETS}


def planet_detail(conditions: Conditions, name: str, moment: int) -> DetailVerdict | None:
    """The markings of the Moon or a planet at a moment; the view counts in the night's views.

    None below the horizon and where a magnitude is unknown.
    """
    if name == "Moon":
        return moon_detail(conditions, moment)
    found = next((track for track in conditions.planets if track.name == name), None)
    if found is None or not found.altitude_deg[moment] > 0.0:
        return None
    magnitude = float(found.magnitude[moment])
    if not np.isfinite(magnitude):
        return None
    turned = turned_planet(conditions, found, moment)
    path = float(airmass(found.altitude_deg[moment]))
    sight = PlanetSight(path, surface_magnitude(turned, magnitude))
    allowed = detail_views(conditions, path)
    chosen = [conditions.views[index] for index in allowed]
    verdict = judge_detail(conditions.setup, chosen, markings(turned), sight)
    view = None if verdict.view is None else allowed[verdict.view]
    return DetailVerdict(verdict.features, view)


def detail_score_deg(conditions: Conditions, bodies: Bodies) -> Floats:
    """What is on the disc at each moment, in degrees of height that it is worth, (N, T).

    Of Jupiter the Red Spot within 45 degrees of the middle, and a moon's shadow.
    """
    score = np.zeros(bodies.altitude_deg.shape)
    rows = np.flatnonzero(bodies.name == "Jupiter")
    track = next((t for t in conditions.planets if t.name == "Jupiter"), None)
    if not rows.size or track is None or not (track.altitude_deg > 0.0).any():
        return score
    score[rows[0]] = _jupiter_score(conditions, track)
    return score


def _jupiter_score(conditions: Conditions, track: BodyTrack) -> Floats:
    from planner.ephemeris.jupiter_events import Happening, happening_through
    from planner.ephemeris.jupiter_paths import jupiter_paths

    days = np.asarray(conditions.grid.times.tt) - J2000_JD
    paths = jupiter_paths(float(days[0]), float(days[-1]))
    shadows = happening_through(paths, days)[Happening.SHADOW].any(axis=0)
    score = SHADOW_WORTH_DEG * shadows
    if conditions.request.red_spot is not None:
        spot = conditions.request.red_spot.longitude_at(conditions.request.date)
        first = float(jupiter_meridians(planet_aspect_at(conditions, track, 0))[1][0])
        turned = SYSTEM_II_DEG_A_DAY * (days - days[0])  # the site's own turning is under 0.1
        off = first + turned - spot
        score = score + SPOT_WORTH_DEG * (np.cos(np.radians(off)) > SPOT_NEAR_COSINE)
    return np.asarray(score, dtype=float)


def with_features(
    conditions: Conditions,
    bodies: Bodies,
    moments: Ints,
    verdicts: Verdicts[BodyDetail],
    usable: Bools | None = None,
) -> Verdicts[BodyDetail]:
    """The verdicts on bodies (N,) at moments (N,) with their markings, and the view these want.

    Only those shown and usable are looked at.
    """
    features, views = verdicts.detail.features.copy(), verdicts.view.copy()
    wanted = verdicts.shown if usable is None else verdicts.shown & usable
    for row in np.flatnonzero(wanted):
        found = planet_detail(conditions, str(bodies.name[row]), int(moments[row]))
        if found is not None:
            features[row] = found.features
            views[row] = views[row] if found.view is None else found.view
    detail = replace(verdicts.detail, features=features)
    return replace(verdicts, view=views, detail=detail)


def turned_planet(conditions: Conditions, track: BodyTrack, moment: int) -> Turned:
    """How a planet is turned to the site at a moment of the night."""
    seen = planet_aspect_at(conditions, track, moment)
    name = track.name
    meridian, season, spot = float(seen.central_meridian[0]), None, None
    shadows: tuple[str, ...] = ()
    transits: tuple[tuple[str, float], ...] = ()
    if name == "Jupiter":
        meridian = float(jupiter_meridians(seen)[1][0])
        if conditions.request.red_spot is not None:
            spot = conditions.request.red_spot.longitude_at(conditions.request.date)
        shadows, transits = _on_jupiter(conditions, moment)
    elif name == "Mars":
        season = float(mars_season_deg(seen, _velocity(conditions, name, moment))[0])
    return Turned(
        name=name,
        diameter_arcsec=float(track.diameter_arcsec[moment]),
        distance_au=float(track.distance_au[moment]),
        illuminated_fraction=float(track.illuminated_fraction[moment]),
        tilt_deg=float(seen.sub_site_lat[0]),
        meridian_deg=meridian,
        season_deg=season,
        sun_offset_deg=float(ring_sun_offset_deg(seen)[0]),
        red_spot_deg=spot,
        shadows=shadows,
        transits=transits,
    )


def planet_aspect_at(conditions: Conditions, track: BodyTrack, moment: int) -> Aspect:
    """The aspect of a planet at a moment of the night."""
    tt = np.asarray(conditions.grid.times.tt)[moment : moment + 1]
    return aspect(track.name, _vector(track, moment), _vector(conditions.sun, moment), tt)


def _vector(track: BodyTrack, moment: int) -> Floats:
    """From the site to a body, au, (3, 1)."""
    place = unit_vectors(track.ra_deg[moment : moment + 1], track.dec_deg[moment : moment + 1])
    return np.asarray(place.T * track.distance_au[moment])


def _velocity(conditions: Conditions, name: str, moment: int) -> Floats:
    body = kernel()[_PLANET_NUMBERS[name]] - kernel()[10]
    return np.asarray(body.at(conditions.grid.times[moment : moment + 1]).velocity.au_per_d)


def _on_jupiter(
    conditions: Conditions, moment: int
) -> tuple[tuple[str, ...], tuple[tuple[str, float], ...]]:
    """Names of the moons whose shadow is on the disc, and of those in transit with their place."""
    from planner.ephemeris.jupiter_events import Happening, happening_at, moon_places
    from planner.ephemeris.jupiter_paths import MOON_NAMES, jupiter_paths

    day = float(conditions.grid.times.tt[moment]) - J2000_JD
    paths = jupiter_paths(day, day)
    now = happening_at(paths, day)
    x, y, _ = moon_places(paths, np.array([day]))
    off = np.hypot(x[0], y[0])
    shadows = tuple(n for n, on in zip(MOON_NAMES, now[Happening.SHADOW], strict=True) if on)
    over = now[Happening.TRANSIT]
    transits = tuple((n, float(off[k])) for k, n in enumerate(MOON_NAMES) if over[k])
    return shadows, transits
