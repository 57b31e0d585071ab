"""The Moon at one minute of the night: her face, and every feature that is worth a look there."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.body_position import MOON, body_position
from planner.ephemeris.moments import grid_at
from planner.ephemeris.moon_face import moon_age_days, moon_face
from planner.night.detail_views import detail_views
from planner.night.plan import BodyDetail
from planner.sky.airmass import airmass
from planner.targets.columns import rows_of
from planner.targets.lunar_features import load_lunar_features
from planner.verdict.bodies.detail import DetailVerdict, PlanetSight, judge_detail
from planner.verdict.bodies.features import Sureness
from planner.verdict.bodies.lunar_markings import (
    LIGHT_KINDS,
    LightKind,
    good_light_deg,
    lit_feature,
    worth_a_look,
)
from planner.verdict.bodies.moon_light import moon_light

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Sequence

    from planner.ephemeris.moon_face import MoonFace
    from planner.ephemeris.site import Site
    from planner.night.conditions import Conditions
    from planner.night.plan import PlannedTarget
    from planner.optics.view import View
    from planner.verdict.bodies.features import Feature

TERMINATOR_MAG = 1.5  # fainter than the mean of the lit disc, per area; own judgement


@dataclass(frozen=True, slots=True)
class LunarSight:
    """One feature tonight: what it is, its light, and what the telescope makes of it.

    Degrees, km and arcsec; ``size_arcsec`` along the limb, ``width_km`` the narrow side,
    ``shadow_km`` on level ground (None unknown). ``from_centre_deg`` is 90 at the limb.
    ``morning`` tells that the Sun rises there.
    """

    name: str
    kind: str
    lon_east_deg: float
    lat_deg: float
    size_km: float
    width_km: float
    size_arcsec: float
    from_centre_deg: float
    sun_altitude_deg: float
    morning: bool
    shadow_km: float | None
    feature: Feature


@dataclass(frozen=True, slots=True)
class MoonTonight:
    """The Moon at ``time``, in degrees, her age in days; libration is of the middle of the disc.

    ``sights`` run from north to south. ``view`` is the one for ``hardest``, the hardest feature
    that is still possible; both None where there is none.
    """

    time: dt.datetime
    altitude_deg: float
    azimuth_deg: float
    libration_lon_deg: float
    libration_lat_deg: float
    colongitude_deg: float
    age_days: float
    sights: tuple[LunarSight, ...]
    view: View | None
    hardest: str | None


def moon_detail(conditions: Conditions, moment: int) -> DetailVerdict | None:
    """The features of the Moon judged, and the number of the view for the hardest still possible.

    None below the horizon and without a known magnitude.
    """
    found = _judged(conditions, moment)
    return None if found is None else found[0]


def with_moon(conditions: Conditions, target: PlannedTarget) -> PlannedTarget:
    """The same target with the Moon's face at its best time; all others are left as they are."""
    detail = target.detail
    if target.name != "Moon" or not isinstance(detail, BodyDetail) or target.best_time is None:
        return target
    tonight = moon_at(conditions, conditions.instants.index(target.best_time))
    return replace(target, detail=replace(detail, moon=tonight))


def moon_at(
    conditions: Conditions, moment: int, rows: Sequence[int] | None = None
) -> MoonTonight | None:
    """The Moon at a moment of the night, None where she is down; ``rows`` the only features."""
    found = _judged(conditions, moment, rows)
    if found is None:
        return None
    verdict, sights, face = found
    hardest = _hardest(sights)
    view = None if verdict.view is None else conditions.views[verdict.view]
    return MoonTonight(
        time=conditions.instants[moment],
        altitude_deg=float(conditions.moon.altitude_deg[moment]),
        azimuth_deg=float(conditions.moon.azimuth_deg[moment]),
        libration_lon_deg=float(face.libration_lon_deg[0]),
        libration_lat_deg=float(face.libration_lat_deg[0]),
        colongitude_deg=float(face.colongitude_deg[0]),
        age_days=moon_age_days(float(conditions.grid.times.tt[moment])),
        sights=tuple(sorted(sights, key=lambda sight: -sight.lat_deg)),
        view=view,
        hardest=None if hardest is None else sights[hardest].name,
    )


