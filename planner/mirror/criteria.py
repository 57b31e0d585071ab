"""The trade's own measures: transverse error against the Airy disc, and the tolerance envelope."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.mirror.reduction import WAVE_MM
from planner.mirror.tester import MirrorTest, averaged, theory_mm

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


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
    between = np.abs(departure[:, None] - departure) / (room[:, None] + room)
    i, j = np.unravel_index(int(between.argmax()), between.shape)
    ratio = float(between[i, j])
    top = i if departure[i] > departure[j] else j
    return ratio, float(ratio * room[top] - departure[top])
