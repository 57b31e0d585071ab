"""The Moon and planets of one night, judged."""

from __future__ import annotations

from dataclasses import dataclass, fields
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.constellation import constellation_at
from planner.ephemeris.track import Track
from planner.night.course import Course
from planner.night.judged import Judged
from planner.night.plan import PlannedTarget
from planner.night.standing import Standing, at_best, placed, standing
from planner.night.worth import body_worth
from planner.optics.view import drift_s
from planner.sky.airmass import airmass
from planner.sky.background import Background
from planner.sky.seeing import line_of_sight_fwhm
from planner.targets.kind import Kind
from planner.verdict.causes import AMPLE_MARGIN_MAG, SkyMoments
from planner.verdict.faintest_star import eye_at_telescope, star_spread_mag
from planner.verdict.margin import LEAST_STAR_UNCERTAINTY_MAG, step_word
from planner.verdict.planets import body_limits, body_margin_mag, planet_views, whole_moon_view

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.ephemeris.bodies import BodyTrack
    from planner.night.circumstances import Circumstances

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]
    Texts = NDArray[np.object_]

NEAR_SUN_DEG = 25.0  # below this a planet is sought close to the Sun; own judgement
HEIGHT_FOR_MARGIN_DEG = 30.0  # of height given up for a magnitude that is short; own judgement
SUN_CAUTION = "near the Sun: only while the Sun is below the horizon"


@dataclass(frozen=True, slots=True, eq=False)
class _Group:
    """The judged bodies.

    ``usable``, ``view``, ``sky_mu`` and ``margins`` are (N, T), the other arrays (N,), at the
    best moment. The Moon's margin is infinite.
    """

    found: Circumstances
    bodies: tuple[BodyTrack, ...]
    usable: Bools
    view: Ints
    sky_mu: Floats
    margins: Floats
    where: Standing
    uncertainty_mag: Floats
    shown: Bools
    limited_by: Texts
    worth: Floats


def judge_solar_system(found: Circumstances) -> Judged:
    """Judge the Moon and the planets that the request allows."""
    group = _judge(found, _wanted(found))
    return Judged(
        len(group.bodies),
        np.array([body.name for body in group.bodies], dtype=object),
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
    course = Track(_rows(found, bodies, "altitude_deg"), _rows(found, bodies, "azimuth_deg"))
    magnitude = _rows(found, bodies, "magnitude")
    moon = np.array([body.name == "Moon" for body in bodies], dtype=bool)[:, None]
    slant = airmass(course.altitude_deg)
    view = _views(found, slant, moon)
    pupil = np.array([v.exit_pupil_mm for v in found.views])[view]
    sky = _skies(found, bodies)
    dimming = found.setup.dimming_mag(slant)
    margins = body_margin_mag(found.setup, pupil, magnitude, dimming, sky.sky_mu)
    margins = np.where(moon, np.inf, margins)
    usable = found.above_horizon(course) & found.sun_down
    seen = usable & (margins > 0.0)
    ever = np.asarray(seen.any(axis=1))
    darkness = 0.5 * np.clip(-found.sun.altitude_deg, 0.0, 12.0)
    short = np.clip(AMPLE_MARGIN_MAG - np.nan_to_num(margins), 0.0, None)
    score = course.altitude_deg + darkness - HEIGHT_FOR_MARGIN_DEG * short
    where = standing(np.where(ever[:, None], seen, usable), score, course)
    moments = SkyMoments(
        where.altitude_deg,
        *(at_best(v, where.best) for v in (sky.sky_mu, sky.moon_share, sky.twilight_share)),
    )
    limits = body_limits(
        found.setup, at_best(pupil, where.best), at_best(magnitude, where.best), moments
    )
    return _Group(
        found=found,
        bodies=bodies,
        usable=usable,
        view=view,
        sky_mu=sky.sky_mu,
        margins=margins,
        where=where,
        uncertainty_mag=np.maximum(
            star_spread_mag(
                eye_at_telescope(found.setup), at_best(pupil, where.best), moments.sky_mu
            ),
            LEAST_STAR_UNCERTAINTY_MAG,
        ),
        shown=ever,
        limited_by=np.where(moon[:, 0], "seeing", limits),
        worth=np.array(
            [
                body_worth(
                    body.name,
                    float(where.altitude_deg[row]),
                    _at(body.diameter_arcsec, where, row),
                )
                for row, body in enumerate(bodies)
            ]
        ),
    )


def _rows(found: Circumstances, bodies: tuple[BodyTrack, ...], column: str) -> Floats:
    """One column of all bodies, (N, T), also where there is no body."""
    values = np.array([getattr(body, column) for body in bodies], dtype=float)
    return values.reshape(len(bodies), len(found.instants))


def _views(found: Circumstances, slant: Floats, moon: Bools) -> Ints:
    """The view for each body and moment, by the seeing through that much air."""
    path = np.where(np.isfinite(slant), slant, 1.0)
    seeing = line_of_sight_fwhm(found.request.seeing_arcsec, path)
    view = planet_views(found.setup, found.views, seeing)
    return np.where(moon, whole_moon_view(found.views), view)


def _skies(found: Circumstances, bodies: tuple[BodyTrack, ...]) -> Background:
    """The sky behind each body at every moment."""
    moments = np.arange(len(found.instants))
    skies = [
        found.background_at(body.altitude_deg, body.ra_deg, body.dec_deg, moments)
        for body in bodies
    ]
    shape = (len(bodies), len(moments))
    parts = (
        np.array([getattr(sky, field.name) for sky in skies]).reshape(shape)
        for field in fields(Background)
    )
    return Background(*parts)


def _at(values: Floats, where: Standing, row: int) -> float:
    return float(values[where.best[row]])


def _known(value: float) -> float | None:
    return value if np.isfinite(value) else None


def _course(group: _Group, row: int) -> Course:
    body = group.bodies[row]
    is_moon = body.name == "Moon"
    unknown = np.full(len(group.found.instants), np.nan)
    return Course(
        instants=group.found.instants,
        altitude_deg=body.altitude_deg,
        azimuth_deg=body.azimuth_deg,
        sky_mu=unknown if is_moon else group.sky_mu[row],
        margin=unknown if is_moon else group.margins[row],
        margin_unit="mag",
        usable=group.usable[row],
    )


def _planned(group: _Group, row: int) -> PlannedTarget:
    body, where, found = group.bodies[row], group.where, group.found
    usable = bool(where.usable[row])
    view = found.views[group.view[row, where.best[row]]] if usable else None
    margin = _at(group.margins[row], where, row)
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
        uncertainty=float(group.uncertainty_mag[row]) if finite else None,
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
    if not group.shown[row]:
        return "lost in the sky"
    margin = _at(group.margins[row], group.where, row)
    return step_word(margin, float(group.uncertainty_mag[row]))


def _limit(group: _Group, row: int) -> str:
    return str(group.limited_by[row]) if group.where.usable[row] else "altitude"


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
