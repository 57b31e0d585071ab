"""How a mirror cools, and what it weighs."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from planner.tube.balance import MM_PER_M

STILL_W_M2K = 8.0  # heat that still night air takes from a face, 40 % either way: own judgement
FAN_W_M2K = 20.0  # the same with a fan behind the mirror: own judgement


class MirrorGlass(StrEnum):
    """What the mirror is made of."""

    BOROSILICATE = "borosilicate"
    PLATE = "plate glass"
    SILICA = "fused silica"
    CERAMIC = "glass ceramic"


@dataclass(frozen=True, slots=True)
class Heat:
    """Density in kg/m3, heat capacity in J/(kg K), conductivity in W/(m K)."""

    density: float
    capacity: float
    conductivity: float


# As makers' sheets of the glasses have it (from memory), good to a few percent.
HEAT = {
    MirrorGlass.BOROSILICATE: Heat(2230.0, 830.0, 1.14),
    MirrorGlass.PLATE: Heat(2500.0, 840.0, 1.0),
    MirrorGlass.SILICA: Heat(2200.0, 740.0, 1.38),
    MirrorGlass.CERAMIC: Heat(2530.0, 800.0, 1.46),
}


@dataclass(frozen=True, slots=True)
class Blank:
    """A mirror: diameter and thickness at the rim in mm, its glass, whether air reaches its back.

    Its back is flat.
    """

    diameter_mm: float
    thickness_mm: float
    glass: MirrorGlass = MirrorGlass.BOROSILICATE
    open_back: bool = True

    def mass_kg(self, focal_mm: float) -> float:
        """``rho pi/4 D^2 (t - s/2)``, the sag ``s = D^2/16f`` hollowed out. Source: geometry."""
        sag = self.diameter_mm**2 / (16.0 * focal_mm)
        area = np.pi / 4.0 * (self.diameter_mm / MM_PER_M) ** 2
        thickness = (self.thickness_mm - sag / 2.0) / MM_PER_M
        return float(HEAT[self.glass].density * area * thickness)

    def time_constant_min(self, transfer_w_m2k: float = STILL_W_M2K) -> float:
        """Minutes in which the mirror's lead over the air falls to 1/e.

        Both faces ``rho c t/2h + t^2/12 alpha``, one face ``rho c t/h + t^2/3 alpha``: the air's
        hold on the surface and the way through the glass, alpha its diffusivity. Within 2 % of a
        slab solved numerically for the mirrors of gardens; the rim is left out.
        Source: heat equation of a slab, lowest term; Carslaw & Jaeger 1959, sec. 3.11 (memory).
        """
        heat = HEAT[self.glass]
        stored = heat.density * heat.capacity
        diffusivity = heat.conductivity / stored
        thickness = self.thickness_mm / MM_PER_M
        faces, way = (2.0, 12.0) if self.open_back else (1.0, 3.0)
        seconds = stored * thickness / (faces * transfer_w_m2k)
        seconds += thickness**2 / (way * diffusivity)
        return float(seconds / 60.0)


def cooling_time_min(time_constant_min: float, start_k: float, end_k: float) -> float:
    """Minutes from ``start_k`` above steady air to ``end_k``: ``tau ln(start/end)``; 0 if below."""
    return float(time_constant_min * np.log(max(start_k / end_k, 1.0)))


def lag_k(time_constant_min: float, falling_k_per_h: float) -> float:
    """How much warmer than falling air it stays, K: the air's fall in one time constant."""
    return time_constant_min / 60.0 * falling_k_per_h
