"""Clusters, nebulae and galaxies of one night, judged."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from planner.ephemeris.track import highest_altitude_deg, track
from planner.night.course import Course
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
from planner.verdict.deepsky import (
    CLUSTER_STARS_BELOW_MAG,
    deepsky_margins,
    deepsky_tables,
    hopeless_from_mag,
    object_sizes,
)
from planner.verdict.deepsky_limit import (
    DeepSkyMoments,
    limiting_conditions,
)
from planner.verdict.margin import EXTENDED_UNCERTAINTY_MAG, STEPS, step_numbers

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.ephemeris.track import Track
    from planner.night.circumstances import Circumstances
    from planner.sky.background import Background
    from planner.targets.deepsky import DeepSky
    from planner.verdict.deepsky import DeepSkyTables

    Floats = NDArray[np.float64]
    Bools = NDArray[np.bool_]
    Texts = NDArray[np.object_]

UNKNOWN_BRIGHTNESS = "brightness unknown"


@dataclass(frozen=True, slots=True, eq=False)
class _Group:
    """N judged objects and all that writing one of them out needs.

    ``usable``, ``sky_mu`` and ``margins_mag`` are (N, T), the other arrays (N,), at the best
    moment.
    """

    found: Circumstances
    objects: DeepSky
    track: Track
    usable: Bools
    sky_mu: Floats
    margins_mag: Floats
    where: Standing
    margin_mag: Floats
    view: NDArray[np.intp]
    overflows: Bools
    shown: Bools
    limited_by: Texts
    worth: Floats


def judge_deepsky(found: Circumstances) -> Judged:
    """Judge every deep-sky object that the request allows."""
    tables = deepsky_tables(found.setup, found.views)
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
    kinds = request.kinds & set(DEEP_SKY_KINDS)
    keep = np.array([kind in kinds for kind in objects.kind], dtype=bool)
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
    highest = highest_altitude_deg(found.request.site, objects.dec_deg)
    return np.asarray(bright & (highest >= found.least_altitude_deg))


def _judge(found: Circumstances, tables: DeepSkyTables, objects: DeepSky) -> _Group:
    course = track(found.request.site, found.grid, objects.ra_deg, objects.dec_deg)
    usable = found.above_horizon(course) & found.twilight_over
    sky = found.background(course.altitude_deg, objects.ra_deg, objects.dec_deg)
    dimming = found.setup.dimming_mag(airmass(course.altitude_deg))
    margins = deepsky_margins(tables, objects, dimming, sky.sky_mu)
    score = np.nan_to_num(margins.margin_mag) + 1e-3 * course.altitude_deg
    where = standing(usable, score, course)
    margin = np.where(where.usable, at_best(margins.margin_mag, where.best), np.nan)
    shown = margin >= 0.0
    seen = usable & ((margins.margin_mag >= 0.0) | ~shown[:, None])
    first, last = window_around(seen, where.best)
    return _Group(
        found=found,
        objects=objects,
        track=course,
        usable=usable,
        sky_mu=sky.sky_mu,
        margins_mag=margins.margin_mag,
        where=replace(where, first=first, last=last),
        margin_mag=margin,
        view=at_best(margins.view, where.best),
        overflows=margins.overflows,
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
    moments = DeepSkyMoments(
        altitude_deg=where.altitude_deg,
        sky_mu=at_best(sky.sky_mu, where.best),
        moon_share=at_best(sky.moon_share, where.best),
        twilight_share=at_best(sky.twilight_share, where.best),
    )
    return limiting_conditions(found.setup, tables, objects, moments)


def _highest(group: _Group, row: int) -> float:
    return float(group.track.altitude_deg[row].max())


def _course(group: _Group, row: int) -> Course:
    return Course(
        instants=group.found.instants,
        altitude_deg=group.track.altitude_deg[row],
        azimuth_deg=group.track.azimuth_deg[row],
        sky_mu=group.sky_mu[row],
        margin=group.margins_mag[row],
        margin_unit="mag",
        usable=group.usable[row],
    )


def _planned(group: _Group, row: int) -> PlannedTarget:
    objects, found = group.objects, group.found
    where, margin = group.where, float(group.margin_mag[row])
    known = not np.isnan(objects.v_mag[row])
    view = found.views[group.view[row]] if group.view[row] >= 0 and where.usable[row] else None
    sizes = object_sizes(objects)
    names = tuple(name for name in objects.names[row].split("|") if name)
    return PlannedTarget(
        id=objects.id[row],
        name=_name(objects, row),
        designations=tuple(dict.fromkeys((objects.id[row], *names))),
        kind=objects.kind[row],
        constellation=objects.constellation[row],
        ra_deg=float(objects.ra_deg[row]),
        dec_deg=float(objects.dec_deg[row]),
        magnitude=float(objects.v_mag[row]) if known else None,
        size_arcmin=(
            None
            if np.isnan(objects.major_arcmin[row])
            else (float(sizes.major_arcmin[row]), float(sizes.minor_arcmin[row]))
        ),
        **placed(found, where, row),
        shown=bool(group.shown[row]),
        verdict=_verdict(group, row, known),
        margin=None if np.isnan(margin) else margin,
        margin_unit="mag",
        uncertainty=None if np.isnan(margin) else EXTENDED_UNCERTAINTY_MAG,
        limited_by=_limit_word(group, row, known),
        reason=_reason(group, row, known),
        view=view,
        drift_s=None if view is None else float(drift_s(view.true_field_deg, objects.dec_deg[row])),
        worth=float(group.worth[row]),
    )


def _name(objects: DeepSky, row: int) -> str:
    """Messier number, else the catalogue's own, with the common name."""
    first = next(
        (name for name in objects.names[row].split("|") if name.startswith("M ")), objects.id[row]
    )
    common = objects.common_name[row].split("|")[0]
    return f"{first} {common}".strip()


def _verdict(group: _Group, row: int, known: bool) -> str:
    if not known:
        return UNKNOWN_BRIGHTNESS
    if not group.where.usable[row]:
        return "not up"
    return str(STEPS[int(step_numbers(group.margin_mag[row]))])


def _limit_word(group: _Group, row: int, known: bool) -> str:
    if not known:
        return UNKNOWN_BRIGHTNESS
    return str(group.limited_by[row]) if group.where.usable[row] else "altitude"


def _reason(group: _Group, row: int, known: bool) -> str:
    if not group.where.usable[row]:
        return unusable_reason(group.found, group.where, row, _highest(group, row))
    if not known:
        return "the catalog gives no magnitude, so nothing can be promised"
    margin = group.margin_mag[row]
    word = "in hand" if margin >= 0 else "short"
    limit = group.limited_by[row]
    parts = [f"{abs(margin):.1f} mag {word}, give or take {EXTENDED_UNCERTAINTY_MAG}"]
    if limit:
        parts.append(f"limited by {limit}")
    if group.overflows[row]:
        parts.append("larger than every field")
    return "; ".join(parts)
