"""Judges the candidates of a night, each at its best time: one shape for every kind."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

import numpy as np

from planner.ephemeris.track import (
    Track,
    highest_altitude_deg,
    track,
)
from planner.night.best_time import BestTime, best_time, narrowed
from planner.night.body_features import detail_score_deg, with_features
from planner.night.candidates import (
    body_candidates,
    deepsky_candidates,
    pair_candidates,
    possible_objects,
    red_star_candidates,
)
from planner.night.log_worth import log_points
from planner.night.pair_times import judged_at_best
from planner.night.systems import Systems, by_system, single_systems
from planner.night.worth import (
    Season,
    Worth,
    body_worth,
    deepsky_worth,
    pair_worth,
    red_star_worth,
    system_worth,
)
from planner.targets.kind import DEEP_SKY_KINDS, Kind
from planner.targets.pairs import by_chance
from planner.verdict.bodies.judge import BodyJudge
from planner.verdict.bodies.red_stars import RedStarJudge
from planner.verdict.causes import AMPLE_MARGIN_MAG
from planner.verdict.deepsky.judge import DeepSkyJudge
from planner.verdict.pairs.cache import cached_split_tables
from planner.verdict.pairs.judge import PairJudge, split_instrument
from planner.verdict.pairs.spectrum import SiteAir

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from planner.night.conditions import Conditions
    from planner.verdict.verdicts import Verdicts

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Texts = NDArray[np.object_]

AS_GOOD_MAG = 0.2  # of margins so near the best the highest moment is taken; own judgement
HEIGHT_WEIGHT = 1e-3  # of a degree against a magnitude: decides only between equal margins
HEIGHT_FOR_MARGIN_DEG = 30.0  # of height given up for a magnitude that is short; own judgement


@dataclass(frozen=True, slots=True, eq=False)
class Judged:
    """N targets of one group, judged at their best times; arrays are (N,).

    ``targets`` is their table at the night's date (pairs, deep-sky objects, red stars or bodies),
    ``judge`` what judged them. ``systems`` says which rows are one target of the list and which
    stands for it; ``ids``, ``shown``, ``worth`` and ``sorts`` (S,), kind and constellation, are
    those of the list's targets. ``considered`` counts the targets looked at, with those left out
    at once as hopeless.
    """

    targets: Any
    judge: Any
    times: BestTime
    verdicts: Verdicts[Any]
    considered: int
    systems: Systems
    ids: Texts
    shown: Bools
    worth: Worth
    sorts: Texts


def judged_groups(conditions: Conditions) -> list[Judged]:
    """The groups of targets that the request asks for, judged."""
    kinds, groups = conditions.request.kinds, []
    if kinds & {Kind.PLANET, Kind.MOON}:
        groups.append(_bodies(conditions))
    if Kind.DOUBLE in kinds:
        groups.append(_pairs(conditions))
    if kinds & set(DEEP_SKY_KINDS):
        groups.append(_deepsky(conditions))
    if Kind.RED_STAR in kinds:
        groups.append(_red_stars(conditions))
    return [_with_log(conditions, group) for group in groups]


def _with_log(conditions: Conditions, group: Judged) -> Judged:
    """The group with what earlier looks do to the worth of its targets."""
    request = conditions.request
    points = log_points(group.ids.tolist(), request.seen, request.date)
    return replace(group, worth=replace(group.worth, log=points))


def _pairs(conditions: Conditions) -> Judged:
    pairs, considered = pair_candidates(conditions)
    request = conditions.request
    tables = cached_split_tables(
        request.cache_folder,
        split_instrument(conditions.setup),
        [view.magnification for view in conditions.views],
        [view.exit_pupil_mm for view in conditions.views],
    )
    air = SiteAir(request.site.pressure_hpa, request.site.temperature_c)
    judge = PairJudge(conditions.setup, conditions.views, tables, air)
    times, verdicts = judged_at_best(conditions, judge, pairs)
    chance, shown = by_chance(pairs), times.usable & verdicts.shown
    season = _season(conditions, times, pairs.dec_deg)
    worth = pair_worth(pairs, verdicts.detail.split_class, chance, season)
    systems = by_system(pairs.system_id, shown, chance, worth.total)
    return Judged(
        targets=pairs,
        judge=judge,
        times=times,
        verdicts=verdicts,
        considered=considered,
        systems=systems,
        ids=pairs.system_id[systems.lead],
        shown=shown[systems.lead],
        worth=system_worth(systems, shown, worth),
        sorts=_sorts(Kind.DOUBLE, pairs.constellation[systems.lead]),
    )


def _deepsky(conditions: Conditions) -> Judged:
    request = conditions.request
    judge = DeepSkyJudge.of(
        conditions.setup, conditions.views, request.filters, conditions.small_views
    )
    wanted = deepsky_candidates(conditions)
    objects = possible_objects(conditions, wanted, judge.bright_enough(wanted))
    way = track(request.site, conditions.grid, objects.ra_deg, objects.dec_deg)
    usable = conditions.within_reach(way) & conditions.twilight_over
    curve = judge.curve(objects, conditions.sightlines(way, objects.ra_deg, objects.dec_deg))
    margin = np.nan_to_num(curve.margin)
    peak = np.where(usable, margin, -np.inf).max(axis=1, keepdims=True)
    enough = np.where(peak < 0.0, peak - AS_GOOD_MAG, np.maximum(peak - AS_GOOD_MAG, 0.0))
    score = np.minimum(margin, enough) + HEIGHT_WEIGHT * way.altitude_deg
    showing = usable & (margin >= 0.0)  # no height makes up for a margin that is short
    times = best_time(np.where(peak >= 0.0, showing, usable), score, way)
    verdicts = judge.judge(
        objects,
        conditions.sightlines_at(times.altitude_deg, objects.ra_deg, objects.dec_deg, times.best),
    )
    shown = times.usable & verdicts.shown
    seen = usable & ((curve.margin >= 0.0) | ~shown[:, None])
    powers = np.array([view.magnification for view in conditions.every_view])
    times = narrowed(times, seen)
    season = _season(conditions, times, objects.dec_deg)
    return Judged(
        targets=objects,
        judge=judge,
        times=times,
        verdicts=verdicts,
        considered=len(wanted),
        systems=single_systems(len(objects)),
        ids=objects.id,
        shown=shown,
        worth=deepsky_worth(objects, verdicts, powers, season),
        sorts=_sorts(objects.kind, objects.constellation),
    )


def _red_stars(conditions: Conditions) -> Judged:
    stars, considered = red_star_candidates(conditions)
    judge = RedStarJudge(conditions.setup, conditions.views)
    place = stars.ra_deg, stars.dec_deg
    way = track(conditions.request.site, conditions.grid, *place)
    usable = conditions.within_reach(way) & conditions.twilight_over
    margin = judge.curve(stars, conditions.sightlines(way, *place)).margin
    margin = np.nan_to_num(margin, nan=-np.inf)
    seen = usable & (margin > 0.0)
    ever = np.asarray(seen.any(axis=1))[:, None]
    score = np.minimum(margin, AMPLE_MARGIN_MAG) + HEIGHT_WEIGHT * way.altitude_deg
    times = best_time(np.where(ever, seen, usable), score, way)
    verdicts = judge.judge(stars, conditions.sightlines_at(times.altitude_deg, *place, times.best))
    season = _season(conditions, times, stars.dec_deg)
    return Judged(
        targets=stars,
        judge=judge,
        times=times,
        verdicts=verdicts,
        considered=considered,
        systems=single_systems(len(stars)),
        ids=stars.name,
        shown=times.usable & verdicts.shown,
        worth=red_star_worth(stars, verdicts.margin, season),
        sorts=_sorts(np.full(len(stars), Kind.RED_STAR), stars.constellation),
    )


def _bodies(conditions: Conditions) -> Judged:
    bodies = body_candidates(conditions)
    judge = BodyJudge(conditions.setup, conditions.views)
    way = Track(bodies.altitude_deg, bodies.azimuth_deg)
    usable = conditions.within_reach(way) & conditions.body_hours(bodies)
    margin = judge.curve(bodies, conditions.sightlines_to(bodies)).margin
    seen = usable & (margin > 0.0)
    ever = np.asarray(seen.any(axis=1))[:, None]
    darkness = 0.5 * np.clip(-conditions.sun.altitude_deg, 0.0, 12.0)
    short = np.clip(AMPLE_MARGIN_MAG - np.nan_to_num(margin), 0.0, None)
    score = way.altitude_deg + darkness - HEIGHT_FOR_MARGIN_DEG * short
    score = score + detail_score_deg(conditions, bodies)
    times = best_time(np.where(ever, seen, usable), score, way)
    there = bodies.at(times.best)
    lines = conditions.sightlines_at(there.altitude_deg, there.ra_deg, there.dec_deg, times.best)
    verdicts = judge.judge(there, lines)
    verdicts = with_features(conditions, there, times.best, verdicts, times.usable)
    return Judged(
        targets=bodies,
        judge=judge,
        times=times,
        verdicts=verdicts,
        considered=len(bodies),
        systems=single_systems(len(bodies)),
        ids=bodies.name,
        shown=times.usable & verdicts.shown,
        worth=body_worth(
            bodies.name,
            there.diameter_arcsec,
            there.elongation_deg,
            _season(conditions, times, there.dec_deg),
        ),
        sorts=bodies.name,
    )


def _season(conditions: Conditions, times: BestTime, dec_deg: Floats) -> Season:
    """How high targets stand tonight and at most, and how long they are left after dark."""
    going = np.flatnonzero(conditions.twilight_over)
    until = going[-1] if going.size else 0
    left = times.last - int(np.argmax(conditions.twilight_over))
    return Season(
        altitude_deg=times.altitude_deg,
        highest_deg=highest_altitude_deg(conditions.request.site, dec_deg),
        moments_left=np.where(times.last >= until, len(conditions.instants), left),
    )


def _sorts(kinds: ArrayLike, constellations: Texts) -> Texts:
    """Kind and constellation of each target in one text, for the variety of a list."""
    words = np.char.add(" ", constellations.astype(str))
    return np.char.add(np.asarray(kinds, dtype=str), words).astype(object)
