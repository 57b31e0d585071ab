"""Limits of extended objects, worked out once and looked up for thousands of objects."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from planner.eye.profile import (
    OUTLINES,
    RADIUS_STEP_DEX,
    Profile,
    ProfileLimit,
    Sizes,
    Views,
    enclosed_fraction,
    field_order,
    fitting_views,
    profile_limit,
)
from planner.eye.stars import EyeAtTelescope
from planner.eye.surface import patch_limit_mag

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]

_SKY_MU = np.arange(20, 261) * 0.1  # 2..26, step 0.1: full daylight to a black filter
_LEAST_LOG_SIZE = -2.5  # 0.2": smaller objects act as points
_SIZES = 111  # to 10^3 arcmin, in steps of RADIUS_STEP_DEX
_DIAMETERS = 10.0 ** (_LEAST_LOG_SIZE + RADIUS_STEP_DEX * np.arange(_SIZES))  # arcmin
_EXTRA = OUTLINES.size - 1  # smaller sizes that the outlines of the smallest object reach
ROUNDING = 1e-6  # of a power worked out in two ways
PAST_SHARE = 1e-3  # sets what is past the most power borne behind all else
NEAR_BEST_MAG = 0.3  # so small a loss is given up for the view preferred; own judgement


@dataclass(frozen=True, slots=True)
class Liking:
    """What an observer prefers among views that show an object about equally well.

    The power at which it looks ``looks_arcmin`` across, but with an exit pupil neither wider
    than ``widest_mm`` nor narrower than ``narrowest_mm``, and never more than ``most_power``
    while a lower one does as well. ``near_mag`` of threshold are given up for that, and
    ``held_share`` of the object's diameter has to fit the field.
    """

    looks_arcmin: float
    widest_mm: float
    narrowest_mm: float
    most_power: float = np.inf
    near_mag: float = NEAR_BEST_MAG
    held_share: float = 1.0

    def power(self, aperture_mm: float, diameter_arcmin: ArrayLike) -> Floats:
        """The power wanted with a clear aperture (mm) for mean diameters (arcmin), any shape."""
        wanted = self.looks_arcmin / np.asarray(diameter_arcmin, dtype=float)
        low, high = aperture_mm / self.widest_mm, aperture_mm / self.narrowest_mm
        return np.asarray(np.minimum(np.clip(wanted, min(low, high), high), self.most_power))

    def nearness(
        self, aperture_mm: float, exit_pupil_mm: ArrayLike, diameter_arcmin: ArrayLike
    ) -> Floats:
        """How near views come to the power wanted, as a ratio: 1 for that power.

        What is past the most power that is borne comes behind all else, the lowest first.
        Exit pupils and diameters broadcast.
        """
        powers = aperture_mm / np.asarray(exit_pupil_mm, dtype=float)
        share = powers / self.power(aperture_mm, diameter_arcmin)
        past = powers > self.most_power * (1.0 + ROUNDING)
        return np.where(past, PAST_SHARE, 1.0) * np.minimum(share, 1.0 / share)


@dataclass(frozen=True, slots=True)
class MarginTable:
    """Limits of one profile for one eye and its views, over size and sky.

    ``limits`` and ``choice`` (V, sizes, skies): the best limit of the k + 1 views with the
    widest fields, and the one preferred of those near it. Make it with ``margin_table``.
    """

    profile: Profile
    eye: EyeAtTelescope
    views: Views
    liking: Liking
    limits: Floats
    choice: NDArray[np.int16]

    def limit(self, sizes: Sizes, sky_mag: ArrayLike) -> ProfileLimit:
        """Faintest objects, as ``profile_limit`` gives them, within 0.03 mag.

        Straight lines between the table's sizes and skies; the view is that of the nearest
        entry, and shows what the best does but for 0.3 mag. Objects that overflow every field
        are worked out for the table's skies that occur.

        ``sizes``: (N,); ``sky_mag``: (N, T) or what broadcasts to it; below 2 and above 26
        taken as 2 and 26. NaN gives NaN.
        """
        major = np.asarray(sizes.major_arcmin, dtype=float)
        minor = np.asarray(sizes.minor_arcmin, dtype=float)
        sky = np.asarray(sky_mag, dtype=float)
        sky = np.broadcast_to(sky, np.broadcast_shapes((major.size, 1), sky.shape))
        fits = fitting_views(self.views, self.liking.held_share * major)
        unknown = np.isnan(major) | np.isnan(minor)
        overflows = (fits == 0) & ~unknown
        limit, index = self._look_up(np.where(unknown, np.nan, np.sqrt(major * minor)), fits, sky)
        rows = np.flatnonzero(overflows)
        if rows.size:
            limit[rows], index[rows] = self._overflowing(Sizes(major[rows], minor[rows]), sky[rows])
        return ProfileLimit(limit, np.where(np.isnan(limit), -1, index), overflows)

    def _overflowing(self, sizes: Sizes, sky: Floats) -> tuple[Floats, NDArray[np.intp]]:
        """Limit and view of objects larger than every field, (n, T), by the skies there are."""
        if np.isnan(sky).all():
            return np.full(sky.shape, np.nan), np.full(sky.shape, -1, dtype=np.intp)
        low, high = np.searchsorted(_SKY_MU, (np.nanmin(sky), np.nanmax(sky)))
        skies = _SKY_MU[max(low - 1, 0) : high + 1]
        axes = np.stack([sizes.major_arcmin, sizes.minor_arcmin])
        (major, minor), which = np.unique(axes, axis=1, return_inverse=True)
        found = profile_limit(self.profile, Sizes(major, minor), self.eye, self.views, skies)
        limits = np.maximum.accumulate(found.limit_mag, axis=1)
        limit = np.empty(sky.shape)
        for number, known in enumerate(limits):
            rows = np.flatnonzero(which == number)
            limit[rows] = np.interp(sky[rows], skies, known)
        limit[np.isnan(sky)] = np.nan
        return limit, np.broadcast_to(found.view_index[which, :1], sky.shape)

    def _look_up(
        self, diameter: Floats, fits: NDArray[np.intp], sky: Floats
    ) -> tuple[Floats, NDArray[np.intp]]:
        """Limit and view of objects, (N, T), by their mean diameter (N,) and sky (N, T)."""
        known = np.where(diameter > 0.0, diameter, 1.0)
        place = (np.log10(known) - _LEAST_LOG_SIZE) / RADIUS_STEP_DEX
        place = np.clip(place, 0.0, _SIZES - 1.001)
        low = place.astype(np.intp)
        part = (place - low)[:, None]
        rank = np.maximum(fits, 1) - 1
        rows = (1.0 - part) * self.limits[rank, low] + part * self.limits[rank, low + 1]
        rows[np.isnan(diameter)] = np.nan
        choices = self.choice[rank, np.rint(place).astype(np.intp)]
        column = np.clip((sky - _SKY_MU[0]) / 0.1, 0.0, _SKY_MU.size - 1.001)
        left = np.where(np.isnan(column), 0.0, column).astype(np.intp)
        start = left + (np.arange(len(rows)) * _SKY_MU.size)[:, None]
        below = rows.ravel()[start]
        limit = below + (column - left) * (rows.ravel()[start + 1] - below)
        nearest = start + (column - left > 0.5)
        return limit, choices.ravel()[nearest].astype(np.intp)


@lru_cache(maxsize=64)  # the same for every profile; 0.3 MB a view
def _patches(eye: EyeAtTelescope, exit_pupil_mm: float) -> Floats:
    """Limits of uniform patches in one view, (extra + sizes, skies)."""
    log_size = _LEAST_LOG_SIZE + RADIUS_STEP_DEX * np.arange(-_EXTRA, _SIZES)
    area = 0.25 * np.pi * 10.0 ** (2.0 * log_size)
    return patch_limit_mag(eye, exit_pupil_mm, _SKY_MU, area[:, None])


@lru_cache(maxsize=128)  # the same for every liking; 0.2 MB a view
def _profile_limits(profile: Profile, eye: EyeAtTelescope, exit_pupil_mm: float) -> Floats:
    """Limits of one view, (sizes, skies): best over outlines, each a shift of the size grid."""
    patches = _patches(eye, exit_pupil_mm)
    dimming = 2.5 * np.log10(enclosed_fraction(profile, OUTLINES))
    best = np.full((_SIZES, _SKY_MU.size), -np.inf)
    for step in range(OUTLINES.size):
        inside = patches[_EXTRA - step : _EXTRA - step + _SIZES]
        np.maximum(best, inside + dimming[step], out=best)
    return best


def margin_table(
    profile: Profile, eye: EyeAtTelescope, views: Views, liking: Liking
) -> MarginTable:
    """Work out the table of one profile for one eye and its views.

    The views are taken from the widest true field on, and after each the best limit so far
    is kept: an object then needs only the entry of the last view whose field holds it. Of
    views near the best (0.3 mag if not said otherwise) the one nearest to the power liked, by
    ratio, is chosen.
    Source: see ``profile_limit``.
    """
    order = field_order(views)
    each = np.stack(
        [_profile_limits(profile, eye, float(views.exit_pupil_mm[view])) for view in order]
    )
    limits = np.maximum.accumulate(each, axis=0)
    pupils = np.asarray(views.exit_pupil_mm, dtype=float)[order, None]
    nearness = liking.nearness(eye.aperture_mm, pupils, _DIAMETERS)[:, :, None]
    choice = np.empty(limits.shape, dtype=np.int16)
    for rank in range(len(order)):
        near = each[: rank + 1] >= limits[rank] - liking.near_mag
        choice[rank] = order[np.where(near, nearness[: rank + 1], -1.0).argmax(axis=0)]
    limits = np.maximum.accumulate(limits, axis=-1)  # a darker sky never hides
    return MarginTable(profile, eye, views, liking, limits, choice)


@dataclass(frozen=True, slots=True, eq=False)
class Standing:
    """How each view (V,) stands where the table chooses among them for one object.

    ``lost_mag`` of threshold against the best, infinite where the object does not fit, and
    ``nearness`` to the power liked. Chosen is the nearest of those that lose no more than the
    liking gives up.
    """

    lost_mag: Floats
    nearness: Floats


def view_standing(table: MarginTable, axes_arcmin: tuple[float, float], sky_mag: float) -> Standing:
    """How the views stand at the table's nearest entry for the axes and the sky."""
    major, minor = axes_arcmin
    size = round((0.5 * np.log10(major * minor) - _LEAST_LOG_SIZE) / RADIUS_STEP_DEX)
    size = min(max(size, 0), _SIZES - 1)
    column = int(np.argmin(np.abs(_SKY_MU - sky_mag)))
    pupils = np.asarray(table.views.exit_pupil_mm, dtype=float)
    limits = np.array(
        [_profile_limits(table.profile, table.eye, float(p))[size, column] for p in pupils]
    )
    fits = int(fitting_views(table.views, table.liking.held_share * major))
    held = np.isin(np.arange(len(pupils)), field_order(table.views)[:fits])
    best = limits[held].max(initial=-np.inf)
    return Standing(
        lost_mag=np.where(held, best - limits, np.inf),
        nearness=table.liking.nearness(table.eye.aperture_mm, pupils, _DIAMETERS[size]),
    )
