"""The worst seeing in which pairs split, looked up for many pairs and views at once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

import numpy as np

from planner.eye.acuity import blur_fwhm_arcmin, coarsening, image_brightness_mag
from planner.sky.seeing import AIRMASS_EXPONENT, KOLMOGOROV_FWHM
from planner.verdict.pairs.criteria import (
    CLASS_COUNT,
    CRITERIA,
    LEAST_SEEING_ARCSEC,
    UNEQUAL_FROM_MAG,
)
from planner.verdict.pairs.need import SEPARATION_COUNT, SEPARATIONS
from planner.verdict.pairs.profiles import BLUR_COUNT, BLUR_KNEE, BLUR_STEP
from planner.verdict.pairs.spectrum import SiteAir
from planner.verdict.pairs.tables import (
    DIFFERENCE_COUNT,
    DIFFERENCE_STEP_MAG,
    SplitTables,
    SplitViews,
)

if TYPE_CHECKING:
    from numpy.typing import ArrayLike, NDArray

    Floats = NDArray[np.float64]
    Singles = NDArray[np.float32]
    Integers = NDArray[np.intp]

_PAIRS_AT_ONCE = 8192  # small enough for the processor's cache
_SEPARATION_STEP = float(np.log(SEPARATIONS[1] / SEPARATIONS[0]))
_APPARENT_ARCMIN = np.array([c.apparent_arcmin for c in CRITERIA.values()], dtype=np.float32)
_MARGIN_MAG = np.array([c.margin_mag for c in CRITERIA.values()], dtype=np.float32)


class StarPairs(Protocol):
    """Pairs (P,): separation in arcsec, V magnitudes of the two stars; a catalog's or a study's."""

    @property
    def separation_arcsec(self) -> Floats: ...
    @property
    def v1(self) -> Floats: ...
    @property
    def v2(self) -> Floats: ...


@dataclass(frozen=True, slots=True)
class StudyPairs:
    """Pairs (P,) that stand in no catalog: separation in arcsec, V magnitudes of the two stars."""

    separation_arcsec: Floats
    v1: Floats
    v2: Floats


@dataclass(frozen=True, slots=True)
class SplitConditions:
    """Where the pairs stand and what the sky allows.

    ``airmass`` scalar or (P,); ``extinction_mag`` per airmass. ``limiting_mag`` (V,) or
    (P, V): catalogue V of the faintest star seen *at the zenith* in each view.
    ``dispersion_along_arcsec`` scalar or (P,): length of the air's spectrum along the pair;
    None takes half of it at sea level, for an unknown position angle.
    ``companion_handicap_mag``: see ``Settings``.
    """

    airmass: ArrayLike
    extinction_mag: float
    limiting_mag: ArrayLike
    dispersion_along_arcsec: ArrayLike | None = None
    companion_handicap_mag: float = 0.0


@dataclass(frozen=True, slots=True)
class ViewChoice:
    """The view each pair is looked at in, (P,), and which effects are left out."""

    view: Integers
    without_glare: bool = False
    with_perfect_eye: bool = False


@dataclass(frozen=True, slots=True)
class _Ready:
    """Pairs and conditions as single-precision columns (P,)."""

    separation: Singles
    faint: Singles
    difference: Singles
    airmass: Singles
    limit: Singles
    spectrum: Singles

    def part(self, rows: slice) -> _Ready:
        return _Ready(
            self.separation[rows],
            self.faint[rows],
            self.difference[rows],
            self.airmass[rows],
            self.limit[rows],
            self.spectrum[rows],
        )


def _ready(tables: SplitViews, pairs: StarPairs, conditions: SplitConditions) -> _Ready:
    """Check shapes once and turn everything into one precision."""
    separation, v1, v2, airmass = np.broadcast_arrays(
        pairs.separation_arcsec, pairs.v1, pairs.v2, np.asarray(conditions.airmass, dtype=float)
    )
    if separation.ndim != 1:
        raise ValueError("pairs must be one-dimensional arrays of equal length")
    along = conditions.dispersion_along_arcsec
    spectrum = SiteAir().half_arcsec(airmass) if along is None else np.asarray(along)
    views = tables.powers.size
    limit = np.asarray(conditions.limiting_mag, dtype=np.float32)
    difference = np.abs(v2 - v1)
    harder = conditions.companion_handicap_mag * np.clip(difference - 1.0, 0.0, 1.0)
    return _Ready(
        separation.astype(np.float32),
        np.maximum(v1, v2).astype(np.float32),
        (difference + harder).astype(np.float32),
        airmass.astype(np.float32),
        np.broadcast_to(limit, (separation.size, views)),
        np.broadcast_to(spectrum.astype(np.float32), separation.shape),
    )


def _index(place: Singles, count: int) -> tuple[Integers, Singles]:
    """Cell and share within it of places along an axis of ``count`` points; NaN goes to 0."""
    place = np.clip(np.nan_to_num(place), 0.0, count - 1.001)
    low = place.astype(np.intp)
    return low, (place - low).astype(np.float32)[:, None]


def _steps(
    tables: SplitTables, table: Integers, separation: Singles, blur: Singles, difference: Singles
) -> Singles:
    """Seeing coordinate (p, C), linear in log separation, log blur and difference."""
    place = np.log(separation / np.float32(SEPARATIONS[0])) / np.float32(_SEPARATION_STEP)
    s, share_s = _index(place, SEPARATION_COUNT)
    blurs = tables.steps.shape[2]
    b, share_b = _index(_blur_place(blur) - np.float32(tables.first_blur), blurs)
    m, share_m = _index(difference / DIFFERENCE_STEP_MAG, DIFFERENCE_COUNT)
    flat = tables.steps.reshape(-1, CLASS_COUNT)
    corner = ((table * SEPARATION_COUNT + s) * blurs + b) * DIFFERENCE_COUNT + m
    lines = []
    for cells in (0, 1, blurs, blurs + 1):
        offset = cells * DIFFERENCE_COUNT
        first = flat.take(corner + offset, axis=0)
        second = flat.take(corner + (offset + 1), axis=0)
        lines.append(first + share_m * (second - first))
    near = lines[0] + share_b * (lines[1] - lines[0])
    far = lines[2] + share_b * (lines[3] - lines[2])
    return np.asarray(near + share_s * (far - near))


def _brightness(tables: SplitViews, ready: _Ready, extinction_mag: float, view: Integers) -> Floats:
    """Brightness (p,) of the fainter star's disc on the retina, magnitudes."""
    return image_brightness_mag(
        ready.faint + extinction_mag * ready.airmass,
        tables.instrument.clear_aperture_mm,
        tables.exit_pupils_mm[view],
    )


