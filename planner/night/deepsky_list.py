"""Clusters, nebulae and galaxies of one night, judged."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.track import PRECESSION_SLACK_DEG, highest_altitude_deg, track
from planner.night.course import Course
from planner.night.deepsky_words import cluster_words, object_name
from planner.night.judged import Judged
from planner.night.plan import PlannedTarget
from planner.night.standing import Standing, at_best, placed, standing, unusable_reason
from planner.night.window import window_around
from planner.night.worth import deepsky_worth
from planner.optics.view import drift_s
from planner.sky.airmass import airmass
from planner.targets.catalog import load_deepsky
from planner.targets.columns import rows_of
from planner.targets.kind import DEEP_SKY_KINDS, Kind
from planner.verdict.causes import SkyMoments
from planner.verdict.deepsky import (
    CLUSTER_STARS_BELOW_MAG,
    deepsky_margins,
    deepsky_tables,
    hopeless_from_mag,
    margin_uncertainty_mag,
)
from planner.verdict.deepsky_limit import TOO_SMALL, limiting_conditions
from planner.verdict.margin import STEPS, step_numbers

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

UNKNOWN_BRIGHTNESS = "brightness unknown"
HEIGHT_WEIGHT = 1e-3  # of a degree against a magnitude: decides only between equal margins


@dataclass(frozen=True, slots=True, eq=False)
class _Group:
    """N judged objects and all that writing one of them out needs.

    ``usable``, ``sky_mu`` and the margins are (N, T); ``margin_mag``, ``uncertainty_mag``,
    ``shown``, ``limited_by`` and ``worth`` are (N,), at the best moment.
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
    shown: Bools
    limited_by: Texts
    worth: Floats


def judge_deepsky(found: Circumstances) -> Judged:
    """Judge every deep-sky object that the request allows."""
    tables = deepsky_tables(found.setup, found.views, found.request.filters)
    wanted = _wanted(found, load_deepsky())
    possible = wanted
    if not found.request.include_all:
        possible = rows_of(wanted, _possible(found, tables, wanted))
    group = _judge(found, tables, possible)
    return Judged(
        len(wanted),
        group.shown,
        group.worth,
        lambda row: _planned(group, row),
        lambda row: _course(group, row),
    )


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
    members = objects.kind == Kind.OPEN_CLUSTER
    bright = np.where(members, objects.v_mag + CLUSTER_STARS_BELOW_MAG, objects.v_mag) < faintest
    highest = highest_altitude_deg(found.request.site, objects.dec_deg) + PRECESSION_SLACK_DEG
    return np.asarray(bright & (highest >= found.least_altitude_deg))


