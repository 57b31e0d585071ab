"""What leads the hand at one minute of the night: the sky there, and what one looks through."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.eye.stars import naked_eye_limit_mag
from planner.hops.hop import Hop, Means
from planner.hops.landmarks import load_landmarks
from planner.hops.search import Aim, Guide, HopSky, find_hop
from planner.night.evening.hop_minutes import (
    FAINTEST_START_MAG,
    LEAST_FIELD_DEG,
    TWILIGHT_START_MAG,
    Leading,
)
from planner.night.evening.session import TWILIGHT_SUN_DEG
from planner.optics.turn import IMAGE_TURNS, UPRIGHT, telescope_turn
from planner.sky.background import sky_background
from planner.targets.kind import DEEP_SKY_KINDS

if TYPE_CHECKING:
    from planner.night.conditions import Conditions
    from planner.night.plan import PlannedTarget
    from planner.optics.eyepiece import Finder
    from planner.optics.turn import Turn
    from planner.optics.view import View

USUAL_DEG = 60.0  # height, and distance from the Moon, of the sky that the eye's limit is for
EYE_PUPIL_MM = 6.0  # common practice, no source
FINDER_PUPIL_MM = 6.0  # of a finder whose objective nobody tells; own judgement
COMFORT_MAG = 0.5  # what is seen at the very limit leads nobody; own judgement


def target_hop(conditions: Conditions, target: PlannedTarget, moment: int) -> Hop:
    """The way to a target at a moment of the night's grid."""
    point = target.magnitude
    if point is None or target.kind in DEEP_SKY_KINDS:
        point = np.inf
    return place_hop(conditions, (target.ra_deg, target.dec_deg), point, moment)


def place_hop(
    conditions: Conditions, place_deg: tuple[float, float], point_mag: float, moment: int
) -> Hop:
    """The way to a place (ra, dec) where a point of a magnitude stands, infinite for none."""
    sky = hop_sky(conditions, moment)
    aim = Aim(*place_deg, point_mag)
    altitude, _ = sky.horizontal_deg(aim.place[None, :])
    lead = guide(conditions, telescope_turn(conditions.request.telescope, float(altitude[0])))
    return find_hop(sky, lead, aim, load_landmarks())


def leading(conditions: Conditions) -> Leading:
    """What leads from target to target: a sight leads near one, then the lowest power leads on."""
    lead = guide(conditions, UPRIGHT)
    pointer = lead.means is Means.POINTER
    field = _widest(conditions).true_field_deg if pointer else lead.field_deg
    dark = _bare_eye_mag(conditions, conditions.request.zenith_sky_mag)
    limits = min(dark, FAINTEST_START_MAG), min(dark, TWILIGHT_START_MAG)
    return Leading(field, pointer, limits)


def hop_sky(conditions: Conditions, moment: int) -> HopSky:
    """The sky of a moment: where its zenith is, and the faintest star to start from."""
    request, grid = conditions.request, conditions.grid
    brightness = sky_background(conditions.sky, USUAL_DEG, USUAL_DEG).sky_mag
    here = float(np.broadcast_to(brightness, grid.seconds.shape)[moment])
    limit = min(_bare_eye_mag(conditions, here), FAINTEST_START_MAG)
    if conditions.sun.altitude_deg[moment] > TWILIGHT_SUN_DEG:
        limit = min(limit, TWILIGHT_START_MAG)
    axes = (grid.zenith[:, moment], grid.north[:, moment], grid.east[:, moment])
    return HopSky(request.site, *axes, limit)


def guide(conditions: Conditions, telescope: Turn) -> Guide:
    """What one looks through: the widest finder with power, a sight, else the lowest power.

    ``telescope`` is how the telescope turns the sky where it points.
    """
    request = conditions.request
    finders = request.finders
    eye = _bare_eye_mag(conditions, request.zenith_sky_mag)
    powered = [finder for finder in finders if finder.magnification > 1.0]
    if powered:
        best = max(powered, key=lambda finder: (finder.true_field_deg, finder.name))
        limit = eye + _gain_mag(_objective_mm(best))
        turn = IMAGE_TURNS.get(best.image)
        return Guide(Means.FINDER, best.name, best.true_field_deg, limit, turn)
    if finders:
        sight = min(finders, key=lambda finder: finder.name)
        return Guide(Means.POINTER, sight.name, sight.true_field_deg, eye, UPRIGHT)
    view = _widest(conditions)
    if view.true_field_deg < LEAST_FIELD_DEG:
        return Guide(Means.NOTHING, "", 0.0, eye, None)
    limit = eye + _gain_mag(request.telescope.clear_aperture_mm)
    return Guide(Means.EYEPIECE, view.name, view.true_field_deg, limit, telescope)


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
