"""Galaxies, clusters and nebulae with a bright middle: how faint they may be to be seen.

A catalogue's diameter takes in more than the eye sees. So the question is asked of every
part of the object inside a smaller outline, and the best answer counts.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from functools import partial
from math import factorial
from typing import TYPE_CHECKING

import numpy as np

from planner.errors import ModelRangeError
from planner.eye.stars import EyeAtTelescope
from planner.eye.surface import patch_limit_mag

if TYPE_CHECKING:
    from collections.abc import Callable

    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

FIELD_SHARE = 0.9  # an object fits a view when no wider than this; common practice, no source
DISC_SCALES = 3.1  # catalogue radius over scale length; Freeman 1970, ApJ 160, 811
# Bulge's share of a spiral's light: means of Simien & de Vaucouleurs 1986, ApJ 302, 564 (memory)
STRONG_BULGE_SHARE, BULGE_SHARE, WEAK_BULGE_SHARE = 0.40, 0.20, 0.07
BULGE_SCALES = 15.0  # catalogue radius over the bulge's half-light radius; rough, M 31 has 20
STEEP_SCALES = 3.4  # catalogue radius over half-light radius: 25 mag/arcsec^2 at mu_e = 22
GLOBULAR_SCALES = 5.5  # the same for globular clusters: median of handbook sizes (from memory)
RADIUS_STEP_DEX = 0.05  # between the outlines tried
OUTLINES = 10.0 ** (-RADIUS_STEP_DEX * np.arange(51))  # as shares of the catalogue radius


class Profile(StrEnum):
    """How the light of an object falls off from its middle.

    ``UNIFORM``: planetary nebulae, open clusters as a glow. ``EXPONENTIAL_DISC``: late spirals,
    irregular and dwarf galaxies, nebulae. ``WEAK_BULGE``: Sc, gas lit from inside; ``BULGE``: Sb
    and Sbc; ``STRONG_BULGE``: S0/a to Sab. ``STEEP``: ellipticals and lenticulars; ``GLOBULAR``:
    the same, more concentrated.
    """

    UNIFORM = "uniform"
    EXPONENTIAL_DISC = "exponential disc"
    WEAK_BULGE = "disc with a weak bulge"
    BULGE = "disc with a bulge"
    STRONG_BULGE = "disc with a strong bulge"
    STEEP = "steep"
    GLOBULAR = "globular cluster"


def _uniform(share: Floats) -> Floats:
    return np.minimum(share, 1.0) ** 2


def _exponential(share: Floats) -> Floats:
    x = DISC_SCALES * share
    return np.asarray(-np.expm1(-x) - x * np.exp(-x))


def _bulge_disc(share: Floats, bulge_share: float) -> Floats:
    bulge = _de_vaucouleurs(BULGE_SCALES * share)
    return np.asarray(bulge_share * bulge + (1.0 - bulge_share) * _exponential(share))


def _steep(share: Floats, scales: float) -> Floats:
    return _de_vaucouleurs(scales * share)


def _de_vaucouleurs(half_light_radii: Floats) -> Floats:
    z = 7.669 * half_light_radii**0.25
    terms = np.stack([z**n / factorial(n) for n in range(8)])
    return np.asarray(1.0 - np.exp(-z) * terms.sum(axis=0))


_ENCLOSED: dict[Profile, Callable[[Floats], Floats]] = {
    Profile.UNIFORM: _uniform,
    Profile.EXPONENTIAL_DISC: _exponential,
    Profile.WEAK_BULGE: partial(_bulge_disc, bulge_share=WEAK_BULGE_SHARE),
    Profile.BULGE: partial(_bulge_disc, bulge_share=BULGE_SHARE),
    Profile.STRONG_BULGE: partial(_bulge_disc, bulge_share=STRONG_BULGE_SHARE),
    Profile.STEEP: partial(_steep, scales=STEEP_SCALES),
    Profile.GLOBULAR: partial(_steep, scales=GLOBULAR_SCALES),
}


def enclosed_fraction(profile: Profile, radius_share: ArrayLike) -> Floats:
    """Share of an object's light inside an outline, 0..1.

    Uniform ``s^2``; disc ``1 - (1 + x) e^-x``, x = 3.1 s; steep: de Vaucouleurs' R^1/4 law,
    ``1 - e^-z sum_{n<8} z^n / n!``, z = 7.669 (3.4 s)^1/4, for globular clusters
    5.5 s; discs with a bulge: 0.07, 0.20 or 0.40 of the light by that law with 15 s, the rest a
    disc.

    ``radius_share``: s, radius of the outline over the catalogue's, from 0, scalar or array.
    Source: Freeman 1970, ApJ 160, 811; de Vaucouleurs 1948, Ann. d'Astrophys. 11, 247.
    Limits: the 3.4 belongs to an elliptical of middling surface brightness; real ones run
    from 2.4 to 4.8, globular clusters from 3 to 9.
    """
    return _ENCLOSED[profile](np.asarray(radius_share, dtype=float))


@dataclass(frozen=True, slots=True)
class Views:
    """The views at hand, two arrays (V,): exit pupil in mm, true field in degrees.

    The power is the aperture over the exit pupil.
    Raises: ModelRangeError when there is none, or the arrays differ in length.
    """

    exit_pupil_mm: Floats
    true_field_deg: Floats

    def __post_init__(self) -> None:
        """Refuse an empty or uneven set."""
        pupils, fields = np.shape(self.exit_pupil_mm), np.shape(self.true_field_deg)
        if pupils != fields or len(pupils) != 1 or pupils[0] == 0:
            raise ModelRangeError("views need two arrays of one length, at least one view")


@dataclass(frozen=True, slots=True)
class Sizes:
    """Catalogue axes of N objects, arcmin, full widths, arrays (N,)."""

    major_arcmin: Floats
    minor_arcmin: Floats


@dataclass(frozen=True, slots=True)
class ProfileLimit:
    """Faintest objects and the views that show them.

    ``limit_mag`` (N, T): faintest total V magnitude as it reaches the ground; the margin is
    this less the dimmed magnitude. NaN where sky or size is NaN. ``view_index`` (N, T): into
    the views, -1 where NaN. ``overflows`` (N,): larger than 0.9 of every field, so that only
    the part inside a field counts.
    """

    limit_mag: Floats
    view_index: NDArray[np.intp]
    overflows: NDArray[np.bool_]


def field_order(views: Views) -> NDArray[np.intp]:
    """Indices of the views from the widest true field to the narrowest."""
    return np.argsort(-np.asarray(views.true_field_deg, dtype=float), kind="stable")


def fitting_views(views: Views, major_arcmin: ArrayLike) -> NDArray[np.intp]:
    """How many views, in ``field_order``, have each object within 0.9 of their field."""
    fields = FIELD_SHARE * 60.0 * np.sort(np.asarray(views.true_field_deg, dtype=float))
    too_narrow = np.searchsorted(fields, np.asarray(major_arcmin, dtype=float), side="left")
    return np.asarray(len(fields) - too_narrow, dtype=np.intp)


def view_limit_mag(
    profile: Profile,
    eye: EyeAtTelescope,
    exit_pupil_mm: float,
    axes_arcmin: tuple[Floats, Floats, Floats],
    sky_mag: Floats,
) -> Floats:
    """Limit in one view: best over outlines; (N, T) from sizes (N,) and sky (N, T).

    ``axes_arcmin``: major, minor and the largest major axis counted, which is the object's
    own or what the field leaves of it.
    """
    major, minor, widest = (np.asarray(a, dtype=float)[:, None] for a in axes_arcmin)
    share = np.minimum(widest / major, 1.0) * OUTLINES
    area = 0.25 * np.pi * major * minor * share**2
    dimming = 2.5 * np.log10(enclosed_fraction(profile, share))
    limit = patch_limit_mag(eye, exit_pupil_mm, sky_mag[:, None, :], area[:, :, None])
    return np.asarray((limit + dimming[:, :, None]).max(axis=1))


def profile_limit(
    profile: Profile, sizes: Sizes, eye: EyeAtTelescope, views: Views, sky_mag: ArrayLike
) -> ProfileLimit:
    """Faintest objects of a profile, worked out directly for every view and outline.

    Largest over views that hold the object and over outlines s of
    ``patch_limit(pi/4 a b s^2) + 2.5 log10 enclosed_fraction(s)``. Where none holds it, over
    all views, each with the part inside 0.9 of its field; named is the widest all the same.

    ``sizes``: (N,); ``sky_mag``: V mag/arcsec^2, (N, T) or what broadcasts to it.
    Slow: for a few objects and as the reference of ``MarginTable``.
    Source: Crumey 2014, MNRAS 442, 2600, sect. 5 (outlines), eq 88.
    Limits: about 0.5 mag. Of objects longer than 7 widths less is seen. Emission nebulae
    and the stars of clusters are other questions.
    """
    major = np.asarray(sizes.major_arcmin, dtype=float)
    minor = np.asarray(sizes.minor_arcmin, dtype=float)
    sky = np.asarray(sky_mag, dtype=float)
    shape = np.broadcast_shapes((major.size, 1), sky.shape)
    best = np.full(shape, -np.inf)
    index = np.zeros(shape, dtype=np.intp)
    fits = fitting_views(views, major)
    order = field_order(views)
    for rank, view in enumerate(order):
        rows = np.flatnonzero((fits > rank) | (fits == 0))
        within = FIELD_SHARE * 60.0 * float(views.true_field_deg[view])
        axes = (major[rows], minor[rows], np.minimum(major[rows], within))
        skies = np.broadcast_to(sky, shape)[rows]
        limit = view_limit_mag(profile, eye, float(views.exit_pupil_mm[view]), axes, skies)
        named = np.where(fits[rows, None] == 0, order[0], view)
        index[rows] = np.where(limit > best[rows], named, index[rows])
        best[rows] = np.maximum(best[rows], limit)
    unknown = np.isnan(best)
    return ProfileLimit(best, np.where(unknown, -1, index), (fits == 0) & ~np.isnan(major))
