"""Writes out judged deep-sky objects: the target and its course."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.night.course import Course
from planner.night.deepsky_list import JudgedDeepSky, judged_deepsky
from planner.night.deepsky_words import cluster_words, object_name
from planner.night.judged import Judged
from planner.night.plan import PlannedTarget
from planner.night.standing import placed, unusable_reason
from planner.optics.view import drift_s
from planner.targets.kind import Kind
from planner.verdict.deepsky_limit import TOO_SMALL
from planner.verdict.margin import step_word

if TYPE_CHECKING:
    from planner.night.circumstances import Circumstances
    from planner.targets.deepsky import DeepSky

UNKNOWN_BRIGHTNESS = "brightness unknown"


def judge_deepsky(found: Circumstances) -> Judged:
    """Judge every deep-sky object that the request allows."""
    group, considered = judged_deepsky(found)
    return Judged(
        considered,
        group.objects.id,
        group.shown,
        group.worth,
        lambda row: _planned(group, row),
        lambda row: _course(group, row),
    )


def _course(group: JudgedDeepSky, row: int) -> Course:
    return Course(
        instants=group.found.instants,
        altitude_deg=group.track.altitude_deg[row],
        azimuth_deg=group.track.azimuth_deg[row],
        sky_mu=group.sky_mu[row],
        margin=group.margins.margin_mag[row],
        margin_unit="mag",
        usable=group.usable[row],
    )


def _planned(group: JudgedDeepSky, row: int) -> PlannedTarget:
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


def _is_known(group: JudgedDeepSky, row: int) -> bool:
    counted = group.by_stars[row] and not np.isnan(group.objects.member_v_mag[row])
    return bool(counted or not np.isnan(group.objects.v_mag[row]))


def _verdict(group: JudgedDeepSky, row: int) -> str:
    if not group.where.usable[row]:
        return "not up"
    if not _is_known(group, row):
        return UNKNOWN_BRIGHTNESS
    step = step_word(float(group.margin_mag[row]), float(group.uncertainty_mag[row]))
    return f"stars {step}" if _nebula_unknown(group, row) else step


def _nebula_unknown(group: JudgedDeepSky, row: int) -> bool:
    return bool(group.objects.kind[row] is Kind.NEBULA and group.by_stars[row])


def _limit_word(group: JudgedDeepSky, row: int) -> str:
    if not group.where.usable[row]:
        return "altitude"
    return str(group.limited_by[row]) if _is_known(group, row) else UNKNOWN_BRIGHTNESS


def _reason(group: JudgedDeepSky, row: int) -> str:
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
    if _nebula_unknown(group, row):
        parts.append("for the stars inside: of the nebula's own light the catalog says nothing")
    elif group.objects.kind[row] is Kind.NEBULA:
        parts.append("a diffuse nebula, outside the model: judged with caution")
    if group.margins.overflows[row]:
        parts.append("larger than every field")
    if group.shown[row]:
        parts.extend(cluster_words(group.objects, row, *_star_limits_mag(group, row)))
    return "; ".join(parts)


def _star_limits_mag(group: JudgedDeepSky, row: int) -> tuple[float, float]:
    """Catalogue V of the faintest star at the best moment, in the object's view and in the best."""
    best = group.where.best[row]
    sky = float(group.sky_mu[row, best])
    stars, view = group.tables.stars, int(group.margins.view[row, best])
    dimming = float(group.found.setup.dimming_mag(group.where.airmass[row]))
    return stars.limit_mag(view, sky) - dimming, float(stars.best_mag(sky)) - dimming
