"""Masks over a turned edge, against direct calls of the image model and common sense."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from planner.errors import ModelRangeError
from planner.eye.observer import Observer
from planner.optics.eyepiece import Eyepiece
from planner.optics.figure import Figure, turned_edge
from planner.optics.glass import Glass
from planner.optics.telescope import Design, Mount, Telescope
from planner.optics.view import View, all_views
from planner.verdict.pairs.criteria import SplitClass
from planner.verdict.pairs.lookup import SplitConditions, StudyPairs, limiting_seeing
from planner.verdict.pairs.profiles import SplitInstrument
from planner.verdict.pairs.tables import build_split_tables
from planner.verdict.scope.mask_study import (
    PAIRS,
    MaskStep,
    MaskVerdict,
    contrast_kept,
    judge_good_edge,
    judge_mask,
    mask_apertures,
    mask_study,
    study_view,
)
from planner.verdict.setup import Setup

INCH = 25.4
SIX_INCH = Telescope(
    "t", Design.NEWTONIAN, Mount.HAND_MOVED, 6 * INCH, 5.75 * INCH, 1067.0, 1.5 * INCH, Glass(0.0),
    0.79, 31.75,
)  # fmt: skip
OBSERVER = Observer("o", 50.0, 6.0, 2.0, 0.0, 0.5)
EQUAL, UNEQUAL, VERY_UNEQUAL, FAINT = range(len(PAIRS))
PIN = 0.03  # regression pins: a change of the model beyond this wants a look
SAME = 0.01  # interpolation between the tables' steps


def setup(width_mm: float = 0.0, waves: float = 0.0) -> Setup:
    """The six-inch with a turned edge, under a dark sky."""
    glass = replace(SIX_INCH, glass=Glass(0.0, width_mm, waves))
    return Setup(glass, OBSERVER, 21.0, 2.0, 0.2)


@cache
def judged(width_mm: float, waves: float, clear_mm: float) -> MaskStep:
    """One mask, judged once a test run."""
    return judge_mask(setup(width_mm, waves), clear_mm)


def step(covered_mm: float, *worst: float) -> MaskStep:
    """A step with made-up results."""
    return MaskStep(6 * INCH - 2 * covered_mm, covered_mm, 0.25, 0.8, 0.1, worst, (0.9, 0.95, 0.98))


def test_masks_run_from_the_full_glass_to_an_eighth_less() -> None:
    """The owner's own mask is among them; falling order."""
    apertures = mask_apertures(SIX_INCH)
    assert apertures[0] == SIX_INCH.aperture_mm
    assert apertures[-1] == pytest.approx(0.88 * SIX_INCH.aperture_mm)
    assert SIX_INCH.clear_aperture_mm in apertures
    assert list(apertures) == sorted(apertures, reverse=True)


def test_masks_stop_before_the_obstruction_is_too_wide() -> None:
    """The image model ends at 0.6."""
    wide = replace(SIX_INCH, obstruction_mm=0.58 * SIX_INCH.aperture_mm)
    assert max(wide.obstruction_mm / a for a in mask_apertures(wide)) <= 0.6
    with pytest.raises(ModelRangeError, match="0.6 of the aperture"):
        mask_apertures(replace(wide, obstruction_mm=100.0))


def test_judge_mask_agrees_with_direct_calls() -> None:
    """A 1/4 inch zone of 1 wave under a mask that covers half: half the zone, 1/4 wave."""
    found = judged(INCH / 4, 1.0, 5.75 * INCH)
    clear = 5.75 * INCH
    figure = replace(turned_edge((INCH / 8) / (clear / 2), 0.25), rms_waves=0.0)
    power = SIX_INCH.aperture_mm / 0.7
    instrument = SplitInstrument(clear, 1.5 / 5.75, Figure(0.0, figure.profile), 50.0)
    tables = build_split_tables(instrument, [power], [clear / power])
    separation = 115.8 / SIX_INCH.aperture_mm * np.array([1.5, 4.0, 5.5, 12.5])
    pair = StudyPairs(separation, np.full(4, 3.0), 3.0 + np.array([0.3, 2.2, 4.5, 6.5]))
    direct = limiting_seeing(tables, pair, SplitConditions(1.0, 0.2, 13.0, 0.0))
    assert np.allclose(found.limiting_seeing_arcsec, direct[:, 0, SplitClass.JUST - 1], rtol=1e-4)


