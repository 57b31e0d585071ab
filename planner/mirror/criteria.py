"""The trade's own measures: transverse error against the Airy disc, and the tolerance envelope."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.mirror.reduction import WAVE_MM
from planner.mirror.tester import ASSUMED_FREEDOM, MirrorTest, along_mm, averaged, theory_mm

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

DRAWS = 1000
NORMAL_90 = 1.644854  # of a normal law, 5 % lie beyond to either side


def airy_radius_mm(test: MirrorTest) -> float:
    """Radius of the first dark ring at the focus: ``1.22 lambda R/(4 a)``, a the half diameter."""
    return 1.22 * WAVE_MM * test.radius_mm / (2.0 * test.optical_diameter_mm)


def tolerances_mm(test: MirrorTest) -> Floats:
    """Departure of a reading (zones,) whose transverse error is one Airy radius.

    ``R rho_A/h`` with a moving source, twice that with a fixed one.
    Source: Millies-Lacroix 1976 (from memory).
    """
    share = 2.0 if test.fixed_source else 1.0
    return np.asarray(share * test.radius_mm * airy_radius_mm(test) / test.rms_radii_mm)


def transverse_ratios(test: MirrorTest, constant_mm: float = 0.0) -> Floats:
    """Transverse error over the Airy radius (zones,), signed, with a constant on all readings."""
    departure = averaged(test).readings_mm - theory_mm(test) + constant_mm
    return np.asarray(-departure / tolerances_mm(test))


def fitting_constants_mm(test: MirrorTest) -> tuple[float, float] | None:
    """The range of the constant that keeps every zone within tolerance; None where none does."""
    departure, room = averaged(test).readings_mm - theory_mm(test), tolerances_mm(test)
    low, high = float((-room - departure).max()), float((room - departure).min())
    return (low, high) if low <= high else None


def least_greatest_ratio(test: MirrorTest) -> tuple[float, float]:
    """The smallest possible greatest transverse ratio and the constant in mm that reaches it.

    At the best constant two zones of opposite sign are equally bad: ``|e_i - e_j|/(t_i + t_j)``,
    the greatest over all pairs.
    """
    departure, room = averaged(test).readings_mm - theory_mm(test), tolerances_mm(test)
    between = _between(departure, room)
    i, j = np.unravel_index(int(between.argmax()), between.shape)
    ratio = float(between[i, j])
    top = i if departure[i] > departure[j] else j
    return ratio, float(ratio * room[top] - departure[top])


def _between(departure_mm: Floats, room_mm: Floats) -> Floats:
    """How far apart each two windows are, over what both are allowed: (..., zones, zones)."""
    apart = np.abs(departure_mm[..., :, None] - departure_mm[..., None, :])
    return np.asarray(apart / (room_mm[:, None] + room_mm))


def transverse_doubts(test: MirrorTest) -> Floats:
    """Half of the 90 % interval of each window's transverse error (zones,), Airy radii.

    The standard error of the runs' mean times Student's quantile.
    """
    mean = averaged(test)
    error = along_mm(test, mean.knife_error_mm / np.sqrt(mean.runs)) / tolerances_mm(test)
    return np.asarray(_student_90(mean.freedom or ASSUMED_FREEDOM) * error)


def greatest_ratio_band(test: MirrorTest) -> tuple[float, float]:
    """The 90 % interval of ``least_greatest_ratio``, Airy radii.

    That of the two windows that are worst, for the constant between them is free; from 0 on where
    the knife's error alone, with a perfect mirror, makes as much once in twenty times.
    """
    mean, room = averaged(test), tolerances_mm(test)
    between = _between(mean.readings_mm - theory_mm(test), room)
    i, j = np.unravel_index(int(between.argmax()), between.shape)
    doubts = transverse_doubts(test) * room
    ratio, doubt = between[i, j], np.hypot(doubts[i], doubts[j]) / (room[i] + room[j])
    random, freedom = np.random.default_rng(1), mean.freedom or ASSUMED_FREEDOM
    noise = random.standard_normal((DRAWS, len(room))) * doubts / _student_90(freedom)
    noise *= np.sqrt(freedom / random.chisquare(freedom, (DRAWS, 1)))
    by_chance = float(np.quantile(_between(noise, room).max(axis=(1, 2)), 0.95))
    low = 0.0 if ratio <= by_chance else max(float(ratio - doubt), 0.0)
    return low, float(ratio + doubt)


def _student_90(freedom: int) -> float:
    """Student's quantile of 0.95; within 1 % from four degrees of freedom on.

    Source: Abramowitz and Stegun 1964, 26.7.5.
    """
    z = NORMAL_90
    first = (z**3 + z) / 4.0
    second = (5.0 * z**5 + 16.0 * z**3 + 3.0 * z) / 96.0
    return z + first / freedom + second / freedom**2
