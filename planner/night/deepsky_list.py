"""Clusters, nebulae and galaxies of one night, judged."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.track import PRECESSION_SLACK_DEG, highest_altitude_deg, track
from planner.night.standing import Standing, at_best, standing
from planner.night.window import window_around
from planner.night.worth import deepsky_worth
from planner.sky.airmass import airmass
from planner.targets.catalog import load_deepsky
from planner.targets.columns import rows_of
from planner.targets.kind import DEEP_SKY_KINDS
from planner.verdict.causes import SkyMoments
from planner.verdict.deepsky import (
    deepsky_margins,
    deepsky_tables,
    hopeless_from_mag,
    margin_uncertainty_mag,
)
from planner.verdict.deepsky_limit import limiting_conditions
from planner.verdict.deepsky_profile import seen_by_stars
from planner.verdict.open_clusters import member_mag

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.ephemeris.track import Track
    from planner.night.circumstances import Circumstances
    from planner.sky.background import Background
    from planner.targets.deepsky import DeepSky
    from planner.verdict.deepsky import DeepSkyMargins, DeepSkyTables

    Floats = NDArray[np.float64]
    Bools = NDArray[np.bool_]
    Texts = NDArray[np.object_]

AS_GOOD_MAG = 0.2  # of margins so near the best the highest moment is taken; own judgement
HEIGHT_WEIGHT = 1e-3  # of a degree against a magnitude: decides only between equal margins


@dataclass(frozen=True, slots=True, eq=False)
class JudgedDeepSky:
    """N judged objects and all that writing one of them out needs.

    ``usable``, ``sky_mu`` and the margins are (N, T); ``margin_mag``, ``uncertainty_mag``,
    ``by_stars``, ``shown``, ``limited_by`` and ``worth`` are (N,), at the best moment.
    """

    found: Circumstances
    tables: DeepSkyTables
    objects: DeepSky
    track: Track
    usable: Bools
    sky_mu: Floats
    margins: DeepSkyMargins
    where: Standing
    margin_mag: Floats
    uncertainty_mag: Floats
    by_stars: Bools
    shown: Bools
    limited_by: Texts
    worth: Floats


def judged_deepsky(found: Circumstances) -> tuple[JudgedDeepSky, int]:
    """Every deep-sky object that the request allows and that could be shown, judged.

    Also how many were looked at, with those left out at once as hopeless.
    """
    tables = deepsky_tables(found.setup, found.views, found.request.filters)
    wanted = _wanted(found, load_deepsky())
    possible = wanted
    if not found.request.include_all:
        possible = rows_of(wanted, _possible(found, tables, wanted))
    return _judge(found, tables, possible), len(wanted)


def _wanted(found: Circumstances, objects: DeepSky) -> DeepSky:
    request = found.request
    kinds = list(request.kinds & set(DEEP_SKY_KINDS))
    keep = np.isin(objects.kind, kinds)
    if request.constellation is not None:
        keep &= objects.constellation == request.constellation
    if request.faintest is not None:
        keep &= objects.v_mag <= request.faintest
    if request.only is not None:
        keep &= np.isin(objects.id, list(request.only))
    return rows_of(objects, keep)


def _possible(found: Circumstances, tables: DeepSkyTables, objects: DeepSky) -> Bools:
    """Which objects could be shown at all: high enough some time, bright enough as a point."""
    faintest = hopeless_from_mag(tables, found.request.sky_mag)
    light = np.where(seen_by_stars(objects), member_mag(objects), objects.v_mag)
    bright = light < faintest
    highest = highest_altitude_deg(found.request.site, objects.dec_deg) + PRECESSION_SLACK_DEG
    return np.asarray(bright & (highest >= found.least_altitude_deg))


def _judge(found: Circumstances, tables: DeepSkyTables, objects: DeepSky) -> JudgedDeepSky:
    course = track(found.request.site, found.grid, objects.ra_deg, objects.dec_deg)
    usable = found.above_horizon(course) & found.twilight_over
    sky = found.background(course.altitude_deg, objects.ra_deg, objects.dec_deg)
    dimming = found.setup.dimming_mag(airmass(course.altitude_deg))
    margins = deepsky_margins(tables, objects, dimming, sky.sky_mu)
    peak = np.where(usable, np.nan_to_num(margins.margin_mag), -np.inf).max(axis=1, keepdims=True)
    wanted = np.where(peak < 0.0, peak - AS_GOOD_MAG, np.maximum(peak - AS_GOOD_MAG, 0.0))
    enough = np.minimum(np.nan_to_num(margins.margin_mag), wanted)
    score = enough + HEIGHT_WEIGHT * course.altitude_deg
    where = standing(usable, score, course)
    margin = np.where(where.usable, at_best(margins.margin_mag, where.best), np.nan)
    shown = margin >= 0.0
    by_stars = seen_by_stars(objects)
    seen = usable & ((margins.margin_mag >= 0.0) | ~shown[:, None])
    first, last = window_around(seen, where.best)
    return JudgedDeepSky(
        found=found,
        tables=tables,
        objects=objects,
        track=course,
        usable=usable,
        sky_mu=sky.sky_mu,
        margins=margins,
        where=replace(where, first=first, last=last),
        margin_mag=margin,
        uncertainty_mag=margin_uncertainty_mag(
            tables, objects, at_best(margins.view, where.best), at_best(sky.sky_mu, where.best)
        ),
        by_stars=by_stars,
        shown=shown,
        limited_by=_limits(found, tables, objects, where, sky),
        worth=deepsky_worth(objects, margin, where.altitude_deg, by_stars),
    )


def _limits(
    found: Circumstances,
    tables: DeepSkyTables,
    objects: DeepSky,
    where: Standing,
    sky: Background,
) -> Texts:
    """What limits each object at its best moment."""
    moments = SkyMoments(
        altitude_deg=where.altitude_deg,
        sky_mu=at_best(sky.sky_mu, where.best),
        moon_share=at_best(sky.moon_share, where.best),
        twilight_share=at_best(sky.twilight_share, where.best),
    )
    return limiting_conditions(found.setup, tables, objects, moments)
