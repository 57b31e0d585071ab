"""What stands in the middle of a chart."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from planner.night.plan import DoubleDetail
from planner.targets.catalog import load_deepsky
from planner.targets.kind import Kind

if TYPE_CHECKING:
    from planner.night.plan import PlannedTarget


@dataclass(frozen=True, slots=True)
class Subject:
    """A place (ICRS, degrees) and what is there; ``kind`` is None for a bare place.

    ``axes_arcmin`` are full axes, ``position_angle_deg`` that of the major axis or of a pair's
    companion (None unknown); ``separation_arcsec`` and ``magnitudes`` are a pair's.
    """

    name: str
    ra_deg: float
    dec_deg: float
    kind: Kind | None = None
    magnitude: float | None = None
    axes_arcmin: tuple[float, float] | None = None
    position_angle_deg: float | None = None
    separation_arcsec: float | None = None
    magnitudes: tuple[float, float] | None = None
    object_id: str = ""


def subject_of(target: PlannedTarget, short: str) -> Subject:
    """A target of a plan, under a short name."""
    pair = target.detail if isinstance(target.detail, DoubleDetail) else None
    return Subject(
        name=short,
        ra_deg=target.ra_deg,
        dec_deg=target.dec_deg,
        kind=target.kind,
        magnitude=target.magnitude,
        axes_arcmin=target.size_arcmin,
        position_angle_deg=pair.position_angle_deg if pair else _turned(target.id),
        separation_arcsec=pair.separation_arcsec if pair else None,
        magnitudes=pair.magnitudes if pair else None,
        object_id=target.id,
    )


def _turned(object_id: str) -> float | None:
    row = deepsky_rows().get(object_id)
    angle = np.nan if row is None else float(load_deepsky().position_angle_deg[row])
    return None if np.isnan(angle) else angle


@cache
def deepsky_rows() -> dict[str, int]:
    """The row of each deep-sky object by its id."""
    return {str(name): row for row, name in enumerate(load_deepsky().id)}
