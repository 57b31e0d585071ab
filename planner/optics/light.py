"""How much light reaches the eye, and how much of the aperture the eye can use."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

LEAST_THROUGHPUT = 1e-6  # 15 mag, black to any eye: only keeps the logarithm finite


def light_grasp(
    aperture_mm: ArrayLike, eye_pupil_mm: ArrayLike, throughput: ArrayLike = 1.0
) -> Floats:
    """How many times more starlight than the bare eye: ``throughput (D / p)^2``.

    ``aperture_mm`` clear aperture and ``eye_pupil_mm`` dark pupil in mm, above 0;
    ``throughput`` 0..1 (mirrors, lenses, obstruction); scalars or arrays, broadcast. Holds
    while the whole exit pupil enters the eye. Source: common practice, no source.
    """
    ratio = np.asarray(aperture_mm, dtype=float) / np.asarray(eye_pupil_mm, dtype=float)
    return np.asarray(np.asarray(throughput, dtype=float) * ratio**2)


def used_aperture_mm(
    aperture_mm: ArrayLike, exit_pupil_mm: ArrayLike, eye_pupil_mm: ArrayLike
) -> Floats:
    """The aperture whose light enters the eye, mm: ``D min(1, p / d)``.

    Aperture ``D``, exit pupil ``d`` and eye pupil ``p`` in mm, above 0, scalars or arrays,
    broadcast. Where the exit pupil is wider than the eye's, the iris stops the telescope down.
    Source: common practice, no source.
    """
    share = np.asarray(eye_pupil_mm, dtype=float) / np.asarray(exit_pupil_mm, dtype=float)
    return np.asarray(np.asarray(aperture_mm, dtype=float) * np.minimum(1.0, share))


def wasted_aperture_mm(
    aperture_mm: ArrayLike, exit_pupil_mm: ArrayLike, eye_pupil_mm: ArrayLike
) -> Floats:
    """The aperture that the iris cuts off, mm; 0 while the exit pupil fits into the eye."""
    used = used_aperture_mm(aperture_mm, exit_pupil_mm, eye_pupil_mm)
    return np.asarray(np.asarray(aperture_mm, dtype=float) - used)


def throughput_through_iris(
    transmission: ArrayLike,
    obstruction_ratio: ArrayLike,
    exit_pupil_mm: ArrayLike,
    eye_pupil_mm: ArrayLike,
) -> Floats:
    """Share, 0..1, of the light in the used part of the exit pupil that gets through.

    ``T (1 - (min(e d, p) / min(d, p))^2)``. An iris cuts the outer part of the exit pupil
    while the secondary's shadow stays in the middle, so a too wide exit pupil makes the
    shadow weigh more. ``transmission`` T and ``obstruction_ratio`` e 0..1, exit pupil ``d`` and
    eye pupil ``p`` in mm, above 0; scalars or arrays, broadcast. The eye is centred.
    Source: geometry; Crumey 2014, MNRAS 442, 2600, sec. 2 uses the same pupil sizes.
    """
    d = np.asarray(exit_pupil_mm, dtype=float)
    p = np.asarray(eye_pupil_mm, dtype=float)
    shadow = np.minimum(np.asarray(obstruction_ratio, dtype=float) * d, p) / np.minimum(d, p)
    return np.asarray(np.asarray(transmission, dtype=float) * (1.0 - shadow**2))


def sky_dimming_mag(
    exit_pupil_mm: ArrayLike, eye_pupil_mm: ArrayLike, throughput: ArrayLike = 1.0
) -> Floats:
    """How much darker than to the bare eye the sky looks, mag: ``-2.5 log10(T (min(d,p)/p)^2)``.

    Exit pupil ``d`` and eye pupil ``p`` in mm, above 0; ``throughput`` T 0..1; scalars or arrays,
    broadcast. Every extended thing dims alike, so contrast does not change.
    Source: Crumey 2014, MNRAS 442, 2600, eq. 66.
    Limits: a throughput below a millionth, as where the secondary's shadow fills the eye's
    pupil, counts as a millionth, so that the answer stays finite.
    """
    d = np.asarray(exit_pupil_mm, dtype=float)
    p = np.asarray(eye_pupil_mm, dtype=float)
    passed = np.maximum(np.asarray(throughput, dtype=float), LEAST_THROUGHPUT)
    share = passed * (np.minimum(d, p) / p) ** 2
    return np.asarray(-2.5 * np.log10(share) + 0.0)  # + 0.0 turns -0 into 0
