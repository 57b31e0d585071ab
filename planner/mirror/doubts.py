"""What in a reduction calls for a second look: the edge, the kind of source, the sign."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from typing import TYPE_CHECKING

from planner.mirror.criteria import tolerances_mm
from planner.mirror.reduction import WAVE_MM, predicted_last_step

if TYPE_CHECKING:
    from planner.mirror.reduction import Reduction

EDGE_SIGMAS, EDGE_AIRY = 3.0, 1.5  # off what the other windows predict; own judgement
NEAR_CONIC = 0.12  # of a conic constant that a slip makes; own judgement
FEWEST_FOR_EDGE = 4  # windows, so that three predict the last
WRONG_SOURCE = {
    True: -0.5,
    False: -2.0,
}  # K of a paraboloid, by the kind taken, if it was the other
WRONG_SIGN = 1.0  # a paraboloid read the wrong way


class Doubt(Enum):
    """What may have gone wrong."""

    EDGE = auto()  # the last window is far off what the others make likely
    SOURCE = auto()  # K as of a paraboloid tested with the other kind of source
    SIGN = auto()  # K as of a paraboloid whose readings grow the other way


@dataclass(frozen=True, slots=True)
class EdgeDeparture:
    """How far the last window is off: in standard errors, and in Airy radii, signed.

    Negative is glass too low at the rim: turned down.
    """

    sigmas: float
    airy_radii: float


def edge_departure(found: Reduction) -> EdgeDeparture:
    """The last window against what the others predict; nothing with fewer than four windows."""
    test = found.test
    if len(test.zones) < FEWEST_FOR_EDGE:
        return EdgeDeparture(0.0, 0.0)
    predicted, error = predicted_last_step(found)
    off = float(found.steps[-1]) - predicted
    area = float(test.outer_mm[-1] ** 2 - test.inner_mm[-1] ** 2)
    share = 0.5 if test.fixed_source else 1.0
    reading = -off * test.radius_mm**2 * WAVE_MM / (share * area)
    return EdgeDeparture(off / error, -reading / float(tolerances_mm(test)[-1]))


def doubts(found: Reduction) -> tuple[Doubt, ...]:
    """What to look at again, in order of weight."""
    conic, told = found.conic.value, []
    if abs(conic - WRONG_SIGN) < NEAR_CONIC:
        told.append(Doubt.SIGN)
    if abs(conic - WRONG_SOURCE[found.test.fixed_source]) < NEAR_CONIC:
        told.append(Doubt.SOURCE)
    edge = edge_departure(found)
    if abs(edge.sigmas) >= EDGE_SIGMAS and abs(edge.airy_radii) >= EDGE_AIRY:
        told.append(Doubt.EDGE)
    return tuple(told)