def _blur(views: SplitViews, ready: _Ready, extinction_mag: float, choice: ViewChoice) -> Singles:
    """FWHM (p,) of what the eye and the air's spectrum blur, lambda/D."""
    power = views.powers.astype(np.float32)[choice.view]
    brightness = _brightness(views, ready, extinction_mag, choice.view)
    eye = blur_fwhm_arcmin(brightness) * (60.0 * (not choice.with_perfect_eye) / power)
    unit = np.float32(views.instrument.resolution_arcsec)
    return np.asarray(np.hypot(eye, ready.spectrum) / unit, dtype=np.float32)


def _blur_place(blur: Singles) -> Singles:
    """Where a blur stands on the axis of the tables."""
    return np.asarray(np.log1p(blur**2 / BLUR_KNEE) / BLUR_STEP)


def _wide_enough(
    tables: SplitTables, ready: _Ready, extinction_mag: float, view: Integers
) -> NDArray[np.bool_]:
    """Whether the power sets the stars far enough apart for the eye, (p, C)."""
    apparent = ready.separation * tables.powers[view] / 60.0
    apparent /= coarsening(_brightness(tables, ready, extinction_mag, view))
    return np.asarray(apparent[:, None] >= _APPARENT_ARCMIN)


def _worst_in_view(
    tables: SplitTables, ready: _Ready, extinction_mag: float, choice: ViewChoice
) -> Singles:
    """Worst zenith seeing (p, C) of some pairs, each in its view."""
    view = choice.view
    unit = np.float32(tables.instrument.resolution_arcsec)
    limit = np.take_along_axis(ready.limit, view[:, None], axis=1)
    blur = _blur(tables, ready, extinction_mag, choice)
    table = np.full_like(view, tables.powers.size) if choice.without_glare else view
    steps = _steps(tables, table, ready.separation / unit, blur, ready.difference)
    fwhm = np.sinh(np.maximum(steps, 0.0)) ** np.float32(0.6) * np.float32(KOLMOGOROV_FWHM * unit)
    worst = fwhm * (ready.airmass ** np.float32(-AIRMASS_EXPONENT))[:, None]
    lost = ready.faint + extinction_mag * (ready.airmass - 1.0)
    fails = (worst < LEAST_SEEING_ARCSEC) | (lost[:, None] > limit - _MARGIN_MAG)
    if not choice.with_perfect_eye:
        fails |= ~_wide_enough(tables, ready, extinction_mag, view)
    fails |= (ready.separation < SEPARATIONS[0] * unit)[:, None]
    fails |= (ready.difference > DIFFERENCE_STEP_MAG * (DIFFERENCE_COUNT - 1))[:, None]
    worst[fails] = 0.0
    unequal = ready.difference >= UNEQUAL_FROM_MAG
    worst[unequal, 0] = worst[unequal, 1]
    worst[np.isnan(ready.separation + ready.difference + ready.airmass)] = np.nan
    return np.asarray(worst, dtype=np.float32)


