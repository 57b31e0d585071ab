"""How the maker measures the friction of the altitude bearing with a spring balance."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from planner.tube.attitude import LEAST_ARM_MM
from planner.tube.balance import MM_PER_M

if TYPE_CHECKING:
    from planner.tube.balance import Load
    from planner.tube.loading import Loading, Turning
    from planner.tube.rig import Cradle


@dataclass(frozen=True, slots=True)
class FrictionCheck:
    """With the tube level: what is in it, and what both pulls at the eyepiece add up to, N.

    A tube that goes by itself when level shows no pull to one side: ``slide_first_mm`` is then
    how far to move it in its cradle for balance, above 0 towards the mirror's end, and the pulls
    are those of the tube so moved. 0 where both pulls can be read as it is.
    """

    loading: Loading
    slide_first_mm: float
    both_pulls_n: float


def friction_check(
    turned: Turning | None, cradle: Cradle | None, place: Load | None
) -> FrictionCheck | None:
    """The measurement for one loading; None without friction, or with the focuser at the axis.

    Imbalance cancels in the sum of the pulls up and down, ``2 T/arm``. Source: statics.
    """
    if turned is None or turned.hold_nm is None or cradle is None or place is None:
        return None
    runs_away = abs(float(turned.torque_nm[0])) > turned.hold_nm
    slide = turned.slide_mm if runs_away else 0.0
    arm = abs(place.along_mm - cradle.axis.along_mm - slide)
    if arm < LEAST_ARM_MM:
        return None
    return FrictionCheck(turned.loading, slide, 2.0 * turned.hold_nm * MM_PER_M / arm)
