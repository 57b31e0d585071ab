"""Gaps and steps in Saturn's ring, blurred as telescope and air blur them."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.verdict.bodies.contrast import blurred_bars

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.verdict.bodies.features import Marking

    Floats = NDArray[np.float64]

# Edges in km from Saturn's middle, and brightness against ring B; from memory (spacecraft radii).
RINGS_KM = np.array([
    [74500.0, 92000.0, 0.12],  # C, the crape ring
    [92000.0, 117580.0, 1.0],  # B
    [117580.0, 122170.0, 0.10],  # Cassini's division
    [122170.0, 136780.0, 0.68],  # A
])  # fmt: skip
CASSINI_KM = 122170.0 - 117580.0
ENCKE_KM, ENCKE_WIDTH_KM = 133584.0, 325.0
CRAPE_SHARE = 0.06  # of ring B's light, what stands out beside the globe; calibrated by hand
CASSINI, ENCKE, CRAPE = "Cassini division", "Encke gap", "crape ring"


def ring_dips(passed: Floats, marking: Marking, unit_arcsec: float) -> Floats:
    """How deep a gap of the ring is left, ``1 - valley / outer crest``, (S,), at the ansa.

    ``passed`` (S, 400) transfer functions; the marking's width in arcsec stands for its width in
    km, which sets the scale. For the crape ring: its light against the sky inside of it.
    """
    if marking.name == CRAPE:
        return _crape(passed, marking.width_arcsec / unit_arcsec / (92000.0 - 74500.0))
    if marking.name == ENCKE:
        scale = marking.width_arcsec / unit_arcsec / ENCKE_WIDTH_KM
        return _dip(passed, _with_encke(), scale, (ENCKE_KM, 128000.0, 135300.0))
    scale = marking.width_arcsec / unit_arcsec / CASSINI_KM
    return _dip(passed, RINGS_KM, scale, (119875.0, 114000.0, 130000.0))


def _dip(passed: Floats, rings: Floats, scale: float, km: tuple[float, float, float]) -> Floats:
    """The dip near a middle, between the crests inside and outside of it (km)."""
    middle, inner, outer = km
    places = np.linspace(inner, outer, 81)
    seen = blurred_bars(passed, _scaled(rings, scale), places * scale)
    near = np.abs(places - middle) < (outer - inner) / 3.0
    valley = np.where(near, seen, np.inf).min(axis=-1)
    at = np.argmin(np.where(near, seen, np.inf), axis=-1)
    further = np.arange(len(places)) >= at[:, None]
    crest = np.where(further, seen, -np.inf).max(axis=-1)
    return np.asarray(np.maximum(1.0 - valley / crest, 0.0))


def _crape(passed: Floats, scale: float) -> Floats:
    """How far the crape ring stands out of ring B's blurred edge, in the middle of it."""
    places = np.array([83250.0]) * scale
    with_it = blurred_bars(passed, _scaled(RINGS_KM, scale), places)[:, 0]
    without = blurred_bars(passed, _scaled(RINGS_KM[1:], scale), places)[:, 0]
    share = np.clip((with_it - without) / np.maximum(with_it, 1e-9), 0.0, 1.0)
    return np.asarray(CRAPE_SHARE * share)


def _with_encke() -> Floats:
    inner, outer = ENCKE_KM - ENCKE_WIDTH_KM / 2.0, ENCKE_KM + ENCKE_WIDTH_KM / 2.0
    return np.vstack([RINGS_KM[:3], [[122170.0, inner, 0.68], [outer, 136780.0, 0.68]]])


def _scaled(rings: Floats, scale: float) -> Floats:
    return np.asarray(rings * np.array([scale, scale, 1.0]))
