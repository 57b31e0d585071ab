"""What in a reduction calls for a second look, before anybody takes it to the polishing tool."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto
from statistics import NormalDist
from typing import TYPE_CHECKING

import numpy as np

from planner.mirror.criteria import tolerances_mm
from planner.mirror.reduction import WAVE_MM, predicted_last_step
from planner.mirror.tester import LEAST_KNIFE_ERROR_MM, across_mm

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.mirror.reduction import Reduction
    from planner.mirror.tester import MirrorTest

    Floats = NDArray[np.float64]

EDGE_SIGMAS, EDGE_AIRY = 3.0, 1.5  # off what the other windows predict; own judgement
NEAR_SHARE = 0.25  # of a conic constant that a slip makes of a paraboloid; own judgement
WRONG_WAY_FROM = 0.3  # conic constants that no figuring leads to; own judgement
FALSE_SLIPS = 0.01  # honest tests in which some reading is called a slip; own judgement
SLIP_MM = 0.006  # across the beam; who sets a knife is not off so far; own judgement
SHAKY_MM = 0.01  # scatter of the runs across the beam; own judgement
COVERED_SHARE = 0.85  # of the way to the rim or the turned edge; own judgement
INTO_EDGE_SHARE = 0.02  # of the rim's radius that a window may reach into the edge; own judgement
FEWEST_FOR_EDGE = 4  # windows, so that three predict the last
FEWEST_FOR_SLIP = 3  # runs, so that two stand against the one


class Doubt(Enum):
    """What may have gone wrong."""

    SLIP = auto()  # one reading is far off the other runs'
    SHAKY = auto()  # the runs scatter more than a knife is set
    SAME = auto()  # every window reads the same
    SIGN = auto()  # K as of a paraboloid whose readings grow the other way
    SOURCE = auto()  # K as of a paraboloid tested with the other kind of source
    RADIUS = auto()  # K as of a paraboloid whose focal length was given as radius
    SHORT = auto()  # the windows end far within the rim
    INTO_EDGE = auto()  # the last window reaches into the turned edge told
    EDGE = auto()  # the last window is far off what the others make likely


@dataclass(frozen=True, slots=True)
class EdgeDeparture:
    """How far the last window is off: in standard errors, and in Airy radii, signed.

    Negative is glass too low at the rim: turned down.
    """

    sigmas: float
    airy_radii: float


@dataclass(frozen=True, slots=True)
class OddReading:
    """The reading farthest off the other runs': run and window from 1, how far off in mm."""

    run: int
    window: int
    off_mm: float


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


def odd_reading(test: MirrorTest) -> OddReading | None:
    """The one reading that is a slip of the pen; None where there is none, or under three runs.

    Its distance from what all others make of it, over their own scatter (the deleted studentized
    residual of a fit of windows and zeros), against Student's law for as many readings: an honest
    test is called a slip once in a hundred.
    Source: Cook and Weisberg 1982, sec. 2.2 (from memory); Wallace 1959, Ann. Math. Stat. 30, 1121
    (from memory) for Student's law.
    """
    given = np.array(test.runs)
    runs, zones = given.shape
    if runs < FEWEST_FOR_SLIP:
        return None
    off, scale, freedom = _deleted(across_mm(test, given), across_mm(test, np.ones((1, zones))))
    share = np.sqrt(freedom * np.log1p((off / scale) ** 2 / freedom))
    sigmas = share * (8.0 * freedom + 1.0) / (8.0 * freedom + 3.0)
    run, window = np.unravel_index(int(sigmas.argmax()), given.shape)
    limit = NormalDist().inv_cdf(1.0 - FALSE_SLIPS / 2.0 / given.size)
    if sigmas[run, window] < limit or abs(off[run, window]) < SLIP_MM:
        return None
    along = off[run, window] / float(across_mm(test, np.ones((1, zones)))[0, window])
    return OddReading(int(run) + 1, int(window) + 1, float(along))


def _deleted(across: Floats, slopes: Floats) -> tuple[Floats, Floats, int]:
    """Each reading (runs, zones) less what the others make of it, and that difference's error.

    ``slopes`` (1, zones) is what a unit of a run's zero makes across the beam. The third is the
    degrees of freedom of the error.
    """
    runs, zones = across.shape
    windows = np.kron(np.ones((runs, 1)), np.eye(zones))
    zeros = np.kron(np.eye(runs), slopes.T)
    design = np.hstack([windows, zeros])
    inverse = np.linalg.pinv(design)
    residual = across.ravel() - design @ (inverse @ across.ravel())
    own = np.maximum(1.0 - (design * inverse.T).sum(axis=1), 1e-12)
    freedom = (runs - 1) * (zones - 1) - 1
    others = np.maximum(residual @ residual - residual**2 / own, 0.0) / freedom
    least = LEAST_KNIFE_ERROR_MM**2
    error = np.sqrt(np.maximum(others, least) / own)
    return (residual / own).reshape(across.shape), error.reshape(across.shape), freedom


def doubts(found: Reduction) -> tuple[Doubt, ...]:
    """What to look at again, in order of weight."""
    told = [*_of_readings(found), *_of_conic(found), *_of_windows(found)]
    edge = edge_departure(found)
    if abs(edge.sigmas) >= EDGE_SIGMAS and abs(edge.airy_radii) >= EDGE_AIRY:
        told.append(Doubt.EDGE)
    return tuple(told)


def _of_readings(found: Reduction) -> list[Doubt]:
    test = found.test
    told = []
    if odd_reading(test) is not None:
        told.append(Doubt.SLIP)
    elif found.averaged.knife_error_mm > SHAKY_MM:
        told.append(Doubt.SHAKY)
    if all(len(set(run)) == 1 for run in test.runs):
        told.append(Doubt.SAME)
    return told


def _of_conic(found: Reduction) -> list[Doubt]:
    """What the conic constant is like; a slip in source or radius halves or doubles it."""
    conic, fixed = found.conic.value, found.test.fixed_source
    if conic > WRONG_WAY_FROM:
        return [Doubt.SIGN]
    if _near(conic, -0.5):
        return [Doubt.SOURCE if fixed else Doubt.RADIUS]
    return [Doubt.SOURCE] if _near(conic, -2.0) and not fixed else []


def _near(conic: float, slip: float) -> bool:
    return abs(conic / slip - 1.0) <= NEAR_SHARE


def _of_windows(found: Reduction) -> list[Doubt]:
    test = found.test
    rim = test.optical_diameter_mm / 2.0
    good, last = rim - test.edge_width_mm * (test.edge_waves > 0.0), test.zones[-1][1]
    told = []
    if last < COVERED_SHARE * good:
        told.append(Doubt.SHORT)
    if last > good + INTO_EDGE_SHARE * rim:
        told.append(Doubt.INTO_EDGE)
    return told
