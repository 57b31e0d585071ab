"""The figure of the optics: how far the wave is from a sphere at the focus."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from planner.errors import ModelRangeError
from planner.optics.resolution import strehl as strehl_of_rms

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

SPHERICAL_PV_OVER_RMS = 3.3541  # sqrt(180)/4, spherical aberration at best focus; Mahajan 1982
GOOD_STREHL = 0.8  # a quarter wave of spherical error, Rayleigh 1879; Born & Wolf 1999, sec. 9.3
WORST_RMS_WAVES = 0.25  # beyond this the blur no longer has a core to speak of; common sense
_AREA_STEPS = 2000
_FOCUS_SEARCHES_WAVES = ((1.5, 0.05), (0.05, 0.0025), (0.0025, 0.0001))  # each way, in steps of


@dataclass(frozen=True, slots=True)
class Figure:
    """Errors of the wave (not of the glass), in waves at 550 nm.

    ``rms_waves`` is the RMS of what nobody has mapped, 0..0.25. ``profile`` is what a test
    has mapped: points (r/R, error in waves) with r/R rising within 0..1, joined by straight
    lines and held constant beyond the end points; the same on every radius. Focus is free:
    the observer turns the knob. A glass error counts twice on a mirror.
    """

    rms_waves: float = 0.0
    profile: tuple[tuple[float, float], ...] = ()

    def __post_init__(self) -> None:
        """Refuse an error the model cannot hold."""
        if not 0.0 <= self.rms_waves <= WORST_RMS_WAVES:
            raise ModelRangeError(
                f"wavefront error of {self.rms_waves} waves RMS is outside 0..{WORST_RMS_WAVES}; "
                "give the RMS of the wave, not its peak to valley"
            )
        radii = [r for r, _ in self.profile]
        if any(not 0.0 <= r <= 1.0 for r in radii) or radii != sorted(set(radii)):
            raise ModelRangeError("radii of a wavefront profile must rise within 0..1")


def rms_from_peak_to_valley(peak_to_valley_waves: float) -> float:
    """RMS of a smooth error of the wave from its peak to valley, both in waves.

    ``RMS = PV / 3.35``, true for spherical aberration at best focus (defocus 3.46,
    astigmatism 4.90, coma 5.66). A rough surface has less RMS for the same PV.
    Source: Mahajan 1982, J. Opt. Soc. Am. 72, 1258 (from memory).
    """
    return peak_to_valley_waves / SPHERICAL_PV_OVER_RMS


def turned_edge(width_ratio: float, edge_waves: float) -> Figure:
    """A turned edge: the wave falls off with the square of the distance into the turned zone.

    ``width_ratio`` is the zone's width over the radius, 0..1; ``edge_waves`` the depth at the
    rim, where the wave lags: an edge turned down has a negative error. The form of a real edge
    differs; only its width and depth are usually known.
    """
    share = np.linspace(0.0, 1.0, 17)
    points = zip(1.0 - width_ratio + width_ratio * share, -edge_waves * share**2, strict=True)
    return Figure(profile=tuple((min(float(r), 1.0), float(w)) for r, w in points))


def wavefront_error(figure: Figure, radius: ArrayLike) -> Floats:
    """Mapped error in waves at r/R (any shape), before refocusing."""
    r = np.asarray(radius, dtype=float)
    if not figure.profile:
        return np.zeros_like(r)
    points = np.array(figure.profile)
    return np.asarray(np.interp(r, points[:, 0], points[:, 1]))


def _annulus(obstruction_ratio: float) -> Floats:
    """Middles of rings of equal area, as (r/R)^2."""
    steps = (np.arange(_AREA_STEPS) + 0.5) / _AREA_STEPS
    return np.asarray(obstruction_ratio**2 + (1.0 - obstruction_ratio**2) * steps)


@lru_cache(maxsize=32)
def best_focus_waves(figure: Figure, obstruction_ratio: float) -> float:
    """Defocus, in waves at the rim, that gives the mapped error its highest Strehl ratio.

    Subtract ``result * (r/R)^2``. Searched 1.5 waves each way around the least-squares focus;
    0 without a mapped error.
    """
    if not figure.profile:
        return 0.0
    square = _annulus(obstruction_ratio)
    error = wavefront_error(figure, np.sqrt(square))
    centred = square - square.mean()
    start = float(error @ centred / (centred @ centred))
    for reach, step in _FOCUS_SEARCHES_WAVES:
        tried = start + np.arange(-reach, reach + step / 2.0, step)
        phase = 2.0 * np.pi * (error - tried[:, None] * square)
        strength = np.cos(phase).mean(axis=1) ** 2 + np.sin(phase).mean(axis=1) ** 2
        start = float(tried[np.argmax(strength)])
    return start


def refocused_error(figure: Figure, obstruction_ratio: float, radius: ArrayLike) -> Floats:
    """Mapped error in waves at r/R (any shape) after the observer has focused."""
    r = np.asarray(radius, dtype=float)
    return wavefront_error(figure, r) - best_focus_waves(figure, obstruction_ratio) * r**2


def refocused_rms_waves(figure: Figure, obstruction_ratio: float) -> float:
    """RMS in waves of the mapped error over the annulus at its least-squares focus."""
    square = _annulus(obstruction_ratio)
    error = wavefront_error(figure, np.sqrt(square))
    centred = square - square.mean()
    left = error - error.mean() - float(error @ centred / (centred @ centred)) * centred
    return float(np.sqrt((left**2).mean()))


def strehl(figure: Figure, obstruction_ratio: float) -> float:
    """Strehl ratio: peak of the image over that of a perfect wave through the same annulus.

    The mapped part exactly, ``|mean exp(2 pi i W)|^2``; the unmapped part as
    ``exp(-(2 pi sigma)^2)``, good to a few per cent for sigma up to about 0.1 wave.
    Source: Mahajan 1983, J. Opt. Soc. Am. 73, 860 (from memory).
    """
    radius = np.sqrt(_annulus(obstruction_ratio))
    phase = 2.0 * np.pi * refocused_error(figure, obstruction_ratio, radius)
    mapped = np.cos(phase).mean() ** 2 + np.sin(phase).mean() ** 2
    return float(mapped * strehl_of_rms(figure.rms_waves))
