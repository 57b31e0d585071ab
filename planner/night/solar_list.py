"""The Moon and planets of one night, judged."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.constellation import constellation_at
from planner.ephemeris.track import Track
from planner.night.course import Course
from planner.night.judged import Judged
from planner.night.plan import PlannedTarget
from planner.night.standing import Standing, placed, standing
from planner.night.worth import body_worth
from planner.optics.view import drift_s
from planner.sky.airmass import airmass
from planner.sky.seeing import line_of_sight_fwhm
from planner.targets.kind import Kind
from planner.verdict.margin import EXTENDED_UNCERTAINTY_MAG
from planner.verdict.planets import body_margin_mag, planet_view, whole_moon_view

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.ephemeris.bodies import BodyTrack
    from planner.night.circumstances import Circumstances
    from planner.optics.view import View

    Floats = NDArray[np.float64]

NEAR_SUN_DEG = 25.0  # below this a planet is sought close to the Sun; own judgement
SUN_CAUTION = "near the Sun: only while the Sun is below the horizon"


@dataclass(frozen=True, slots=True, eq=False)
class _Group:
    """The judged bodies; ``usable`` is (N, T), the other arrays (N,), at the best moment."""

    found: Circumstances
    bodies: tuple[BodyTrack, ...]
    usable: NDArray[np.bool_]
    where: Standing
    views: tuple[View, ...]
    margin_mag: Floats
    shown: NDArray[np.bool_]
    worth: Floats


def judge_solar_system(found: Circumstances) -> Judged:
    """Judge the Moon and the planets that the request allows."""
    group = _judge(found, _wanted(found))
    return Judged(
        len(group.bodies),
        group.shown,
        group.worth,
        lambda row: _planned(group, row),
        lambda row: _course(group, row),
    )


def _wanted(found: Circumstances) -> tuple[BodyTrack, ...]:
    kinds = found.request.kinds
    bodies: tuple[BodyTrack, ...] = (found.moon,) if Kind.MOON in kinds else ()
    bodies += found.planets if Kind.PLANET in kinds else ()
    limit, constellation = found.request.faintest, found.request.constellation
    middle = len(found.instants) // 2
    return tuple(
        body
        for body in bodies
        if (found.request.only is None or body.name in found.request.only)
        and (limit is None or body.magnitude[middle] <= limit)
        and (
            constellation is None
            or constellation_at(body.ra_deg[middle], body.dec_deg[middle]) == constellation
        )
    )


def _judge(found: Circumstances, bodies: tuple[BodyTrack, ...]) -> _Group:
    moments = len(found.instants)
    altitude = np.array([body.altitude_deg for body in bodies]).reshape(len(bodies), moments)
    azimuth = np.array([body.azimuth_deg for body in bodies]).reshape(len(bodies), moments)
    course = Track(altitude, azimuth)
    usable = found.above_horizon(course) & found.sun_down
    darkness = 0.5 * np.clip(-found.sun.altitude_deg, 0.0, 12.0)
    where = standing(usable, altitude + darkness, course)
    views, margins, worth = [], [], []
    for row, body in enumerate(bodies):
        view = _view(found, body, float(where.airmass[row]))
        views.append(view)
        margins.append(_margin(found, body, view, where, row))
        worth.append(
            body_worth(
                body.name, float(where.altitude_deg[row]), _at(body.diameter_arcsec, where, row)
            )
        )
    margin = np.array(margins)
    return _Group(
        found=found,
        bodies=bodies,
        usable=usable,
        where=where,
        views=tuple(views),
        margin_mag=margin,
        shown=where.usable & (margin > 0.0),
        worth=np.array(worth),
    )


def _at(values: Floats, where: Standing, row: int) -> float:
    return float(values[where.best[row]])


def _known(value: float) -> float | None:
    return value if np.isfinite(value) else None


def _view(found: Circumstances, body: BodyTrack, slant: float) -> View:
    if body.name == "Moon":
        return found.views[whole_moon_view(found.views)]
    path = slant if np.isfinite(slant) else 1.0
    seeing = float(line_of_sight_fwhm(found.request.seeing_arcsec, path))
    return found.views[planet_view(found.setup, found.views, seeing)]


def _margin(found: Circumstances, body: BodyTrack, view: View, where: Standing, row: int) -> float:
    best = where.best[row]
    if body.name == "Moon":
        return float("inf") if where.usable[row] else float("nan")
    sky = found.background_at(
        where.altitude_deg[row : row + 1],
        body.ra_deg[best : best + 1],
        body.dec_deg[best : best + 1],
        where.best[row : row + 1],
    )
    return float(
        body_margin_mag(found.setup, view, body.magnitude[best], where.airmass[row], sky.sky_mu[0])
    )


def _course(group: _Group, row: int) -> Course:
    found, body = group.found, group.bodies[row]
    moments = np.arange(len(found.instants))
    sky_mu = np.full(len(moments), np.nan)
    margin = np.full(len(moments), np.nan)
    if body.name != "Moon":
        sky_mu = found.background_at(body.altitude_deg, body.ra_deg, body.dec_deg, moments).sky_mu
        margin = body_margin_mag(
            found.setup, group.views[row], body.magnitude, airmass(body.altitude_deg), sky_mu
        )
    return Course(
        instants=found.instants,
        altitude_deg=body.altitude_deg,
        azimuth_deg=body.azimuth_deg,
        sky_mu=sky_mu,
        margin=margin,
        margin_unit="mag",
        usable=group.usable[row],
    )


def _planned(group: _Group, row: int) -> PlannedTarget:
    body, where, found = group.bodies[row], group.where, group.found
    usable = bool(where.usable[row])
    view = group.views[row] if usable else None
    margin = float(group.margin_mag[row])
    ra, dec = _at(body.ra_deg, where, row), _at(body.dec_deg, where, row)
    diameter = _at(body.diameter_arcsec, where, row) / 60.0
    finite = usable and bool(np.isfinite(margin))
    return PlannedTarget(
        id=body.name,
        name=body.name,
        designations=(body.name,),
        kind=Kind.MOON if body.name == "Moon" else Kind.PLANET,
        constellation=constellation_at(ra, dec),
        ra_deg=ra,
        dec_deg=dec,
        magnitude=_known(_at(body.magnitude, where, row)),
        size_arcmin=(diameter, diameter),
        **placed(found, where, row),
        shown=bool(group.shown[row]),
        verdict=_verdict(group, row),
        margin=margin if finite else None,
        margin_unit="mag",
        uncertainty=EXTENDED_UNCERTAINTY_MAG if finite else None,
        limited_by=_limit(group, row),
        reason=_reason(group, row),
        view=view,
        filter_name=None,
        drift_s=None if view is None else float(drift_s(view.true_field_deg, dec)),
        worth=float(group.worth[row]),
    )


def _verdict(group: _Group, row: int) -> str:
    if not group.where.usable[row]:
        return "not up"
    return "plain" if group.shown[row] else "lost in the sky"


def _limit(group: _Group, row: int) -> str:
    if not group.where.usable[row]:
        return "altitude"
    return "seeing" if group.shown[row] else "twilight"


def _reason(group: _Group, row: int) -> str:
    body, where = group.bodies[row], group.where
    if not where.usable[row]:
        highest = float(body.altitude_deg.max())
        least = group.found.request.least_altitude_deg
        if highest < 0.0:
            return "below the horizon while the Sun is down"
        return (
            f"never clear of {least:.0f}° and the local horizon while the Sun is down (at most "
            f"{highest:.0f}°)"
        )
    lit = _at(body.illuminated_fraction, where, row)
    disc = _at(body.diameter_arcsec, where, row)
    size = f"{disc / 60.0:.0f}'" if disc > 600.0 else f'{disc:.1f}"'
    words = f"disc {size}, {lit:.0%} lit"
    near = _at(body.elongation_deg, where, row) < NEAR_SUN_DEG
    return f"{words}; {SUN_CAUTION}" if near else words
