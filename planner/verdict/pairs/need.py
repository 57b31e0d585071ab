"""The faintest companion that each class allows, over separation, seeing and blur."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.verdict.pairs.criteria import ELONGATED_AXIS_RATIO
from planner.verdict.pairs.profiles import RADII, StarImages, at_radius

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Singles = NDArray[np.float32]

SEPARATION_COUNT = 150
SEPARATIONS = np.geomspace(0.3, 60.0, SEPARATION_COUNT)  # lambda/D
CREST_SHIFTS = (0.0, 0.02, 0.05, 0.09, 0.14, 0.20, 0.28)  # crest inside the separation, shares
VALLEY_POINTS = 17  # places tried for the valley, between the middle and the crest
HARDEST_RATIO = 30.0  # flux ratio beyond which "never" begins; above 1 for interpolation only
SIGMA_OVER_FWHM = 1.0 / np.sqrt(8.0 * np.log(2.0))  # Gaussian


def dip_need(images: StarImages, dips: Sequence[float]) -> Singles:
    """Flux ratio (D, N, S, B) from which a gap of each depth opens.

    Valley <= (1 - d) crest is linear in the ratio: on the line through both stars
    ``q = (E(x1) - (1-d) E(x2)) / ((1-d) P(s-x2) - P(s-x1))``, valley x1 in s/2..x2, crest x2
    a little inside the companion's place; the easiest of all such places counts.
    """
    shape = (len(dips), SEPARATION_COUNT, *images.profile.shape[1:])
    need = np.full(shape, HARDEST_RATIO, dtype=np.float32)
    for shift in CREST_SHIFTS:
        crest = SEPARATIONS * (1.0 - shift)
        crest_first = at_radius(images.filled, crest)
        crest_second = at_radius(images.profile, SEPARATIONS - crest)
        for share in np.linspace(0.0, 1.0, VALLEY_POINTS)[:-1]:
            valley = 0.5 * SEPARATIONS + share * (crest - 0.5 * SEPARATIONS)
            valley_first = at_radius(images.filled, valley)
            valley_second = at_radius(images.profile, SEPARATIONS - valley)
            for i, dip in enumerate(dips):
                keep = np.float32(1.0 - dip)
                gain = keep * crest_second - valley_second
                ratio = (valley_first - keep * crest_first) / np.maximum(gain, 1e-9)
                np.minimum(need[i], ratio, out=need[i])
    return need


def contrast_need(images: StarImages, veil: Floats, weight: float) -> Singles:
    """Flux ratio (V, N, S, B) at which the companion stands out of halo and glare.

    ``q = W (E(s) + G) / P(0)``. ``veil`` (V, N) is G, the eye's glare over the peak of a
    perfect image, at each view and separation. ``weight`` is W; it exceeds 1 because the halo
    is made of moving speckles as bright as itself.
    """
    halo = at_radius(images.filled, SEPARATIONS)
    light = (halo + veil[:, :, None, None].astype(np.float32)) / images.profile[0]
    return np.asarray(light * np.float32(weight))


def core_variance(images: StarImages) -> Floats:
    """Square of the core's Gaussian width (S, B), (lambda/D)^2, from its FWHM."""
    below = images.profile < 0.5 * images.profile[0]
    after = np.argmax(below, axis=0)[None]
    outer = np.take_along_axis(images.profile, after, axis=0)[0].astype(float)
    inner = np.take_along_axis(images.profile, after - 1, axis=0)[0].astype(float)
    part = (inner - 0.5 * images.profile[0]) / (inner - outer)
    half = RADII[after[0] - 1] + part * (RADII[after[0]] - RADII[after[0] - 1])
    return np.asarray((2.0 * half * SIGMA_OVER_FWHM) ** 2)


def elongation_variance(separation: Floats, ratio: Floats) -> Floats:
    """Greatest core variance, (lambda/D)^2, at which a pair still looks elongated; broadcast.

    From ``axis ratio^2 = 1 + q/(1+q)^2 (s/sigma)^2``, the variance of two Gaussians apart.
    """
    spread = ratio / (1.0 + ratio) ** 2 * separation**2
    return np.asarray(spread / (ELONGATED_AXIS_RATIO**2 - 1.0))
