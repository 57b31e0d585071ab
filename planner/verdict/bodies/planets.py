"""Which eyepiece for the Moon and planets, and whether a planet stands out of its sky."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.eye.stars import telescopic_limit_mag
from planner.verdict.causes import air_now, air_without, costliest
from planner.verdict.powers import highest_up_to, planets_most
from planner.verdict.verdicts import Limit

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike, NDArray

    from planner.optics.view import View
    from planner.verdict.causes import Air
    from planner.verdict.setup import Setup
    from planner.verdict.sightlines import Sightlines

    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]
    Codes = NDArray[np.int8]

MOON_FIELD_DEG = 0.6  # holds the whole Moon (at most 0.56 deg) with a little room


def planet_views(setup: Setup, views: Sequence[View], seeing_arcsec: ArrayLike) -> Ints:
    """Index of the highest power that planets bear in each seeing, else of the lowest.

    ``seeing_arcsec``: along the line of sight, above 0, any shape. See ``planets_most``.
    """
    powers = np.array([view.magnification for view in views])
    return highest_up_to(powers, planets_most(setup, seeing_arcsec))


def whole_moon_view(views: Sequence[View]) -> int:
    """Index of the highest power whose field holds the whole Moon, else of the widest field."""
    fit = [index for index, view in enumerate(views) if view.true_field_deg >= MOON_FIELD_DEG]
    if fit:
        return max(fit, key=lambda index: views[index].magnification)
    return max(range(len(views)), key=lambda index: views[index].true_field_deg)


def body_margin_mag(
    setup: Setup,
    exit_pupil_mm: ArrayLike,
    magnitude: ArrayLike,
    dimming_mag: ArrayLike,
    sky_mag: ArrayLike,
) -> Floats:
    """Magnitudes by which a body, taken as a star, outshines the limit of its sky; broadcast.

    ``dimming_mag``: what the air takes (``Setup.dimming_mag``).
    Limits: a planet's disc is no point; in bright twilight expect about 0.5 mag either way.
    """
    limit = telescopic_limit_mag(setup.eye, exit_pupil_mm, sky_mag)
    return np.asarray(limit - np.asarray(magnitude, float) - np.asarray(dimming_mag, float))


def body_limits(setup: Setup, exit_pupil_mm: Floats, magnitude: Floats, lines: Sightlines) -> Codes:
    """What limits each body, numbers of ``Limit`` (N,): the seeing for those with plenty in hand.

    Else what costs most of the Moon, twilight, low altitude and the sky's glow.
    """

    def margin(air: Air) -> Floats:
        return body_margin_mag(setup, exit_pupil_mm, magnitude, air.dimming_mag, air.sky_mag)

    without = {limit: margin(air) for limit, air in air_without(setup, lines).items()}
    limits = costliest(margin(air_now(setup, lines)), without, Limit.FAINTNESS)
    return np.where(limits == Limit.NOTHING, Limit.SEEING, limits).astype(np.int8)