def feature_moment(conditions: Conditions, target: PlannedTarget, row: int) -> int | None:
    """The moment of the Moon's usable hours at which a feature is best looked at.

    Of those in good light the one at which she is highest; her best where there is none. None
    where she cannot be used that night.
    """
    if target.best_time is None or target.window_start is None or target.window_end is None:
        return None
    best, first, last = (
        conditions.instants.index(time)
        for time in (target.best_time, target.window_start, target.window_end)
    )
    feature = rows_of(load_lunar_features(), [row])
    face = moon_face(conditions.grid)
    height = face.sun_altitude_deg(feature.lon_east_deg, feature.lat_deg)[0]
    low, high = good_light_deg(feature)[0]
    good = np.flatnonzero((height >= low) & (height <= high))
    good = good[(good >= first) & (good <= last)]
    if not good.size or best in good:
        return best
    return int(good[np.argmax(conditions.moon.altitude_deg[good])])


def face_at(site: Site, time: dt.datetime) -> tuple[MoonFace, float]:
    """The Moon's face from a site at a time, and her distance in au."""
    grid = grid_at(site, time, [0.0])
    return moon_face(grid), float(body_position(grid, MOON).distance_au[0])


def _judged(
    conditions: Conditions, moment: int, rows: Sequence[int] | None = None
) -> tuple[DetailVerdict, list[LunarSight], MoonFace] | None:
    moon = conditions.moon
    magnitude, altitude = float(moon.magnitude[moment]), float(moon.altitude_deg[moment])
    if not (altitude > 0.0 and np.isfinite(magnitude)):
        return None
    face, distance = face_at(conditions.request.site, conditions.instants[moment])
    features = load_lunar_features()
    light = moon_light(features, face, np.array([distance]))
    chosen = np.flatnonzero(worth_a_look(features, light)[:, 0]) if rows is None else rows
    morning = np.sin(np.radians(face.sun_lon_deg[0] - features.lon_east_deg)) > 0.0
    lit = [lit_feature(features, int(row), light, bool(morning[row])) for row in chosen]
    path = float(airmass(altitude))
    area = np.pi / 4.0 * float(moon.diameter_arcsec[moment]) ** 2
    shining = area * max(float(moon.illuminated_fraction[moment]), 0.01)
    sight = PlanetSight(path, magnitude + 2.5 * float(np.log10(shining)) + TERMINATOR_MAG)
    allowed = detail_views(conditions, path)
    views = [conditions.views[number] for number in allowed]
    markings = [one.marking for one in lit]
    judged = judge_detail(conditions.setup, views, markings, sight).features
    sights = [
        LunarSight(
            name=str(features.name[one.row]),
            kind=str(features.kind[one.row]),
            lon_east_deg=float(features.lon_east_deg[one.row]),
            lat_deg=float(features.lat_deg[one.row]),
            size_km=float(features.size_km[one.row]),
            width_km=one.width_km,
            size_arcsec=float(light.size_arcsec[one.row, 0]),
            from_centre_deg=float(light.from_centre_deg[one.row, 0]),
            sun_altitude_deg=one.sun_altitude_deg,
            morning=one.morning,
            shadow_km=one.shadow_km,
            feature=feature,
        )
        for one, feature in zip(lit, judged, strict=True)
    ]
    hardest, view = _hardest(sights), None
    if hardest is not None:
        best = judge_detail(conditions.setup, views, [markings[hardest]], sight).view
        view = None if best is None else allowed[best]
    return DetailVerdict(_hard_first(sights), view), sights, face


def _hard_first(sights: Sequence[LunarSight]) -> tuple[Feature, ...]:
    """Relief before seas, rilles and mountains before craters, hard before easy, large first."""

    def rank(sight: LunarSight) -> tuple[bool, bool, float, float]:
        shade = LIGHT_KINDS[sight.kind] is LightKind.SHADE
        return shade, sight.kind == "crater", sight.feature.margin or 0.0, -sight.size_km

    return tuple(sight.feature for sight in sorted(sights, key=rank))


def _hardest(sights: Sequence[LunarSight]) -> int | None:
    """The number of the feature of least margin that still goes, of equals the smallest.

    Seas count only where there is nothing else.
    """
    seen = [n for n, s in enumerate(sights) if s.feature.sureness >= Sureness.POSSIBLE]

    def rank(number: int) -> tuple[bool, float, float]:
        sight = sights[number]
        shade = LIGHT_KINDS[sight.kind] is LightKind.SHADE
        return shade, round(sight.feature.margin or 0.0, 1), sight.width_km

    return min(seen, key=rank, default=None)
