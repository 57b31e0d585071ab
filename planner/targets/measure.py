"""Measures of double stars: how a companion drifts, and which of two measures stands."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Bools = NDArray[np.bool_]
    Floats = NDArray[np.float64]

MAS_PER_ARCSEC = 1000.0
# A straight line stands for the curve of an orbit only over a short way: beyond these limits the
# measure stays as it is. Own judgement, no source.
LONGEST_YR = 50.0
FARTHEST_SHARE = 0.5  # of the separation
# Two measures nearer in time than this tell no drift: errors would be taken for motion.
SHORTEST_YR = 10.0
# A measure farther off than this many times both errors shows motion. Common practice, no source.
SIGMAS = 3.0


@dataclass(frozen=True, slots=True)
class Measures:
    """N measures: separation (arcsec), position angle (deg, J2000) and decimal year; NaN unknown.

    ``error_arcsec`` is the standard error of the companion's place, NaN where nobody states it.
    """

    separation_arcsec: Floats
    position_angle_deg: Floats
    epoch_yr: Floats
    error_arcsec: Floats


@dataclass(frozen=True, slots=True)
class Motions:
    """N motions of the companion from the primary, mas a year: to the east and to the north."""

    east_mas_yr: Floats
    north_mas_yr: Floats


def drift(first: Measures, last: Measures) -> Motions:
    """The motion that leads from the first measures straight to the last ones.

    ``(last place - first place) / years``. NaN where a number is unknown or the two are less than
    10 years apart. Limit: a swap of A and B or a slip in one of the two looks like a motion; the
    caller must know both for the same stars. Source: definition.
    """
    years = last.epoch_yr - first.epoch_yr
    years = np.where(np.abs(years) >= SHORTEST_YR, years, np.nan)
    east, north = (
        MAS_PER_ARCSEC * (late - early) / years
        for late, early in zip(_offsets(last), _offsets(first), strict=True)
    )
    return Motions(east, north)


def carried(
    measures: Measures, motions: Motions, year: float | Floats
) -> tuple[Floats, Floats, Bools]:
    """Separation (arcsec) and position angle (0..360 deg) moved straight to a decimal year.

    ``year`` is one for all, or one for each. Also says which were moved. As measured stay those
    whose motion, year or angle is not known, those measured over 50 years from ``year``, and
    those that the line would carry farther than half their separation: there a bound companion
    is no longer on a straight line.
    Source: uniform motion.
    """
    years = year - measures.epoch_yr
    east, north = _offsets(measures)
    step_east = motions.east_mas_yr * years / MAS_PER_ARCSEC
    step_north = motions.north_mas_yr * years / MAS_PER_ARCSEC
    way = np.hypot(step_east, step_north)
    # A comparison with NaN is false: what is not known is not moved.
    moved = (np.abs(years) <= LONGEST_YR) & (way <= FARTHEST_SHARE * measures.separation_arcsec)
    moved &= ~np.isnan(east)
    east, north = east + step_east, north + step_north
    separation = np.where(moved, np.hypot(east, north), measures.separation_arcsec)
    angle = np.degrees(np.arctan2(east, north)) % 360.0
    return separation, np.where(moved, angle, measures.position_angle_deg), moved


def other_stands(known: Measures, other: Measures, year: float | Floats) -> Bools:
    """Which of two measures of each pair stands for a decimal year: True for the other one.

    ``year`` is one for all, or one for each. While both agree the more accurate stands. Where
    they differ by over 3 times both errors together the pair has moved, and the one nearer in
    time to ``year`` stands, be it ever so rough: a new measure by eye replaces an old one of a
    moving pair from a satellite. The nearer stands also between measures of one accuracy or of
    none stated. A measure of no known year, or without a position angle, gives way to one that
    has it. Limit: a slip of a catalog (another pair, another unit) looks like motion; match the
    pairs first. Common practice, no source.
    """
    dated, angled = ~np.isnan(other.epoch_yr), ~np.isnan(other.position_angle_deg)
    was_dated, was_angled = ~np.isnan(known.epoch_yr), ~np.isnan(known.position_angle_deg)
    nearer = np.abs(other.epoch_yr - year) < np.abs(known.epoch_yr - year)
    both_errors = np.hypot(known.error_arcsec, other.error_arcsec)
    agree = _apart_arcsec(known, other) <= SIGMAS * both_errors  # false where none is stated
    finer = other.error_arcsec < known.error_arcsec
    coarser = other.error_arcsec > known.error_arcsec
    chosen = np.where(agree, finer | (nearer & ~coarser), nearer)
    gains = ~was_dated | (~was_angled & angled)
    return np.asarray(dated & (angled | ~was_angled) & (gains | chosen), dtype=bool)


def _offsets(measures: Measures) -> tuple[Floats, Floats]:
    """The companion's place east and north of the primary, arcsec."""
    angle = np.radians(measures.position_angle_deg)
    separation = measures.separation_arcsec
    return separation * np.sin(angle), separation * np.cos(angle)


def _apart_arcsec(one: Measures, two: Measures) -> Floats:
    """How far apart two measures lie; by separation alone where an angle is lacking."""
    (east1, north1), (east2, north2) = _offsets(one), _offsets(two)
    apart = np.hypot(east1 - east2, north1 - north2)
    lengths = np.abs(one.separation_arcsec - two.separation_arcsec)
    return np.where(np.isnan(apart), lengths, apart)
