"""What leads the hand at one minute of the night: the sky there, and what one looks through."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from planner.angles import unit_vectors
from planner.ephemeris.track import Track
from planner.eye.stars import naked_eye_limit_mag
from planner.hops.hop import Hop, Means
from planner.hops.landmarks import load_landmarks
from planner.hops.search import LANDING_SHARE, Aim, Guide, HopSky, find_hop
from planner.night.evening.hop_minutes import (
    FAINTEST_START_MAG,
    LEAST_FIELD_DEG,
    TWILIGHT_START_MAG,
    Leading,
)
from planner.night.evening.plain_sight import Goal, plain_sight
from planner.night.evening.session import TWILIGHT_SUN_DEG
from planner.optics.turn import IMAGE_TURNS, UPRIGHT, telescope_turn
from planner.sky.background import sky_background

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.night.conditions import Conditions
    from planner.night.plan import PlannedTarget
    from planner.optics.eyepiece import Finder
    from planner.optics.turn import Turn
    from planner.optics.view import View

    Floats = NDArray[np.float64]

USUAL_DEG = 60.0  # height, and distance from the Moon, of the sky that the eye's limit is for
EYE_PUPIL_MM = 6.0  # common practice, no source
FINDER_PUPIL_MM = 6.0  # of a finder whose objective nobody tells; own judgement
COMFORT_MAG = 0.5  # what is seen at the very limit leads nobody; own judgement


def target_hops(
    conditions: Conditions, targets: Sequence[PlannedTarget], moments: Sequence[int]
) -> list[Hop]:
    """The way to each target at a moment of the night's grid, one each."""
    goals = [Goal(t.ra_deg, t.dec_deg, t.kind, t.magnitude, t.id) for t in targets]
    return goal_hops(conditions, goals, moments)


def goal_hops(conditions: Conditions, goals: Sequence[Goal], moments: Sequence[int]) -> list[Hop]:
    """The way to each of some places at a moment of the night's grid, one each."""
    if not goals:
        return []
    when, stars = np.asarray(moments, dtype=np.intp), load_landmarks()
    limits, lead = _start_limits_mag(conditions)[when], guide(conditions, UPRIGHT)
    grid, site = conditions.grid, conditions.request.site
    skies = [
        HopSky(site, grid.zenith[:, k], grid.north[:, k], grid.east[:, k], float(limit))
        for k, limit in zip(when, limits, strict=True)
    ]
    places = unit_vectors([t.ra_deg for t in goals], [t.dec_deg for t in goals])
    found = [sky.horizontal_deg(place[None, :]) for sky, place in zip(skies, places, strict=True)]
    way = Track(*(np.array([float(one[k][0]) for one in found]) for k in (0, 1)))
    sight = plain_sight(conditions, goals, (way, when), (limits, lead.limit_mag), lead.name)
    hops = []
    for number, goal in enumerate(goals):
        aim = Aim(
            goal.ra_deg,
            goal.dec_deg,
            bare_eye=bool(sight.bare_eye[number]),
            in_finder=bool(sight.in_finder[number]),
        )
        used = lead
        if lead.means is Means.EYEPIECE:
            height = float(way.altitude_deg[number])
            used = replace(lead, turn=telescope_turn(conditions.request.telescope, height))
        hops.append(find_hop(skies[number], used, aim, stars))
    return hops


def leading(conditions: Conditions) -> Leading:
    """What leads from target to target: a sight leads near one, then the lowest power leads on."""
    lead = guide(conditions, UPRIGHT)
    pointer = lead.means is Means.POINTER
    field = _widest(conditions).true_field_deg if pointer else lead.field_deg
    dark = _bare_eye_mag(conditions, conditions.request.zenith_sky_mag)
    limits = min(dark, FAINTEST_START_MAG), min(dark, TWILIGHT_START_MAG)
    return Leading(field, pointer, limits)


def _start_limits_mag(conditions: Conditions) -> Floats:
    """The faintest star to start from at each moment of the night, (T,)."""
    request = conditions.request
    brightness = sky_background(conditions.sky, USUAL_DEG, USUAL_DEG).sky_mag
    here = np.broadcast_to(brightness, conditions.grid.seconds.shape)
    limit = naked_eye_limit_mag(here, request.observer.field_factor)
    limit = np.minimum(limit, FAINTEST_START_MAG)
    bright = conditions.sun.altitude_deg > TWILIGHT_SUN_DEG
    return np.where(bright, np.minimum(limit, TWILIGHT_START_MAG), limit)


def guide(conditions: Conditions, telescope: Turn) -> Guide:
    """What one looks through: the widest finder with power, a sight, else the lowest power.

    ``telescope`` is how the telescope turns the sky where it points.
    """
    request, low = conditions.request, _widest(conditions)
    eye = _bare_eye_mag(conditions, request.zenith_sky_mag)
    powered = [finder for finder in request.finders if finder.magnification > 1.0]
    if powered:
        best = max(powered, key=lambda finder: (finder.true_field_deg, finder.name))
        limit = eye + _gain_mag(_objective_mm(best))
        return _guide(Means.FINDER, best, limit, IMAGE_TURNS.get(best.image))
    if request.finders:
        sight = min(request.finders, key=lambda finder: finder.name)
        landing = LANDING_SHARE * low.true_field_deg
        return replace(_guide(Means.POINTER, sight, eye, UPRIGHT), landing_deg=landing)
    if low.true_field_deg < LEAST_FIELD_DEG:
        return Guide(Means.NOTHING, "", 0.0, eye, None, 0.0)
    limit = eye + _gain_mag(request.telescope.clear_aperture_mm)
    return _guide(Means.EYEPIECE, low, limit, telescope)


def _guide(means: Means, through: Finder | View, limit_mag: float, turn: Turn | None) -> Guide:
    field = through.true_field_deg
    return Guide(means, through.name, field, limit_mag, turn, LANDING_SHARE * field)


def _widest(conditions: Conditions) -> View:
    return max(conditions.views, key=lambda view: view.true_field_deg)


def _bare_eye_mag(conditions: Conditions, sky_mag: float) -> float:
    factor = conditions.request.observer.field_factor
    return float(naked_eye_limit_mag(sky_mag, factor))


def _objective_mm(finder: Finder) -> float:
    """The objective the kit tells, else as the power needs it."""
    return finder.aperture_mm or FINDER_PUPIL_MM * finder.magnification


def _gain_mag(objective_mm: float) -> float:
    """``5 log10(objective / pupil)``, less what comfort asks for."""
    return float(5.0 * np.log10(objective_mm / EYE_PUPIL_MM)) - COMFORT_MAG
