"""Stars that move: which of one list come near the places of another, each at its own epoch."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from planner.angles import unit_vectors
from planner.constants import ARCSEC_PER_RADIAN
from planner.importers.near import near_places
from planner.targets.pairs import MAS_PER_DEG

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.targets.pairs import Pairs

    Floats = NDArray[np.float64]
    Integers = NDArray[np.int64]

# Searched apart from the rest, so that the few that need a wide search do not slow the others.
NARROW_ARCSEC, SLOW_ARCSEC = 20.0, 10.0
# Where no epoch of a place is stated: from Hipparcos to today's lists.
EARLIEST_YR, LATEST_YR = 1991.25, 2025.0


@dataclass(frozen=True, slots=True)
class Tracks:
    """N stars on straight ways: unit vectors (N, 3) at ``epoch_yr`` (N,), and their motion.

    ``motion`` (N, 3) is in radians a year, NaN where it is not known.
    """

    place: Floats
    motion: Floats
    epoch_yr: Floats


@dataclass(frozen=True, slots=True)
class Spots:
    """N places that are looked for: unit vectors (N, 3), each off by ``error_arcsec`` at the most.

    The place belongs to some year from ``first_yr`` to ``last_yr``. ``motion`` is that of the
    star itself, as in ``Tracks``.
    """

    place: Floats
    motion: Floats
    first_yr: Floats
    last_yr: Floats
    error_arcsec: Floats


def tracks_of(pairs: Pairs) -> Tracks:
    """The primaries of pairs."""
    place = unit_vectors(pairs.ra_deg, pairs.dec_deg)
    return Tracks(place, _motion(pairs), pairs.position_epoch_yr)


def companions_of(pairs: Pairs) -> Tracks:
    """The companions of pairs; the primary's place where the position angle is not known."""
    first = tracks_of(pairs)
    east, north = _east_and_north(pairs)
    angle = np.radians(np.nan_to_num(pairs.position_angle_deg))
    step = np.where(np.isnan(pairs.position_angle_deg), 0.0, pairs.separation_arcsec)
    along = np.sin(angle)[:, None] * east + np.cos(angle)[:, None] * north
    place = first.place + (step / ARCSEC_PER_RADIAN)[:, None] * along
    return Tracks(place, first.motion, first.epoch_yr)


def spots_of(pairs: Pairs, error_arcsec: Floats, dated: NDArray[np.bool_]) -> Spots:
    """The places of pairs; those that are not ``dated`` may belong to any year since 1991."""
    epoch = pairs.position_epoch_yr
    return Spots(
        place=unit_vectors(pairs.ra_deg, pairs.dec_deg),
        motion=_motion(pairs),
        first_yr=np.where(dated, epoch, EARLIEST_YR),
        last_yr=np.where(dated, epoch, LATEST_YR),
        error_arcsec=error_arcsec,
    )


def near_tracks(spots: Spots, tracks: Tracks) -> tuple[Integers, Integers, Floats]:
    """Rows of the spots and of the tracks that pass them within their error; how far, arcsec."""
    none = np.empty(0, np.int64)
    if not (len(spots.place) and len(tracks.place)):
        return none, none, np.empty(0)
    years = max(
        spots.last_yr.max() - tracks.epoch_yr.min(),
        tracks.epoch_yr.max() - spots.first_yr.min(),
        0.0,
    )
    reach = spots.error_arcsec + years * _speed_arcsec(spots.motion)
    drift = years * _speed_arcsec(tracks.motion)
    wide, fast = reach > NARROW_ARCSEC, drift > SLOW_ARCSEC
    found = [(none, none)]
    for mine, theirs in product((~wide, wide), (~fast, fast)):
        own, other = np.flatnonzero(mine), np.flatnonzero(theirs)
        radius = reach[own].max(initial=0.0) + drift[other].max(initial=0.0)
        near = near_places(spots.place[own], tracks.place[other], radius / ARCSEC_PER_RADIAN)
        found.append((own[near[0]], other[near[1]]))
    own, other = (np.concatenate(column) for column in zip(*found, strict=True))
    apart = apart_arcsec(spots, tracks, own, other)
    near_enough = apart <= spots.error_arcsec[own]
    return own[near_enough], other[near_enough], apart[near_enough]


def apart_arcsec(spots: Spots, tracks: Tracks, own: Integers, other: Integers) -> Floats:
    """How near each track passes a spot in the years that count, arcseconds.

    ``own`` and ``other`` (K,) are rows of the two. Where the track's motion is not known, that
    of the spot counts; without either the star stands still. Limit: small angles.
    """
    motion = tracks.motion[other]
    motion = np.nan_to_num(np.where(np.isnan(motion), spots.motion[own], motion))
    epoch = tracks.epoch_yr[other]
    start = tracks.place[other] + (spots.first_yr[own] - epoch)[:, None] * motion
    way = (spots.last_yr - spots.first_yr)[own][:, None] * motion
    to_spot = spots.place[own] - start
    square = np.sum(way * way, axis=1)
    share = np.sum(to_spot * way, axis=1) / np.where(square > 0.0, square, 1.0)
    nearest = to_spot - np.clip(share, 0.0, 1.0)[:, None] * way
    return np.asarray(np.linalg.norm(nearest, axis=1) * ARCSEC_PER_RADIAN)


def _speed_arcsec(motion: Floats) -> Floats:
    return np.asarray(np.linalg.norm(np.nan_to_num(motion), axis=1) * ARCSEC_PER_RADIAN)


def _motion(pairs: Pairs) -> Floats:
    """Proper motion as a vector, radians a year; NaN where a part of it is not known."""
    east, north = _east_and_north(pairs)
    per_year = pairs.pm_ra_mas_yr[:, None] * east + pairs.pm_dec_mas_yr[:, None] * north
    return np.asarray(np.radians(per_year / MAS_PER_DEG))


def _east_and_north(pairs: Pairs) -> tuple[Floats, Floats]:
    east = unit_vectors(pairs.ra_deg + 90.0, np.zeros_like(pairs.dec_deg))
    return east, unit_vectors(pairs.ra_deg, pairs.dec_deg + 90.0)
