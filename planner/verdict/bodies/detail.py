"""Which markings of a planet this telescope shows: contrast left against contrast needed.

Limits: contrasts of markings are known to some 40 %, so a margin is good to a factor of 1.5.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import LAMBDA_ARCSEC_MM
from planner.eye.pupil import acting_luminance_cd_m2
from planner.eye.threshold import background_cd_m2, threshold_increment_cd_m2
from planner.optics.figure import GOOD_STREHL, strehl
from planner.optics.glass import Glass
from planner.sky.seeing import AIRMASS_EXPONENT, apertures_per_r0
from planner.verdict.bodies.contrast import (
    image_width,
    pit_weights,
    rille_weights,
    spot_weights,
    stripe_weights,
    transfer,
)
from planner.verdict.bodies.features import Feature, Holds, Marking, Shape, Sureness
from planner.verdict.bodies.ring_gap import ring_dips

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.optics.view import View
    from planner.verdict.setup import Setup

    Floats = NDArray[np.float64]

STEADY_SHARE = 0.8  # of the seeing: one waits for steady moments; calibrated by hand
TEXTURE_CONTRAST = 0.03  # a marking fainter than that drowns in trembling; calibrated by hand
ROUGH_CONTRAST = 0.05  # on the Moon's broken highland; calibrated by hand
PLAIN_MARGIN = 2.0  # calibrated by hand
POSSIBLE_MARGIN = 0.8  # calibrated by hand
ENOUGH_SHARE = 0.9  # of the best margin: more power is not worth it; own judgement
DISC_GROWTH = 1.25  # a disc is told from a star when its image is so much wider; own judgement
DISC_ARCMIN = 6.0  # and looks so large in the eyepiece; own judgement
PHASE_SHARE = 0.5  # of a star's width that must be missing from a disc; own judgement
TYPICAL_FIELD_FACTOR = 2.0  # for bright things, of an eye known by its faintest star only
LARGEST_WIDTHS = 12.0  # lambda/D; a wider marking keeps its contrast whole
LARGEST_HALVES = 40.0  # and a wider crater, in the worst air
WIDE_HALVES = 5.0  # lambda/D, from which all are plain and a rough step will do
HALF_STEP, WIDE_STEP = 0.04, 0.15  # of the natural logarithm of such a width
WINDOWS = 32
PAIR_WINDOWS = 11  # of shapes with a dark and a lit half
SEEINGS = np.geomspace(0.25, 12.0, 28)  # arcsec, acting along the line of sight
_LEAST_WINDOW, _MOST_WINDOW, _STRIP = 0.3, 8.0, 7.0
_OF_CONTRAST = (Shape.STRIPE, Shape.SPOT, Shape.RILLE, Shape.PIT)
_SR_PER_ARCSEC2 = (np.pi / 648000.0) ** 2


@dataclass(frozen=True, slots=True)
class PlanetSight:
    """A planet as it stands: airmass, and surface brightness above the air, V mag/arcsec^2."""

    airmass: float
    surface_mag: float


@dataclass(frozen=True, slots=True)
class DetailVerdict:
    """The markings judged, and the best view for them: an index, None where none is possible."""

    features: tuple[Feature, ...]
    view: int | None


def judge_detail(
    setup: Setup, views: Sequence[View], markings: Sequence[Marking], sight: PlanetSight
) -> DetailVerdict:
    """Every marking with its margin tonight, in the best of the views, and the view to take.

    The margin is the contrast left in the best window over ``F sqrt 2 C(A, B) + 0.03``, C from
    Crumey's law at the window's apparent area A and the luminance B that acts on the eye. Plain
    from 2, possible from 0.8. The view is the lowest power that leaves every marking still
    possible 0.9 of its best margin.
    """
    if not markings or not views:
        return DetailVerdict((), None)
    grid = margins_over_seeing(setup, views, markings, sight)
    stretch = STEADY_SHARE * sight.airmass**AIRMASS_EXPONENT
    zenith = SEEINGS / stretch
    now = _at(grid, zenith, setup.seeing_arcsec)
    best = now.max(axis=1)
    overhead = _at(grid, SEEINGS / STEADY_SHARE, setup.seeing_arcsec).max(axis=1)
    perfect = _perfect_calm(setup, views, markings, sight, grid[0].max(axis=1))
    features = []
    for row, marking in enumerate(markings):
        curve = grid[:, row].max(axis=1)
        worst = _worst(zenith, curve)
        holds = _holds(marking, float(best[row]), float(overhead[row]), float(curve[0]), now[row])
        if holds is Holds.APERTURE and perfect[row] >= POSSIBLE_MARGIN:
            holds = Holds.FIGURE
        features.append(_feature(marking, float(best[row]), worst, holds))
    return DetailVerdict(tuple(features), _best_view(views, markings, now))


def _perfect_calm(
    setup: Setup,
    views: Sequence[View],
    markings: Sequence[Marking],
    sight: PlanetSight,
    calm: Floats,
) -> Floats:
    """Margins (N,) in the calmest air if the wave were perfect; looked at only where that may help.

    ``calm`` (N,) has them as the wave is.
    """
    telescope = setup.telescope
    fails = bool((calm < POSSIBLE_MARGIN).any())
    if not fails or strehl(telescope.figure, telescope.obstruction_ratio) >= GOOD_STREHL:
        return calm
    good = replace(setup, telescope=replace(telescope, glass=Glass()))
    grid = margins_over_seeing(good, views, markings, sight, SEEINGS[:1])
    return np.asarray(grid[0].max(axis=1))


def margins_over_seeing(
    setup: Setup,
    views: Sequence[View],
    markings: Sequence[Marking],
    sight: PlanetSight,
    seeings_arcsec: Floats = SEEINGS,
) -> Floats:
    """Margins (S, N, V) of markings in views over seeings (S,) along the line of sight."""
    aperture = setup.telescope.clear_aperture_mm
    unit = LAMBDA_ARCSEC_MM / aperture
    passed = transfer(setup, apertures_per_r0(aperture, seeings_arcsec))
    luminance = _acting(setup, views, sight)
    powers = np.array([view.magnification for view in views])
    margins = np.empty((len(seeings_arcsec), len(markings), len(views)))
    for row, marking in enumerate(markings):
        if marking.turned_away:
            found = np.zeros((len(seeings_arcsec), len(views)))
        elif marking.shape in _OF_CONTRAST:
            found = _of_contrast(setup, passed, marking, unit, (powers, luminance))
        elif marking.shape is Shape.GAP:
            dips = ring_dips(passed, marking, unit)
            seen = np.minimum(1.0, marking.length_arcsec * powers / (60.0 * 3.0))
            found = dips[:, None] / TEXTURE_CONTRAST * seen
        else:
            found = _of_size(passed, marking, unit, powers)
        margins[:, row] = found
    return margins


def _of_contrast(
    setup: Setup, passed: Floats, marking: Marking, unit: float, eye: tuple[Floats, Floats]
) -> Floats:
    """Margins (S, V) of a stripe or spot: the best over many windows."""
    powers, luminance = eye
    width = _width(marking, unit)
    windows, weights = _windows(marking.shape, width)
    left = np.abs(marking.contrast) * np.abs(passed @ weights)
    left = left.reshape(len(passed), len(windows), -1).max(axis=2)
    apparent = windows[:, None] * unit * powers
    if marking.shape in (Shape.STRIPE, Shape.RILLE):
        length = np.minimum(marking.length_arcsec * powers, _STRIP * apparent)
        area = apparent * length
    else:
        area = np.pi / 4.0 * apparent**2
    threshold = threshold_increment_cd_m2(area * _SR_PER_ARCSEC2, luminance) / luminance
    need = _demand(setup) * threshold + (ROUGH_CONTRAST if marking.rough else TEXTURE_CONTRAST)
    return np.asarray((left[:, :, None] / need).max(axis=1))


def _width(marking: Marking, unit: float) -> float:
    """Width in lambda/D, no wider than counts; of halves in even steps, so that many share one."""
    width = marking.width_arcsec / unit
    if marking.shape in (Shape.RILLE, Shape.PIT):
        step = HALF_STEP if width < WIDE_HALVES else WIDE_STEP
        even = np.exp(step * np.rint(np.log(width) / step))
        return float(min(even, LARGEST_HALVES))
    return float(min(width, LARGEST_WIDTHS))


@lru_cache(maxsize=96)
def _windows(shape: Shape, width: float) -> tuple[Floats, Floats]:
    """Windows (W,) in lambda/D, and a marking's weights in them: (400, W), or (400, W times X)."""
    count = WINDOWS if shape in (Shape.STRIPE, Shape.SPOT) else PAIR_WINDOWS
    windows = np.geomspace(_LEAST_WINDOW, _MOST_WINDOW * max(width, 1.0), count)
    weights = {
        Shape.STRIPE: stripe_weights, Shape.SPOT: spot_weights,
        Shape.RILLE: rille_weights, Shape.PIT: pit_weights,
    }[shape](width, windows)  # fmt: skip
    return windows, weights.reshape(len(weights), -1)


