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
_EXTRA = OUTLINES.size - 1  # smaller sizes that the outlines of the smallest object reach
NEAR_BEST_MAG = 0.2  # so small a loss is given up for a handier view; own judgement
LARGE_ENOUGH_ARCMIN = 90.0  # as seen: a smaller object shows no shape; own judgement
EASY_MAG = 1.0  # threshold given up for the liked view where there is much more; own judgement
GLOBULAR_EXIT_PUPIL_MM = 1.3  # where its stars come out; common practice, no source
GALAXY_EXIT_PUPIL_MM = 2.0  # contrast and size together; common practice, no source
_LIKED_MM = {
    Profile.GLOBULAR: GLOBULAR_EXIT_PUPIL_MM,
    **dict.fromkeys(
        (Profile.BULGE, Profile.STRONG_BULGE, Profile.STEEP, Profile.WEAK_BULGE,
         Profile.EXPONENTIAL_DISC),
        GALAXY_EXIT_PUPIL_MM,
    ),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class MarginTable:
    """Limits of one profile for one eye and its views, over size and sky.

    ``limits`` and ``choice`` (V, sizes, skies): the best limit of the k + 1 views with the
    widest fields, and the handiest of those that come near it; ``liked`` the one an observer
    likes of those within a magnitude of it. Make it with ``margin_table``.
    """

    profile: Profile
    eye: EyeAtTelescope
    views: Views
    limits: Floats
    choice: NDArray[np.int16]
    liked: NDArray[np.int16]

    def limit(self, sizes: Sizes, sky_mag: ArrayLike) -> ProfileLimit:
        """Faintest objects, as ``profile_limit`` gives them, within 0.03 mag.

        Straight lines between the table's sizes and skies; the view is that of the nearest
        entry, and shows what the best does but for 0.2 mag. Objects that overflow every field
        are worked out for the table's skies that occur.

        ``sizes``: (N,); ``sky_mag``: (N, T) or what broadcasts to it; below 2 and above 26
        taken as 2 and 26. NaN gives NaN.
        """
        major = np.asarray(sizes.major_arcmin, dtype=float)
        minor = np.asarray(sizes.minor_arcmin, dtype=float)
        sky = np.asarray(sky_mag, dtype=float)
        sky = np.broadcast_to(sky, np.broadcast_shapes((major.size, 1), sky.shape))
        fits = fitting_views(self.views, major)
        unknown = np.isnan(major) | np.isnan(minor)
        overflows = (fits == 0) & ~unknown
        mean = np.where(unknown, np.nan, np.sqrt(major * minor))
        limit, index, liked = self._look_up(mean, fits, sky)
        rows = np.flatnonzero(overflows)
        if rows.size:
            limit[rows], index[rows] = self._overflowing(Sizes(major[rows], minor[rows]), sky[rows])
            liked[rows] = index[rows]
        none = np.isnan(limit)
        return ProfileLimit(limit, np.where(none, -1, index), overflows, np.where(none, -1, liked))

    def _overflowing(self, sizes: Sizes, sky: Floats) -> tuple[Floats, NDArray[np.intp]]:
        """Limit and view of objects larger than every field, (n, T), by the skies there are."""
        if np.isnan(sky).all():
            return np.full(sky.shape, np.nan), np.full(sky.shape, -1, dtype=np.intp)
        low, high = np.searchsorted(_SKY_MU, (np.nanmin(sky), np.nanmax(sky)))
        skies = _SKY_MU[max(low - 1, 0) : high + 1]
        found = profile_limit(self.profile, sizes, self.eye, self.views, skies)
        limits = np.maximum.accumulate(found.limit_mag, axis=1)
        rows = zip(sky, limits, strict=True)
        limit = np.array([np.interp(mu, skies, known) for mu, known in rows])
        limit[np.isnan(sky)] = np.nan
        return limit, np.broadcast_to(found.view_index[:, :1], sky.shape)

    def _look_up(
        self, diameter: Floats, fits: NDArray[np.intp], sky: Floats
    ) -> tuple[Floats, NDArray[np.intp], NDArray[np.intp]]:
        """Limit, view and liked view of objects, (N, T), by mean diameter (N,) and sky (N, T)."""
        known = np.where(diameter > 0.0, diameter, 1.0)
        place = (np.log10(known) - _LEAST_LOG_SIZE) / RADIUS_STEP_DEX
        place = np.clip(place, 0.0, _SIZES - 1.001)
        low = place.astype(np.intp)
        part = (place - low)[:, None]
        rank = np.maximum(fits, 1) - 1
        rows = (1.0 - part) * self.limits[rank, low] + part * self.limits[rank, low + 1]
        rows[np.isnan(diameter)] = np.nan
        entry = rank, np.rint(place).astype(np.intp)
        column = np.clip((sky - _SKY_MU[0]) / 0.1, 0.0, _SKY_MU.size - 1.001)
        left = np.where(np.isnan(column), 0.0, column).astype(np.intp)
        start = left + (np.arange(len(rows)) * _SKY_MU.size)[:, None]
        below = rows.ravel()[start]
        limit = below + (column - left) * (rows.ravel()[start + 1] - below)
        nearest = start + (column - left > 0.5)
        chosen, liked = (
            views[entry].ravel()[nearest].astype(np.intp) for views in (self.choice, self.liked)
        )
        return limit, chosen, liked


@lru_cache(maxsize=64)  # the same for every profile; 0.3 MB a view
def _patches(eye: EyeAtTelescope, exit_pupil_mm: float) -> Floats:
    """Limits of uniform patches in one view, (extra + sizes, skies)."""
    log_size = _LEAST_LOG_SIZE + RADIUS_STEP_DEX * np.arange(-_EXTRA, _SIZES)
    area = 0.25 * np.pi * 10.0 ** (2.0 * log_size)
    return patch_limit_mag(eye, exit_pupil_mm, _SKY_MU, area[:, None])


def _profile_limits(profile: Profile, eye: EyeAtTelescope, exit_pupil_mm: float) -> Floats:
    """Limits of one view, (sizes, skies): best over outlines, each a shift of the size grid."""
    patches = _patches(eye, exit_pupil_mm)
    dimming = 2.5 * np.log10(enclosed_fraction(profile, OUTLINES))
    best = np.full((_SIZES, _SKY_MU.size), -np.inf)
    for step in range(OUTLINES.size):
        inside = patches[_EXTRA - step : _EXTRA - step + _SIZES]
        np.maximum(best, inside + dimming[step], out=best)
    return best


def margin_table(profile: Profile, eye: EyeAtTelescope, views: Views) -> MarginTable:
    """Work out the table of one profile for one eye and its views.

    The views are taken from the widest true field on, and after each the best limit so far
    is kept: an object then needs only the entry of the last view whose field holds it. Of
    views within 0.2 mag of the best the one with the widest field in which the object looks
    1.5 degrees across is chosen, else the highest power; for galaxies and globular clusters the
    one nearest to the exit pupil they are liked at.
    Source: see ``profile_limit``.
    """
    order = field_order(views)
    each = np.stack(
        [_profile_limits(profile, eye, float(views.exit_pupil_mm[view])) for view in order]
    )
    limits = np.maximum.accumulate(each, axis=0)
    choice = np.full(limits.shape, order[0], dtype=np.int16)
    powers = (eye.aperture_mm / np.asarray(views.exit_pupil_mm, dtype=float))[order]
    diameter = 10.0 ** (_LEAST_LOG_SIZE + RADIUS_STEP_DEX * np.arange(_SIZES))
    large = powers[:, None] * diameter >= LARGE_ENOUGH_ARCMIN
    away = np.abs(np.log(np.asarray(views.exit_pupil_mm)[order] / _LIKED_MM.get(profile, 1.0)))
    by_power = np.argsort(-powers, kind="stable")[::-1]
    by_liking = np.argsort(-away, kind="stable")
    liked = choice.copy()
    for rank, (chosen, best_liked) in enumerate(zip(choice, liked, strict=True)):
        near = each[: rank + 1] >= limits[rank] - NEAR_BEST_MAG
        easy = each[: rank + 1] >= limits[rank] - EASY_MAG
        if profile in _LIKED_MM:
            _last_where(chosen, order, by_liking[by_liking <= rank], near)
            _last_where(best_liked, order, by_liking[by_liking <= rank], easy)
            continue
        _last_where(chosen, order, by_power[by_power <= rank], near)
        _last_where(chosen, order, np.arange(rank, -1, -1), near & large[: rank + 1, :, None])
        best_liked[:] = chosen
    limits = np.maximum.accumulate(limits, axis=-1)  # a darker sky never hides
    return MarginTable(profile, eye, views, limits, choice, liked)


def _last_where(
    chosen: NDArray[np.int16],
    order: NDArray[np.intp],
    places: NDArray[np.intp],
    fine: NDArray[np.bool_],
) -> None:
    """Write into ``chosen`` the last of the places, views in ``order``, that is fine."""
    for place in places:
        np.copyto(chosen, order[place], where=fine[place], casting="same_kind")
