"""Does masking the edge pay? The worst seeing in which pairs split, over masks of the aperture.

A mask hides a turned edge and throws away aperture with it; the same image model that judges
the catalog weighs the one against the other.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from enum import Enum, auto
from typing import TYPE_CHECKING

import numpy as np

from planner.constants import ARCSEC_PER_RADIAN, WAVELENGTH_NM
from planner.errors import ModelRangeError
from planner.optics.eyepiece import Eyepiece
from planner.optics.figure import Figure, strehl
from planner.optics.image import WIDEST_OBSTRUCTION, instrument_mtf
from planner.optics.resolution import dawes_arcsec
from planner.optics.view import View
from planner.verdict.pairs.criteria import LEAST_SEEING_ARCSEC, SplitClass
from planner.verdict.pairs.judge import one_view_seeing, split_conditions
from planner.verdict.pairs.lookup import StudyPairs

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import NDArray

    from planner.optics.telescope import Telescope
    from planner.verdict.setup import Setup

    Floats = NDArray[np.float64]

WIDEST_MASK_SHARE = 0.12  # of the diameter; a maker who hides more makes a new mirror
MASK_STEPS = 12
STRIPES_ARCSEC = (1.0, 2.0, 4.0)  # from one to the next: as fine as planets' markings
EXIT_PUPIL_MM = 0.7  # of the full aperture; where close pairs are looked at, common practice
PRIMARY_MAG = 3.0  # bright enough that no companion of the study is too faint
NOTICED_SHARE = 0.05  # smaller changes of the worst seeing are not noticed; own judgement
NOTHING_SHARE = 0.01  # change within the accuracy of the tables
ENOUGH_SHARE = 0.9  # of the best mask's gain, for the narrowest mask that is about as good
_SAME_MASK_MM = 0.1


class PairType(Enum):
    """How unlike the stars of a pair are."""

    EQUAL = auto()
    UNEQUAL = auto()
    VERY_UNEQUAL = auto()
    FAINT_COMPANION = auto()


@dataclass(frozen=True, slots=True)
class StudyPair:
    """An invented pair: separation in Dawes limits of the full aperture, and the difference."""

    type: PairType
    dawes_limits: float
    difference_mag: float


PAIRS = (
    StudyPair(PairType.EQUAL, 1.5, 0.3),
    StudyPair(PairType.UNEQUAL, 4.0, 2.2),
    StudyPair(PairType.VERY_UNEQUAL, 5.5, 4.5),
    StudyPair(PairType.FAINT_COMPANION, 12.5, 6.5),
)


@dataclass(frozen=True, slots=True)
class MaskStep:
    """One mask: what it leaves of the telescope, and what that splits.

    ``covered_mm`` is the width of the ring hidden, ``light_lost_mag`` against the full
    aperture. ``limiting_seeing_arcsec`` has one zenith FWHM for each pair of ``PAIRS``, "just
    split" or "companion held"; 0 where no seeing is good enough. ``contrast_kept`` is the contrast
    of stripes ``STRIPES_ARCSEC`` apart over that through a perfect wave of the same aperture,
    whatever the air; 0 where they are finer than the aperture resolves.
    """

    clear_aperture_mm: float
    covered_mm: float
    obstruction_ratio: float
    strehl: float
    light_lost_mag: float
    limiting_seeing_arcsec: tuple[float, ...]
    contrast_kept: tuple[float, ...]


class MaskVerdict(Enum):
    """What the best mask does for a pair, against the full aperture.

    A gain of the worst seeing by 5 % or more, a smaller one, none at all, or a pair that no
    mask makes split.
    """

    GAIN = auto()
    UNNOTICED = auto()
    USELESS = auto()
    NEVER = auto()


@dataclass(frozen=True, slots=True)
class MaskFinding:
    """What the masks do for one pair.

    ``best_step`` is the narrowest mask with nine tenths of the best one's gain, 0 where no
    mask helps; ``gain_share`` the change of the worst seeing under it, ``widest_gain_share``
    under the widest mask and ``good_edge_gain_share`` the change that a good edge would bring
    without any mask. NaN where the full aperture does not split the pair.
    """

    pair: StudyPair
    separation_arcsec: float
    verdict: MaskVerdict
    best_step: int
    gain_share: float
    widest_gain_share: float
    good_edge_gain_share: float


@dataclass(frozen=True, slots=True)
class MaskStudy:
    """The diagram: masks from none to the widest, and the same glass with a good edge.

    ``compromise`` is the step that serves the pairs best together: the greatest sum of the
    logarithms of worst seeing.
    """

    telescope: Telescope
    view: View
    steps: tuple[MaskStep, ...]
    good_edge: MaskStep
    findings: tuple[MaskFinding, ...]
    compromise: int


def mask_apertures(telescope: Telescope) -> tuple[float, ...]:
    """Clear apertures in mm to study: the full glass, then ever smaller, the owner's among them.

    Down to 12 % less in steps of 1 %, but not so far that the obstruction exceeds 0.6.
    Raises ModelRangeError when not even the full glass is that open.
    """
    full = telescope.aperture_mm
    least = telescope.obstruction_mm / WIDEST_OBSTRUCTION
    if least > full:
        raise ModelRangeError("the obstruction exceeds 0.6 of the aperture; check the kit")
    shares = np.linspace(0.0, WIDEST_MASK_SHARE, MASK_STEPS + 1)[1:]
    apertures = [full, *(float(full * (1.0 - share)) for share in shares)]
    own = telescope.clear_aperture_mm
    if all(abs(own - aperture) > _SAME_MASK_MM for aperture in apertures):
        apertures.append(own)
    return tuple(a for a in sorted(apertures, reverse=True) if a >= least)


def separations_arcsec(telescope: Telescope) -> Floats:
    """Separations of ``PAIRS`` for this glass, arcsec."""
    return float(dawes_arcsec(telescope.aperture_mm)) * np.array([p.dawes_limits for p in PAIRS])


def study_view(setup: Setup, views: Sequence[View] = ()) -> View:
    """The one view of the study: the one nearest to an exit pupil of 0.7 mm at full aperture.

    At least the observer's own least exit pupil, where one of the views has it; without views
    an invented eyepiece of just that. One fixed power, so that a change of eyepiece does not
    hide what the mask does.
    """
    telescope = setup.telescope
    least = setup.observer.least_exit_pupil_mm
    pupil = max(EXIT_PUPIL_MM, least)
    power = telescope.aperture_mm / pupil
    if views:
        liked = [v for v in views if telescope.aperture_mm / v.magnification >= least]
        return min(liked or views, key=lambda v: (abs(np.log(v.magnification / power)), v.name))
    eyepiece = Eyepiece("study", telescope.focal_length_mm / power, 50.0)
    return View("study", eyepiece, None, power, pupil, 50.0 / power)


def judge_mask(setup: Setup, clear_aperture_mm: float, views: Sequence[View] = ()) -> MaskStep:
    """One mask over the setup's glass, judged overhead as every pair of the catalog is.

    In the ``study_view`` of the views owned. 0.1 s, more with a turned edge in the open.
    Raises ModelRangeError where the model ends.
    """
    glass = setup.telescope
    masked = replace(setup, telescope=replace(glass, clear_aperture_mm=clear_aperture_mm))
    seen = study_view(setup, views)
    view = replace(seen, exit_pupil_mm=clear_aperture_mm / seen.magnification)
    telescope = masked.telescope
    separation = separations_arcsec(glass)
    ones = np.ones_like(separation)
    second = PRIMARY_MAG + np.array([p.difference_mag for p in PAIRS])
    pairs = StudyPairs(separation, PRIMARY_MAG * ones, second)
    sky = split_conditions(masked, [view], ones, setup.zenith_sky_mag * ones, 0.0 * ones)
    worst = one_view_seeing(masked, view, pairs, sky)
    area = _open_area(telescope, clear_aperture_mm) / _open_area(glass, glass.aperture_mm)
    return MaskStep(
        clear_aperture_mm=clear_aperture_mm,
        covered_mm=(glass.aperture_mm - clear_aperture_mm) / 2.0,
        obstruction_ratio=telescope.obstruction_ratio,
        strehl=strehl(telescope.figure, telescope.obstruction_ratio),
        light_lost_mag=float(2.5 * np.log10(1.0 / area)),
        limiting_seeing_arcsec=tuple(float(w) for w in worst[:, SplitClass.JUST - 1]),
        contrast_kept=contrast_kept(telescope),
    )


def contrast_kept(telescope: Telescope) -> tuple[float, ...]:
    """Contrast of stripes 1, 2 and 4 arcseconds apart over that through a perfect wave.

    The ratio of the contrast transfers at ``(lambda/D)/period``; the air takes its share of both.
    """
    unit = WAVELENGTH_NM * 1e-6 / telescope.clear_aperture_mm * ARCSEC_PER_RADIAN
    fineness = unit / np.array(STRIPES_ARCSEC)
    hole = telescope.obstruction_ratio
    perfect = instrument_mtf(fineness, hole, Figure())
    kept = instrument_mtf(fineness, hole, telescope.figure) / np.where(perfect > 0.0, perfect, 1.0)
    return tuple(float(k) for k in np.where((fineness < 1.0) & (perfect > 0.0), kept, 0.0))


def judge_good_edge(setup: Setup, views: Sequence[View] = ()) -> MaskStep:
    """The full glass as if its edge were not turned."""
    glass = replace(setup.telescope.glass, edge_width_mm=0.0, edge_waves=0.0)
    good = replace(setup.telescope, glass=glass)
    return judge_mask(replace(setup, telescope=good), good.aperture_mm, views)


def _open_area(telescope: Telescope, clear_aperture_mm: float) -> float:
    return clear_aperture_mm**2 - telescope.obstruction_mm**2


def mask_study(
    setup: Setup, steps: Sequence[MaskStep], good_edge: MaskStep, views: Sequence[View] = ()
) -> MaskStudy:
    """What the steps say: the first is the full glass, the others ever narrower.

    ``views`` are those that the steps were judged with.

    Raises ValueError without a full glass to compare with.
    """
    if not steps or steps[0].covered_mm > _SAME_MASK_MM:
        raise ValueError("the first step must be the full aperture")
    worst = np.array([step.limiting_seeing_arcsec for step in steps])
    return MaskStudy(
        telescope=setup.telescope,
        view=study_view(setup, views),
        steps=tuple(steps),
        good_edge=good_edge,
        findings=tuple(
            _finding(setup.telescope, row, worst[:, row], good_edge) for row in range(len(PAIRS))
        ),
        compromise=int(np.argmax(np.log(np.maximum(worst, LEAST_SEEING_ARCSEC)).sum(axis=1))),
    )


def _finding(telescope: Telescope, row: int, worst: Floats, good_edge: MaskStep) -> MaskFinding:
    """What the masks do for one pair; ``worst`` starts with the full aperture."""
    full, best = float(worst[0]), float(worst.max())
    verdict = _verdict(full, best)
    enough = full + ENOUGH_SHARE * (best - full)
    helps = verdict in (MaskVerdict.GAIN, MaskVerdict.UNNOTICED)
    chosen = int(np.argmax(worst >= enough)) if helps else 0

    def gain(seeing: float) -> float:
        return seeing / full - 1.0 if full > 0.0 else float("nan")

    return MaskFinding(
        pair=PAIRS[row],
        separation_arcsec=float(separations_arcsec(telescope)[row]),
        verdict=verdict,
        best_step=chosen,
        gain_share=gain(float(worst[chosen])),
        widest_gain_share=gain(float(worst[-1])),
        good_edge_gain_share=gain(good_edge.limiting_seeing_arcsec[row]),
    )


def _verdict(full: float, best: float) -> MaskVerdict:
    """From the worst seeing of the full aperture and that under the best mask."""
    if best <= 0.0:
        return MaskVerdict.NEVER
    if best >= (1.0 + NOTICED_SHARE) * full:
        return MaskVerdict.GAIN
    return MaskVerdict.UNNOTICED if best >= (1.0 + NOTHING_SHARE) * full else MaskVerdict.USELESS
