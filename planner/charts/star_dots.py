"""The stars of a chart: which are drawn, and how large their dots are."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.angles import unit_vectors
from planner.charts.letters import letter_sign
from planner.charts.scene import Dot
from planner.targets.catalog import load_stars
from planner.targets.figures import star_letters
from planner.targets.stars import stars_near

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.charts.projection import Projection
    from planner.charts.sky import Sky
    from planner.charts.subject import Subject
    from planner.charts.window import Window

    Floats = NDArray[np.float64]

# Own judgement, by eye: 1 pt is the least that shows in dim red light.
LEAST_DOT_PT, GROWTH, LARGEST_DOT_PT = 1.0, 1.45, 7.5
PROPER_MAG = 2.1  # stars so bright are called by their proper names
LETTER_MAG = {"eye": 4.6, "finder": 6.0, "telescope": 8.0}


@dataclass(frozen=True, slots=True, eq=False)
class FieldStars:
    """N stars of a field, the brightest first: points (N, 2), V and Hipparcos numbers.

    ``limit_mag`` is the faintest drawn: as far as the view shows, or as the circle holds.
    """

    points: Floats
    v_mag: Floats
    hip: NDArray[np.int64]
    limit_mag: float

    def dots(self) -> list[Dot]:
        """Their dots."""
        sizes = dot_diameter_pt(self.v_mag, self.limit_mag)
        return [
            Dot(float(x), float(y), float(size))
            for (x, y), size in zip(self.points, sizes, strict=True)
        ]


def dot_diameter_pt(v_mag: Floats, limit_mag: float) -> Floats:
    """``1.45^(limit - V)`` points in steps of a quarter magnitude, at most 7.5."""
    steps = np.round((limit_mag - np.asarray(v_mag)) * 4.0) / 4.0
    size = np.clip(LEAST_DOT_PT * GROWTH**steps, LEAST_DOT_PT, LARGEST_DOT_PT)
    return np.asarray(np.round(size, 3), dtype=np.float64)


def field_stars(subject: Subject, window: Window, projection: Projection, sky: Sky) -> FieldStars:
    """The stars above the ground in a window, the brightest as many as it holds."""
    near = stars_near(
        load_stars(), subject.ra_deg, subject.dec_deg, window.field_deg / 2.0, window.drawn_mag
    )
    places = unit_vectors(near.ra_deg, near.dec_deg)
    order = np.lexsort((near.ra_deg, near.dec_deg, near.v_mag))
    order = order[sky.above_ground(places[order])]
    limit = window.drawn_mag
    if len(order) > window.most_stars:
        limit = float(np.floor(near.v_mag[order[window.most_stars]] * 10.0) / 10.0)
        order = order[near.v_mag[order] <= limit]
    points = projection.points(places[order])
    inside = np.hypot(points[:, 0], points[:, 1]) <= window.radius_pt - 0.6
    kept = order[inside]
    return FieldStars(points[inside], near.v_mag[kept], near.hip[kept], limit)


def star_name(hip: int, v_mag: float, look: str) -> str:
    """What a star is called on a chart: proper name, letter or number; empty for most."""
    if v_mag > LETTER_MAG[look] or hip not in star_letters():
        return ""
    letter, number, proper, _ = star_letters()[hip]
    if proper and v_mag <= PROPER_MAG:
        return proper
    if letter:
        return letter_sign(letter)
    return number if look != "eye" else ""