def _judge(found: Circumstances, tables: DeepSkyTables, objects: DeepSky) -> _Group:
    course = track(found.request.site, found.grid, objects.ra_deg, objects.dec_deg)
    usable = found.above_horizon(course) & found.twilight_over
    sky = found.background(course.altitude_deg, objects.ra_deg, objects.dec_deg)
    dimming = found.setup.dimming_mag(airmass(course.altitude_deg))
    margins = deepsky_margins(tables, objects, dimming, sky.sky_mu)
    score = np.nan_to_num(margins.margin_mag) + HEIGHT_WEIGHT * course.altitude_deg
    where = standing(usable, score, course)
    margin = np.where(where.usable, at_best(margins.margin_mag, where.best), np.nan)
    shown = margin >= 0.0
    seen = usable & ((margins.margin_mag >= 0.0) | ~shown[:, None])
    first, last = window_around(seen, where.best)
    return _Group(
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
        shown=shown,
        limited_by=_limits(found, tables, objects, where, sky),
        worth=deepsky_worth(objects, margin, where.altitude_deg),
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


def _course(group: _Group, row: int) -> Course:
    return Course(
        instants=group.found.instants,
        altitude_deg=group.track.altitude_deg[row],
        azimuth_deg=group.track.azimuth_deg[row],
        sky_mu=group.sky_mu[row],
        margin=group.margins.margin_mag[row],
        margin_unit="mag",
        usable=group.usable[row],
    )


def _planned(group: _Group, row: int) -> PlannedTarget:
    objects, found, where = group.objects, group.found, group.where
    margin = float(group.margin_mag[row])
    best, usable = where.best[row], bool(where.usable[row])
    view_index = int(group.margins.view[row, best])
    view = found.views[view_index] if view_index >= 0 and usable else None
    filter_index = int(group.margins.filter_index[row, best])
    names = tuple(name for name in objects.names[row].split("|") if name)
    known = not np.isnan(margin)
    return PlannedTarget(
        id=objects.id[row],
        name=object_name(objects, row),
        designations=tuple(dict.fromkeys((objects.id[row], *names))),
        kind=objects.kind[row],
        constellation=objects.constellation[row],
        ra_deg=float(objects.ra_deg[row]),
        dec_deg=float(objects.dec_deg[row]),
        magnitude=_number(objects.v_mag[row]),
        size_arcmin=_size(objects, row),
        **placed(found, where, row),
        shown=bool(group.shown[row]),
        verdict=_verdict(group, row),
        margin=margin if known else None,
        margin_unit="mag",
        uncertainty=float(group.uncertainty_mag[row]) if known else None,
        limited_by=_limit_word(group, row),
        reason=_reason(group, row),
        view=view,
        filter_name=found.request.filters[filter_index].name
        if usable and filter_index >= 0
        else None,
        drift_s=(
            None if view is None else float(drift_s(view.true_field_deg, objects.dec_deg[row]))
        ),
        worth=float(group.worth[row]),
    )


def _number(value: float) -> float | None:
    return None if np.isnan(value) else float(value)


def _size(objects: DeepSky, row: int) -> tuple[float, float] | None:
    major, minor = float(objects.major_arcmin[row]), float(objects.minor_arcmin[row])
    if np.isnan(major):
        return None
    return (major, major if np.isnan(minor) else minor)


def _is_known(group: _Group, row: int) -> bool:
    return not np.isnan(group.objects.v_mag[row])


def _verdict(group: _Group, row: int) -> str:
    if not group.where.usable[row]:
        return "not up"
    if not _is_known(group, row):
        return UNKNOWN_BRIGHTNESS
    return str(STEPS[int(step_numbers(group.margin_mag[row], group.uncertainty_mag[row]))])


def _limit_word(group: _Group, row: int) -> str:
    if not group.where.usable[row]:
        return "altitude"
    return str(group.limited_by[row]) if _is_known(group, row) else UNKNOWN_BRIGHTNESS


def _reason(group: _Group, row: int) -> str:
    if not group.where.usable[row]:
        highest = float(group.track.altitude_deg[row].max())
        return unusable_reason(group.found, group.where, row, highest)
    if not _is_known(group, row):
        return "the catalog gives no magnitude, so nothing can be promised"
    margin = group.margin_mag[row]
    word = "in hand" if margin >= 0 else "short"
    parts = [f"{abs(margin):.1f} mag {word}, give or take {group.uncertainty_mag[row]:.1f}"]
    if group.limited_by[row]:
        like = ", like a star at any power" if group.limited_by[row] == TOO_SMALL else ""
        parts.append(f"limited by {group.limited_by[row]}{like}")
    if group.objects.kind[row] is Kind.NEBULA:
        parts.append("a diffuse nebula, outside the model: judged with caution")
    if group.margins.overflows[row]:
        parts.append("larger than every field")
    if group.shown[row]:
        limit = _star_limit_mag(group, row)
        parts.extend(cluster_words(group.objects, row, limit))
    return "; ".join(parts)


def _star_limit_mag(group: _Group, row: int) -> float:
    """Catalogue V of the faintest star at the object's best moment, in its view."""
    best = group.where.best[row]
    view = int(group.margins.view[row, best])
    limit = group.tables.star_limit_mag(view, float(group.sky_mu[row, best]))
    return limit - float(group.found.setup.dimming_mag(group.where.airmass[row]))