def test_judge_mask_counts_light_and_shadow() -> None:
    """Geometry: the shadow stays, the circle shrinks."""
    found = judged(INCH / 4, 1.0, 5.75 * INCH)
    assert found.covered_mm == pytest.approx(INCH / 8)
    assert found.obstruction_ratio == pytest.approx(1.5 / 5.75)
    lost = -2.5 * np.log10((5.75**2 - 1.5**2) / (6.0**2 - 1.5**2))
    assert found.light_lost_mag == pytest.approx(lost)
    assert judged(INCH / 4, 1.0, 6 * INCH).light_lost_mag == pytest.approx(0.0, abs=1e-12)


def test_mask_over_the_whole_zone_is_as_good_as_over_a_good_edge() -> None:
    """What is covered cannot matter."""
    bad, good = judged(INCH / 8, 1.0, 5.75 * INCH), judged(0.0, 0.0, 5.75 * INCH)
    assert bad.limiting_seeing_arcsec == good.limiting_seeing_arcsec
    assert bad.strehl == good.strehl


def test_good_edge_beats_every_mask() -> None:
    """A mask can at best hide the fault; common practice, no source."""
    good = np.array(judge_good_edge(setup(INCH / 4, 1.0)).limiting_seeing_arcsec)
    for clear in (6.0, 5.75, 5.5):
        masked = np.array(judged(INCH / 4, 1.0, clear * INCH).limiting_seeing_arcsec)
        assert np.all(masked <= (1.0 + SAME) * good)


def test_quarter_inch_edge_pays_to_mask_and_eighth_inch_does_not() -> None:
    """Makers mask a broad turned edge and live with a narrow one: common practice, no source."""
    verdicts = {}
    for width in (INCH / 8, INCH / 4):
        steps = [judged(width, 1.0, clear * INCH) for clear in (6.0, 5.75)]
        study = mask_study(setup(width, 1.0), steps, judged(0.0, 0.0, 6 * INCH))
        verdicts[width] = [finding.verdict for finding in study.findings]
        assert [f.gain_share < f.good_edge_gain_share + SAME for f in study.findings] == [True] * 4
    assert verdicts[INCH / 4][FAINT] is MaskVerdict.GAIN
    assert MaskVerdict.GAIN not in verdicts[INCH / 8]


def test_masks_over_a_good_edge_cost_equal_pairs() -> None:
    """Dawes: resolution goes with the aperture."""
    full, masked = judged(0.0, 0.0, 6 * INCH), judged(0.0, 0.0, 5.5 * INCH)
    assert masked.limiting_seeing_arcsec[EQUAL] < 0.95 * full.limiting_seeing_arcsec[EQUAL]
    study = mask_study(setup(), [full, masked], full)
    assert study.findings[EQUAL].verdict is MaskVerdict.USELESS
    assert study.findings[EQUAL].good_edge_gain_share == 0.0
    assert study.compromise == 0


def test_mask_study_tells_gain_unnoticed_useless_and_never() -> None:
    """5 % and 1 % divide them; the narrowest mask about as good as the best is named."""
    steps = [step(0, 1.0, 1.0, 1.0, 0.0), step(2, 1.1, 1.03, 0.9, 0.0), step(4, 1.105, 1.0, 0.8, 0)]
    study = mask_study(setup(3.0, 1.0), steps, step(0, 1.2, 1.2, 1.0, 0.0))
    verdicts = [finding.verdict for finding in study.findings]
    assert verdicts == [
        MaskVerdict.GAIN, MaskVerdict.UNNOTICED, MaskVerdict.USELESS, MaskVerdict.NEVER
    ]  # fmt: skip
    assert [finding.best_step for finding in study.findings[:3]] == [1, 1, 0]
    assert study.findings[0].gain_share == pytest.approx(0.10)
    assert study.findings[2].widest_gain_share == pytest.approx(-0.20)
    assert study.compromise == 1
    assert np.isnan(study.findings[3].gain_share)


