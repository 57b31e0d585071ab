"""What shows without the telescope: to the bare eye, and in a finder."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.targets.catalog import load_deepsky
from planner.targets.columns import rows_of
from planner.targets.kind import DEEP_SKY_KINDS
from planner.verdict.deepsky.small_views import BARE_EYE, small_view_steps
from planner.verdict.steps import Step

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.ephemeris.track import Track
    from planner.night.conditions import Conditions
    from planner.targets.kind import Kind

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Goal:
    """What one wants to find: its place (ICRS, degrees), kind, V magnitude and catalog's id.

    The kind is None for a bare place, the magnitude for what has none.
    """

    ra_deg: float
    dec_deg: float
    kind: Kind | None = None
    magnitude: float | None = None
    id: str = ""


@dataclass(frozen=True, slots=True, eq=False)
class PlainSight:
    """Which of N goals the bare eye and the finder show, (N,)."""

    bare_eye: Bools
    in_finder: Bools


def plain_sight(
    conditions: Conditions,
    goals: Sequence[Goal],
    there: tuple[Track, Ints],
    limits_mag: tuple[Floats, float],
    finder: str,
) -> PlainSight:
    """What shows of N goals where each stands (``there``: places (N,) and moments (N,)).

    Stars and planets by ``limits_mag``, the bare eye's (N,) and the finder's, as they stand above
    the air; deep-sky objects by the eye's model at each, where it is more than borderline. A finder
    of unknown objective shows no glow.
    """
    extended = np.array([goal.kind in DEEP_SKY_KINDS for goal in goals], dtype=bool)
    points = np.array([np.inf if t.magnitude is None else t.magnitude for t in goals])
    points[extended] = np.inf
    bare, in_finder = points <= limits_mag[0], points <= limits_mag[1]
    rows = np.flatnonzero(extended)
    if not len(rows):
        return PlainSight(bare, in_finder)
    catalog = load_deepsky()
    places = {name: number for number, name in enumerate(catalog.id)}
    objects = rows_of(catalog, [places[t.id] for t in goals if t.kind in DEEP_SKY_KINDS])
    way, moments = there
    lines = conditions.sightlines_at(
        way.altitude_deg[rows], objects.ra_deg, objects.dec_deg, moments[rows]
    )
    dimming = conditions.setup.dimming_mag(lines.airmass)
    for small in conditions.small_views:
        if small.view.name not in (BARE_EYE, finder):
            continue
        shown = small_view_steps(small, objects, dimming, lines.sky_mag) >= Step.SEEN
        (bare if small.view.name == BARE_EYE else in_finder)[rows] = shown
    return PlainSight(bare, in_finder)
