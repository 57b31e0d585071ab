"""How much of a marking's contrast is left after telescope and air.

Widths in lambda/D, frequencies in D/lambda. A marking has contrast 1 before; what is left is
averaged over a window of the eye's choice. Everything is a weighted sum of the transfer function,
so that ``transfer @ weights`` does all of it at once.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from planner.optics.image import bessel_j0, instrument_mtf, mtf_nodes, psf_matrix
from planner.sky.seeing import atmosphere_mtf

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    from planner.optics.figure import Figure
    from planner.verdict.setup import Setup

    Floats = NDArray[np.float64]

# Abramowitz & Stegun 1964, 9.4.4 and 9.4.6; absolute error below 1e-7
_SMALL = (0.5, -0.56249985, 0.21093573, -0.03954289, 0.00443319, -0.00031761, 0.00001109)
_SIZE = (0.79788456, 0.00000156, 0.01659667, 0.00017105, -0.00249511, 0.00113653, -0.00020033)
_TURN = (-2.35619449, 0.12499612, 0.00005650, -0.00637879, 0.00074348, 0.00079824, -0.00029166)

_WIDEST = 12.0  # lambda/D: radius to which a star's image is followed
_FEW = 128
_HALF_DISC = 2.0 / (3.0 * np.pi)  # centre of mass of half a disc, in its diameter; geometry
_SPREADS = np.array([0.0, 0.35, 0.6, 1.0, 1.6, 2.6])  # lambda/D: how far a blur carries the light
_NOTHING = 1e-15  # smaller numbers only cost time


def transfer(setup: Setup, d_over_r0: ArrayLike) -> Floats:
    """Contrast passed by telescope and air, (..., 400) for seeings (...), at ``mtf_nodes``."""
    frequency, _ = mtf_nodes()
    optics = _optics(setup.telescope.obstruction_ratio, setup.telescope.figure)
    broken = np.asarray(d_over_r0, dtype=float)[..., None]
    passed = optics * atmosphere_mtf(frequency, broken, setup.settings.tilt_followed)
    return np.where(np.abs(passed) < _NOTHING, 0.0, passed)


@lru_cache(maxsize=4)
def _optics(obstruction_ratio: float, figure: Figure) -> Floats:
    """The telescope's own transfer function at ``mtf_nodes``, from fewer points: it is smooth."""
    frequency, _ = mtf_nodes()
    if not figure.profile:
        return instrument_mtf(frequency, obstruction_ratio, figure)
    few = np.linspace(0.0, 1.0, _FEW) ** 2  # closer where the curve is steep
    return np.asarray(np.interp(frequency, few, instrument_mtf(few, obstruction_ratio, figure)))


def stripe_weights(width: ArrayLike, window: ArrayLike) -> Floats:
    """Weights (400, ...) of a long stripe seen in a window along it, widths in lambda/D, broadcast.

    ``2 w integral of T sinc(f w) sinc(f W) df``; a narrow line keeps 0.8488 w in a perfect clear
    aperture. Source: the Fourier transform of a strip; exact.
    """
    w, wide = np.broadcast_arrays(np.asarray(width, float), np.asarray(window, float))
    f, line = _line_nodes(w.ndim)
    return np.asarray(2.0 * line * w * np.sinc(f * w) * np.sinc(f * wide))


def spot_weights(width: ArrayLike, window: ArrayLike) -> Floats:
    """Weights (400, ...) of a round spot seen in a round window, diameters in lambda/D, broadcast.

    ``2 pi (pi w^2 / 4) integral of T J(f w) J(f W) f df`` with J(x) = 2 J1(pi x) / (pi x); a small
    spot keeps 0.617 w^2 in a perfect clear aperture. Source: Hankel transform of a disc; exact.
    """
    w, wide = np.broadcast_arrays(np.asarray(width, float), np.asarray(window, float))
    frequency, area = mtf_nodes()
    f = frequency.reshape(-1, *[1] * w.ndim)
    weight = area.reshape(-1, *[1] * w.ndim)
    return np.asarray(np.pi**2 / 2.0 * w**2 * weight * airy(f * w) * airy(f * wide))