def _of_size(passed: Floats, marking: Marking, unit: float, powers: Floats) -> Floats:
    """Margins (S, V) of a disc against a star, or of a phase: 0.8 where it just goes."""
    star = image_width(passed, 0.0)
    if marking.shape is Shape.DISC:
        grown = image_width(passed, marking.width_arcsec / unit) / star
        sharp = POSSIBLE_MARGIN * (grown - 1.0) / (DISC_GROWTH - 1.0)
    else:
        missing = marking.width_arcsec * abs(marking.contrast) / unit
        sharp = POSSIBLE_MARGIN * missing / (PHASE_SHARE * star)
    looks = marking.width_arcsec
    large = POSSIBLE_MARGIN * looks * powers / 60.0 / DISC_ARCMIN
    return np.minimum(sharp[:, None], large)


def _acting(setup: Setup, views: Sequence[View], sight: PlanetSight) -> Floats:
    """Luminance (V,) that acts on the eye: the planet's own through each exit pupil, cd/m^2."""
    dimmed = sight.surface_mag + setup.extinction_mag * sight.airmass
    bright = background_cd_m2(dimmed) * setup.telescope.throughput
    pupil = np.minimum([view.exit_pupil_mm for view in views], setup.observer.dark_pupil_mm)
    return acting_luminance_cd_m2(bright * pupil**2)