def test_mask_study_counts_a_pair_that_only_a_mask_splits_as_gain() -> None:
    """No share can be named, since the full aperture does not split it at all."""
    steps = [step(0, 1.0, 1.0, 1.0, 0.0), step(2, 1.0, 1.0, 1.0, 0.6)]
    finding = mask_study(setup(3.0, 1.0), steps, steps[0]).findings[FAINT]
    assert finding.verdict is MaskVerdict.GAIN
    assert finding.best_step == 1
    assert np.isnan(finding.gain_share)


def test_mask_study_rejects_steps_without_the_full_aperture() -> None:
    """Nothing to compare with."""
    with pytest.raises(ValueError, match="full aperture"):
        mask_study(setup(), [step(2, 1.0, 1.0, 1.0, 1.0)], step(0, 1.0, 1.0, 1.0, 1.0))


def test_regression_quarter_inch_edge_of_a_six_inch() -> None:
    """Own output: the full glass, half the zone covered, and a good edge; the four pairs."""
    expected = [[1.23, 2.54, 1.92, 2.11], [1.31, 2.60, 2.04, 2.60], [1.40, 2.60, 2.11, 2.76]]
    rows = [judged(INCH / 4, 1.0, c * INCH).limiting_seeing_arcsec for c in (6.0, 5.75)]
    rows.append(judged(0.0, 0.0, 6 * INCH).limiting_seeing_arcsec)
    assert np.allclose(rows, expected, rtol=PIN)


def owned(*lengths_mm: float) -> tuple[View, ...]:
    """Views of the six-inch in eyepieces of these focal lengths."""
    pieces = [Eyepiece(f"{length:g} mm", length, 50.0) for length in lengths_mm]
    return all_views(SIX_INCH, pieces, ())


@pytest.mark.parametrize(
    ("lengths", "chosen"),
    [((25.0, 10.0, 5.0, 3.0), "5 mm"), ((25.0, 10.0), "10 mm"), ((2.5, 2.0), "2.5 mm")],
)
def test_the_study_looks_through_an_eyepiece_the_observer_owns(
    lengths: tuple[float, ...], chosen: str
) -> None:
    """The one nearest to an exit pupil of 0.7 mm at full aperture, never below the least."""
    view = study_view(setup(), owned(*lengths))
    assert view.name == chosen
    ratio = SIX_INCH.focal_length_mm / SIX_INCH.aperture_mm
    least = OBSERVER.least_exit_pupil_mm
    liked = [v for v in lengths if v / ratio >= least] or list(lengths)
    assert float(chosen.split()[0]) == min(liked, key=lambda v: abs(math.log(v / ratio / 0.7)))


def test_the_study_is_judged_at_the_power_it_names() -> None:
    """Its own tables: a lower power splits in less seeing, and is the one reported."""
    views = owned(12.0)
    low = judge_mask(setup(), SIX_INCH.aperture_mm, views)
    high = judged(0.0, 0.0, SIX_INCH.aperture_mm)
    assert low.limiting_seeing_arcsec[EQUAL] < high.limiting_seeing_arcsec[EQUAL]
    study = mask_study(setup(), [low], low, views)
    assert study.view.magnification == pytest.approx(SIX_INCH.focal_length_mm / 12.0)


def test_contrast_kept_is_that_of_the_wave_alone() -> None:
    """A perfect wave keeps all; a mask over a turned edge brings it back; the fine suffers most."""
    telescope = SIX_INCH
    assert contrast_kept(telescope) == pytest.approx((1.0, 1.0, 1.0), abs=1e-6)
    turned = replace(telescope, glass=Glass(0.0, 6.0, 0.8))
    opened = contrast_kept(replace(turned, clear_aperture_mm=turned.aperture_mm))
    masked = contrast_kept(replace(turned, clear_aperture_mm=turned.aperture_mm - 12.0))
    assert all(m > o for m, o in zip(masked, opened, strict=True))
    rough = replace(telescope, glass=Glass(0.07))
    assert list(contrast_kept(rough)) == sorted(contrast_kept(rough))
