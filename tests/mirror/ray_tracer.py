"""Rays followed one by one from the tester's source to a conic and back to the axis.

Vectors and Newton's root only; nothing of the planner's, so that it can be held against it.
"""

from __future__ import annotations

import numpy as np


def knife_travel_mm(
    radius_mm: float, conic: float, h_mm: np.ndarray, source_mm: float | None
) -> np.ndarray:
    """Where rays from the zone at h (N,) cross the axis, mm beyond the centre of curvature.

    ``source_mm`` is the source's distance from the vertex along the axis; None for a source
    that moves with the knife, which sees itself where the ray comes back along its own path.
    """
    depth = h_mm**2 / (2.0 * radius_mm)
    for _ in range(30):  # h^2 - 2 R z + (1 + K) z^2 = 0
        value = h_mm**2 - 2.0 * radius_mm * depth + (1.0 + conic) * depth**2
        depth = depth - value / (2.0 * (1.0 + conic) * depth - 2.0 * radius_mm)
    normal = np.stack([-h_mm, radius_mm - (1.0 + conic) * depth])
    normal = normal / np.hypot(normal[0], normal[1])
    if source_mm is None:
        return np.asarray(depth + h_mm * normal[1] / -normal[0] - radius_mm)
    ray = np.stack([h_mm, depth - source_mm])
    ray = ray / np.hypot(ray[0], ray[1])
    back = ray - 2.0 * (ray * normal).sum(axis=0) * normal
    return np.asarray(depth - h_mm * back[1] / back[0] - radius_mm)


def window_readings_mm(
    radius_mm: float, conic: float, zones: tuple[tuple[float, float], ...], fixed: bool
) -> tuple[float, ...]:
    """Readings of each window: the travel's mean with weight h, by many thin rings."""
    readings = []
    for inner, outer in zones:
        share = (np.arange(2000) + 0.5) / 2000
        h = np.sqrt(inner**2 + (outer**2 - inner**2) * share)  # even in h^2 is weight h
        source = radius_mm if fixed else None
        readings.append(float(knife_travel_mm(radius_mm, conic, h, source).mean()))
    return tuple(readings)