def blurs_needed(views: SplitViews, pairs: StarPairs, conditions: SplitConditions) -> range:
    """Which steps of the blur's axis the pairs meet in any of the views, real eyes only.

    The first two where no pair is known well enough to meet any.
    """
    ready = _ready(views, pairs, conditions)
    count = ready.separation.size
    place = np.concatenate([
        _blur_place(_blur(views, ready, conditions.extinction_mag, ViewChoice(view)))
        for view in np.repeat(np.arange(views.powers.size)[:, None], count, axis=1)
    ])  # fmt: skip
    known = place[np.isfinite(place)]
    if not known.size:
        return range(2)
    low, high = (int(edge) for edge in np.clip((known.min(), known.max()), 0, BLUR_COUNT - 2))
    return range(low, high + 2)


def power_suffices(
    tables: SplitTables, pairs: StarPairs, conditions: SplitConditions, view: Integers
) -> NDArray[np.bool_]:
    """Whether each pair's view sets it far enough apart for the eye, for each class: (P, C)."""
    ready = _ready(tables, pairs, conditions)
    return _wide_enough(tables, ready, conditions.extinction_mag, view)


def limiting_seeing_in(
    tables: SplitTables, pairs: StarPairs, conditions: SplitConditions, choice: ViewChoice
) -> Singles:
    """Worst zenith seeing (P, C), each pair in one view; see ``limiting_seeing``."""
    ready = _ready(tables, pairs, conditions)
    result = np.empty((ready.separation.size, CLASS_COUNT), dtype=np.float32)
    for start in range(0, len(result), _PAIRS_AT_ONCE):
        rows = slice(start, start + _PAIRS_AT_ONCE)
        some = ViewChoice(choice.view[rows], choice.without_glare, choice.with_perfect_eye)
        result[rows] = _worst_in_view(tables, ready.part(rows), conditions.extinction_mag, some)
    return result


def limiting_seeing(tables: SplitTables, pairs: StarPairs, conditions: SplitConditions) -> Singles:
    """Worst zenith seeing, FWHM in arcsec, in which each class holds: (P, V, C) single precision.

    Views in the order of ``tables.powers``; classes ELONGATED, NOTCHED, JUST, CLEAN, each at
    least as high as the next. 0 where the class is never reached: only in seeing below 0.4" that
    no site offers, too faint a companion, or too little power. NaN where an input is NaN.
    From a difference of 2 mag on, ELONGATED equals NOTCHED. Pairs wider than 60 lambda/D count
    as 60; no seeing beyond D/r0 = 30 is given; companions over 12.25 mag fainter get 0.
    The two magnitudes may stand in either order. Source: own model, calibrated by hand (see
    ``split_criteria``): uncertain by some 15 %, by more for close pairs of equal stars.
    """
    count = np.asarray(pairs.separation_arcsec).size
    result = np.empty((count, tables.powers.size, CLASS_COUNT), dtype=np.float32)
    ready = _ready(tables, pairs, conditions)
    for start in range(0, count, _PAIRS_AT_ONCE):
        rows = slice(start, start + _PAIRS_AT_ONCE)
        some = ready.part(rows)
        for v in range(tables.powers.size):
            view = ViewChoice(np.full(some.separation.size, v, dtype=np.intp))
            result[rows, v] = _worst_in_view(tables, some, conditions.extinction_mag, view)
    return result