def _demand(setup: Setup) -> float:
    """How much more than the laboratory's threshold the observer wants, with one eye."""
    measured = setup.observer.field_factor_measured
    factor = TYPICAL_FIELD_FACTOR if measured else setup.observer.field_factor
    return float(np.sqrt(2.0) * factor)


def _at(grid: Floats, zenith: Floats, seeing: float) -> Floats:
    """Margins (N, V) at one zenith seeing."""
    place = np.interp(seeing, zenith, np.arange(len(zenith), dtype=float))
    low = min(int(place), len(zenith) - 2)
    return np.asarray(grid[low] + (place - low) * (grid[low + 1] - grid[low]))


def _worst(zenith: Floats, curve: Floats) -> float:
    """The worst zenith seeing in which a margin (S,) still is 0.8; 0 where it never is."""
    good = np.flatnonzero(curve >= POSSIBLE_MARGIN)
    if not good.size:
        return 0.0
    last = int(good[-1])
    if last == len(curve) - 1:
        return float(zenith[-1])
    share = (curve[last] - POSSIBLE_MARGIN) / (curve[last] - curve[last + 1])
    return float(zenith[last] + share * (zenith[last + 1] - zenith[last]))


def _holds(marking: Marking, best: float, overhead: float, calm: float, now: Floats) -> Holds:
    """What costs a marking most."""
    if marking.turned_away:
        return Holds.FACES_AWAY
    if best >= PLAIN_MARGIN:
        return Holds.NOTHING
    if calm < POSSIBLE_MARGIN:
        by_power = marking.shape in (Shape.DISC, Shape.PHASE) and int(np.argmax(now)) == (
            len(now) - 1
        )
        return Holds.POWER if by_power else Holds.APERTURE
    step = PLAIN_MARGIN if best >= POSSIBLE_MARGIN else POSSIBLE_MARGIN
    return Holds.HEIGHT if overhead >= step else Holds.SEEING


def _feature(marking: Marking, best: float, worst: float, holds: Holds) -> Feature:
    if marking.turned_away:
        return Feature(marking.name, Sureness.NOT_TONIGHT, None, None, holds)
    sureness = Sureness(int(best >= POSSIBLE_MARGIN) + int(best >= PLAIN_MARGIN))
    return Feature(marking.name, sureness, best, worst, holds)


def _best_view(views: Sequence[View], markings: Sequence[Marking], now: Floats) -> int | None:
    """The lowest power that leaves every marking still possible 0.9 of its best margin.

    Where none does, the one that leaves the worst served of them most.
    """
    facing = np.array([not marking.turned_away for marking in markings])
    best = np.where(facing, now.max(axis=1), 0.0)
    possible = best >= POSSIBLE_MARGIN
    if not possible.any():
        return None
    shares = (now[possible] / best[possible, None]).min(axis=0)
    enough = [int(n) for n in np.flatnonzero(shares >= ENOUGH_SHARE)]
    if not enough:
        return int(np.argmax(shares))
    return min(enough, key=lambda index: views[index].magnification)
