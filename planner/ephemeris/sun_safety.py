"""The rules that keep an eye from the Sun: numbers only, and every part of the plan asks here.

The sentences stand in ``sheets/sun_words.py``.
"""

from __future__ import annotations

from enum import Enum, auto
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

LIMB_DEG = 0.83  # Sun's radius and refraction at the horizon; Astronomical Almanac
DIP_DEG = 0.0293  # of the sea's horizon from a height of 1 m; 1.76', Bowditch (from memory)
SAFE_BELOW_DEG = 2.0  # the Sun's depth from which the sky beside it may be swept; own judgement
NEVER_WITHIN_DEG = 30.0  # of the Sun while it is up; own judgement
WALL_WITHIN_DEG = 60.0  # only from a place where the Sun is behind a wall; own judgement
STOP_MIN = 15.0  # minutes before the Sun is back there in the morning; own judgement


class SunRule(Enum):
    """What holds for a body beside the Sun."""

    FREE = auto()
    NOT_AFTER = auto()  # the Sun is down now and rises: stop by a clock time
    WALL = auto()  # the Sun is up, 30 to 60 degrees away
    NEVER = auto()  # the Sun is up and near


def sun_up_deg(elevation_m: float) -> float:
    """True altitude of the Sun's centre above which some of it shows, degrees.

    ``-(0.83 + 0.029 sqrt(height))``: from a hill the horizon lies lower than flat.
    Source: Bowditch, American Practical Navigator, dip (from memory).
    """
    return -(LIMB_DEG + DIP_DEG * float(np.sqrt(max(elevation_m, 0.0))))


def safe_sun_deg(elevation_m: float) -> float:
    """True altitude below which the sky beside the Sun may be swept: 2 degrees down, or its dip."""
    return min(-SAFE_BELOW_DEG, sun_up_deg(elevation_m))


def sun_rule(elongation_deg: float, sun_altitude_deg: float, elevation_m: float) -> SunRule:
    """What holds for a body at an angle from the Sun, the Sun's centre at a true altitude."""
    if sun_altitude_deg <= sun_up_deg(elevation_m):
        return SunRule.FREE if elongation_deg >= WALL_WITHIN_DEG else SunRule.NOT_AFTER
    if elongation_deg < NEVER_WITHIN_DEG:
        return SunRule.NEVER
    return SunRule.WALL if elongation_deg < WALL_WITHIN_DEG else SunRule.FREE


def beside_sun_allowed(
    elongation_deg: ArrayLike, sun_altitude_deg: ArrayLike, elevation_m: float
) -> NDArray[np.bool_]:
    """Whether a body may be pointed at: never within 30 degrees of a Sun that is up; broadcast."""
    up = np.asarray(sun_altitude_deg, dtype=float) > sun_up_deg(elevation_m)
    return np.asarray(~(up & (np.asarray(elongation_deg, dtype=float) < NEVER_WITHIN_DEG)))
