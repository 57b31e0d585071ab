"""Tables of the worst seeing in which one telescope splits any pair, built once.

For each view, over separation, blur and difference of magnitude, the tables hold the seeing at
which each class just holds: first the faintest companion for each seeing, then that relation
turned round. A pair's answer is then one look-up (``split_lookup``).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import LAMBDA_ARCSEC_MM
from planner.eye.glare import glare_per_sr
from planner.verdict.pairs.criteria import (
    CLASS_COUNT,
    CRITERIA,
    EQUAL_UNTIL_MAG,
    UNEQUAL_FROM_MAG,
    SplitClass,
)
from planner.verdict.pairs.need import (
    HARDEST_RATIO,
    SEPARATION_COUNT,
    SEPARATIONS,
    contrast_need,
    core_variance,
    dip_need,
    elongation_variance,
)
from planner.verdict.pairs.profiles import (
    BLUR_COUNT,
    EVERY_BLUR,
    SEEING_STEPS,
    SplitInstrument,
    StarImages,
    star_images,
)

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Singles = NDArray[np.float32]

DIFFERENCE_STEP_MAG = 0.25
DIFFERENCE_COUNT = 50
DIFFERENCES_MAG = DIFFERENCE_STEP_MAG * np.arange(DIFFERENCE_COUNT)
_UNEQUAL_SHARE = np.minimum(DIFFERENCES_MAG / UNEQUAL_FROM_MAG, 1.0).astype(np.float32)
_EQUAL_SHARE = np.clip(
    (UNEQUAL_FROM_MAG - DIFFERENCES_MAG) / (UNEQUAL_FROM_MAG - EQUAL_UNTIL_MAG), 0.0, 1.0
).astype(np.float32)
_BY_DIP = (SplitClass.NOTCHED, SplitClass.JUST, SplitClass.CLEAN)
BELOW_PERFECT = -2.0  # lowest seeing coordinate: how far "never" is carried for interpolation


@dataclass(frozen=True, slots=True)
class SplitViews:
    """One telescope and its views: ``powers`` and ``exit_pupils_mm`` are (V,)."""

    instrument: SplitInstrument
    powers: Floats
    exit_pupils_mm: Floats


@dataclass(frozen=True, slots=True)
class SplitTables(SplitViews):
    """Worst seeing of one telescope in all its views.

    ``steps`` (V + 1, N, B, M, C) holds arsinh((D/r0)^(5/3)) over views, separations, blurs,
    differences and classes; below 0 even perfect air fails. The last view has no glare.
    ``first_blur`` is the place of the first of B blurs on their whole axis; a pair blurred less or
    more than the tables hold is taken as the nearest.
    """

    steps: Singles
    first_blur: int = 0


def table_shape(views: int, blurs: int = BLUR_COUNT) -> tuple[int, ...]:
    """Shape of ``SplitTables.steps`` for a number of views."""
    return (views + 1, SEPARATION_COUNT, blurs, DIFFERENCE_COUNT, CLASS_COUNT)


def veil_over_peak(instrument: SplitInstrument, power: float, exit_pupil_mm: float) -> Floats:
    """Glare of the primary in the eye (N,), over the peak of its perfect image.

    ``L(theta) (lambda/d)^2 4/(pi (1 - e^2))``, theta = separation times power, d the exit
    pupil: a perfect image's peak is pi/4 (1 - e^2) (d/lambda)^2 times the illuminance.
    """
    degrees = SEPARATIONS * instrument.resolution_arcsec * power / 3600.0
    radians = np.radians(LAMBDA_ARCSEC_MM / 3600.0) / exit_pupil_mm
    peak = np.pi / 4.0 * (1.0 - instrument.obstruction_ratio**2) / radians**2
    return np.asarray(glare_per_sr(degrees, instrument.age_years) / peak)


def _worst_of_need(need: Singles) -> Singles:
    """Turn flux ratio over seeing (..., S, B) into seeing over difference (..., B, M).

    The inverse of a broken line is a sum of ramps; before the first step it goes on
    downwards with the first slope.
    """
    logs = np.log10(np.clip(np.moveaxis(need, -2, 0), 1e-12, HARDEST_RATIO))
    logs = np.maximum.accumulate(logs, axis=0)[..., None]
    wanted = (-0.4 * DIFFERENCES_MAG).astype(np.float32)
    steps = np.diff(SEEING_STEPS).astype(np.float32)
    worst = np.zeros((*logs.shape[1:-1], DIFFERENCE_COUNT), dtype=np.float32)
    for j, step in enumerate(steps):
        slope = step / np.maximum(logs[j + 1] - logs[j], 1e-6)
        ramp = (wanted - logs[j]) * slope
        worst += np.clip(ramp, BELOW_PERFECT if j == 0 else 0.0, step, out=ramp)
    return worst


def _worst_of_classes(images: StarImages, veil: Floats) -> dict[SplitClass, Singles]:
    """Seeing coordinate (V, N, B, M) of the classes that go by dip and contrast."""
    dips = sorted({dip for c in _BY_DIP for dip in (CRITERIA[c].dip, CRITERIA[c].unequal_dip)})
    needs = dict(zip(dips, dip_need(images, dips), strict=True))
    found = {}
    for split_class in _BY_DIP:
        criterion = CRITERIA[split_class]
        contrast = contrast_need(images, veil, criterion.contrast)
        worst = [
            _worst_of_need(np.maximum(needs[dip], contrast))
            for dip in sorted({criterion.dip, criterion.unequal_dip})
        ]
        found[split_class] = np.asarray(worst[0] + _UNEQUAL_SHARE * (worst[-1] - worst[0]))
    return found


def _worst_of_elongation(variance: Floats) -> Singles:
    """Seeing coordinate (N, B, M) up to which the core stays narrow enough."""
    ratio = np.asarray(10.0 ** (-0.4 * DIFFERENCES_MAG), dtype=float)
    limit = elongation_variance(SEPARATIONS[:, None], ratio)
    blurs = variance.shape[1]
    worst = np.empty((SEPARATION_COUNT, blurs, DIFFERENCE_COUNT), dtype=np.float32)
    for b in range(blurs):
        column = np.maximum.accumulate(variance[:, b])
        inside = np.interp(limit, column, SEEING_STEPS)
        slope = (SEEING_STEPS[1] - SEEING_STEPS[0]) / max(column[1] - column[0], 1e-9)
        below = np.minimum((limit - column[0]) * slope, 0.0)
        worst[:, b] = np.maximum(inside + below, BELOW_PERFECT)
    return worst


def _never_better_closer(steps: Singles) -> None:
    """Take from each separation what a wider one does not hold.

    In the best of air the filled first dark ring is a level floor on which any bump shows,
    while the outer side of the first bright ring hides it. Real rings move and are broken.
    """
    outwards = steps[:, ::-1]
    np.minimum.accumulate(outwards, axis=1, out=outwards)


def build_split_tables(
    instrument: SplitInstrument,
    powers: Sequence[float],
    exit_pupils_mm: Sequence[float],
    blurs: range = EVERY_BLUR,
) -> SplitTables:
    """Build the tables of one telescope: 0.3 s, and some 2 MB and 0.1 s a view.

    ``powers`` and ``exit_pupils_mm`` (V,) describe the views, in any order. Few pairs in known
    conditions need few of the ``blurs`` (``blurs_needed``), and so much less time.
    Raises ValueError when their lengths differ, ModelRangeError for an odd telescope.
    """
    views = list(zip(powers, exit_pupils_mm, strict=True))
    images = star_images(instrument, blurs)
    veils = [veil_over_peak(instrument, power, pupil) for power, pupil in views]
    veil = np.stack([*veils, np.zeros(SEPARATION_COUNT)])
    steps = np.empty(table_shape(len(views), len(blurs)), dtype=np.float32)
    for split_class, worst in _worst_of_classes(images, veil).items():
        steps[..., split_class - 1] = worst
    elongated = _worst_of_elongation(core_variance(images))
    steps[..., 0] = steps[..., 1] + _EQUAL_SHARE * np.maximum(elongated - steps[..., 1], 0.0)
    _never_better_closer(steps)
    return SplitTables(
        instrument=instrument,
        powers=np.array(powers, dtype=float),
        exit_pupils_mm=np.array(exit_pupils_mm, dtype=float),
        steps=steps,
        first_blur=blurs.start,
    )