def rille_weights(width: float, windows: Floats) -> Floats:
    """Weights (400, W, X) of a rille in windows (W,) along it, at X places across.

    Half its width dark (-1) and half lit (+1):
    ``w integral of T sinc(f w/2) sinc(f W) [cos 2 pi f (x - w/4) - cos 2 pi f (x + w/4)] df``.
    The light is only moved, so an unresolved rille fades as the square of its width.
    Source: the Fourier transform of two strips; exact.
    """
    f, line = _line_nodes(2)
    x, off = _places(width), width / 4.0
    wave = np.cos(2.0 * np.pi * f * (x - off)) - np.cos(2.0 * np.pi * f * (x + off))
    strip = line * width * np.sinc(f * width / 2.0) * np.sinc(f * windows[:, None])
    return np.asarray(strip * wave)


def pit_weights(width: float, windows: Floats) -> Floats:
    """Weights (400, W, X) of a crater in round windows (W,), at X places along the light.

    Half of it dark (-1) and half lit (+1), each half taken as a round spot of its area,
    ``width / sqrt 2`` wide, about its centre of mass, ``2 / (3 pi)`` widths from the middle: right
    for a small crater, which fades as the cube of its width, and whole for a large one.
    Source: Hankel transforms of discs; against half discs within 10 % (tests).
    """
    frequency, area = mtf_nodes()
    f, weight = frequency[:, None, None], area[:, None, None]
    spot, off, x = width / np.sqrt(2.0), width * _HALF_DISC, _places(width)
    j0 = bessel_j0(2.0 * np.pi * frequency[:, None] * np.abs(np.concatenate([x - off, x + off])))
    wave = (j0[:, : len(x)] - j0[:, len(x) :])[:, None, :]
    round_spot = np.pi**2 / 2.0 * spot**2 * weight * airy(f * spot)
    return np.asarray(round_spot * airy(f * windows[:, None]) * wave)


def _places(width: float) -> Floats:
    """Where the light of a small or large pair of halves may be strongest, lambda/D."""
    return np.sqrt((width * _HALF_DISC) ** 2 + _SPREADS**2)


def blurred_bars(passed: Floats, edges: Floats, places: Floats) -> Floats:
    """A row of bars side by side after the blur, (..., P) at places (P,).

    ``passed`` (..., 400) at ``mtf_nodes``; ``edges`` (B, 3): from, to (lambda/D) and brightness.
    """
    f, line = _line_nodes(2)
    low, high, bright = edges.T
    width, middle = high - low, (low + high) / 2.0
    wave = np.cos(2.0 * np.pi * f * (places[:, None] - middle))
    weights = np.sum(2.0 * line * bright * width * np.sinc(f * width) * wave, axis=-1)
    return np.asarray(passed @ weights)


def image_width(passed: Floats, disc: float) -> Floats:
    """Full width at half maximum, lambda/D (S,), of the image of an even disc so many wide.

    ``passed`` (S, 400) at ``mtf_nodes``; 0 stands for a star.
    """
    frequency, _ = mtf_nodes()
    radius = np.linspace(0.0, _WIDEST + disc, 120)
    seen = (passed * airy(frequency * disc)) @ psf_matrix(radius, 0.0)
    after = np.argmax(seen < seen[:, :1] / 2.0, axis=1)
    rows = np.arange(len(seen))
    high, low = seen[rows, after - 1], seen[rows, after]
    share = (high - seen[:, 0] / 2.0) / (high - low)
    return np.asarray(2.0 * (radius[after - 1] + share * (radius[after] - radius[after - 1])))


def airy(x: ArrayLike) -> Floats:
    """``2 J1(pi x) / (pi x)``, 1 at 0; x 0 or more, any shape."""
    z = np.pi * np.asarray(x, dtype=float)
    near = np.minimum(z / 3.0, 1.0) ** 2
    small = np.polynomial.polynomial.polyval(near, _SMALL)
    far = np.maximum(z, 3.0)
    size, turn = (np.polynomial.polynomial.polyval(3.0 / far, c) for c in (_SIZE, _TURN))
    large = size * np.cos(far + turn) / far**1.5
    return np.asarray(2.0 * np.where(z < 3.0, small, large))


def _line_nodes(further_axes: int) -> tuple[Floats, Floats]:
    """Frequencies and plain weights df, with room for further axes."""
    frequency, weight = mtf_nodes()
    shape = (-1, *[1] * further_axes)
    return frequency.reshape(shape), (weight / frequency).reshape(shape)
