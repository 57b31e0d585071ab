"""What leads the hand at one minute of the night: the sky there, and what one looks through."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.eye.stars import naked_eye_limit_mag
from planner.hops.clock import IMAGE_SIGNS
from planner.hops.hop import Hop, Means
from planner.hops.landmarks import load_landmarks
from planner.hops.search import Aim, Guide, HopSky, find_hop
from planner.night.evening.hop_minutes import FAINTEST_START_MAG, LEAST_FIELD_DEG
from planner.night.evening.session import TWILIGHT_SUN_DEG
from planner.optics.telescope import Design
from planner.sky.background import sky_background
from planner.targets.kind import DEEP_SKY_KINDS

if TYPE_CHECKING:
    from planner.night.conditions import Conditions
    from planner.night.plan import PlannedTarget
    from planner.optics.eyepiece import Finder

TWILIGHT_START_MAG = 3.0  # the faintest start star in twilight; common practice, no source
USUAL_DEG = 60.0  # height, and distance from the Moon, of the sky that the eye's limit is for
EYE_PUPIL_MM = 6.0  # common practice, no source
FINDER_PUPIL_MM = 6.0  # of a finder whose objective nobody tells; own judgement
COMFORT_MAG = 0.5  # what is seen at the very limit leads nobody; own judgement


def target_hop(
    conditions: Conditions, finders: tuple[Finder, ...], target: PlannedTarget, moment: int
) -> Hop:
    """The way to a target at a moment of the night's grid."""
    sky = hop_sky(conditions, moment)
    point = None if target.kind in DEEP_SKY_KINDS else target.magnitude
    aim = Aim(target.ra_deg, target.dec_deg, point)
    return find_hop(sky, guide(conditions, finders), aim, load_landmarks())


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


def guide(conditions: Conditions, finders: tuple[Finder, ...]) -> Guide:
    """What one looks through: the widest finder with power, a sight, else the lowest power."""
    request = conditions.request
    eye = _bare_eye_mag(conditions, request.zenith_sky_mag)
    powered = [finder for finder in finders if finder.magnification > 1.0]
    if powered:
        best = max(powered, key=lambda finder: (finder.true_field_deg, finder.name))
        limit = eye + _gain_mag(_objective_mm(best))
        signs = IMAGE_SIGNS.get(best.image)
        return Guide(Means.FINDER, best.name, best.true_field_deg, limit, signs)
    if finders:
        sight = min(finders, key=lambda finder: finder.name)
        return Guide(Means.POINTER, sight.name, sight.true_field_deg, eye, (1.0, 1.0))
    view = max(conditions.views, key=lambda view: view.true_field_deg)
    if view.true_field_deg < LEAST_FIELD_DEG:
        return Guide(Means.NOTHING, "", 0.0, eye, None)
    limit = eye + _gain_mag(request.telescope.clear_aperture_mm)
    image = "inverted" if request.telescope.design is Design.NEWTONIAN else "mirrored"
    return Guide(Means.EYEPIECE, view.name, view.true_field_deg, limit, IMAGE_SIGNS[image])


def _bare_eye_mag(conditions: Conditions, sky_mag: float) -> float:
    factor = conditions.request.observer.field_factor
    return float(naked_eye_limit_mag(sky_mag, factor))


def _objective_mm(finder: Finder) -> float:
    """The objective the kit tells, else as the power needs it."""
    return finder.aperture_mm or FINDER_PUPIL_MM * finder.magnification


def _gain_mag(objective_mm: float) -> float:
    """``5 log10(objective / pupil)``, less what comfort asks for."""
    return float(5.0 * np.log10(objective_mm / EYE_PUPIL_MM)) - COMFORT_MAG
