"""What must hold of the worst seeing, whatever the numbers."""

from __future__ import annotations

import numpy as np
import pytest
from split_telescope import (
    POWERS,
    pairs,
    random_pairs,
    six_inch,
    sky,
    tables_of,
    telescope,
    worst_of,
)

from planner.verdict.pairs.criteria import SplitClass
from planner.verdict.pairs.lookup import (
    StudyPairs,
    ViewChoice,
    blurs_needed,
    limiting_seeing,
    limiting_seeing_in,
)
from planner.verdict.pairs.profiles import BLUR_COUNT
from planner.verdict.pairs.spectrum import SiteAir
from planner.verdict.pairs.tables import build_split_tables

COUNT = 5000
ROUNDING = 1e-4  # arcsec, single precision
INTERPOLATION_ARCSEC = 0.02  # stated error of the tables away from steep corners
CLASS_AXIS = {c: c - 1 for c in SplitClass if c}


def test_classes_nest() -> None:
    worst = worst_of(random_pairs(20000))
    assert np.all(np.diff(worst, axis=-1) <= ROUNDING)
    assert np.count_nonzero(worst[..., CLASS_AXIS[SplitClass.CLEAN]]) > 1000


def test_limiting_seeing_never_rises_with_a_fainter_companion() -> None:
    found = random_pairs(COUNT)
    fainter = StudyPairs(found.separation_arcsec, found.v1, found.v2 + 0.2)
    assert np.all(worst_of(fainter) <= worst_of(found) + ROUNDING)


def test_limiting_seeing_never_falls_with_separation() -> None:
    found = random_pairs(COUNT)
    wider = StudyPairs(found.separation_arcsec * 1.05, found.v1, found.v2)
    assert np.all(worst_of(wider) >= worst_of(found) - ROUNDING)


def test_limiting_seeing_never_rises_with_airmass() -> None:
    found = random_pairs(COUNT)
    assert np.all(worst_of(found, sky(1.6)) <= worst_of(found, sky(1.2)) + ROUNDING)


def test_limiting_seeing_goes_with_airmass_to_the_minus_three_fifths() -> None:
    """Roddier 1981: exactly so where no dispersion or extinction adds to it."""
    found = random_pairs(COUNT)
    overhead = worst_of(found, sky(1.0, 0.0, dispersion_along_arcsec=0.0))
    low = worst_of(found, sky(1.8, 0.0, dispersion_along_arcsec=0.0))
    held = low > 0.0
    assert np.count_nonzero(held) > COUNT
    np.testing.assert_allclose(low[held], overhead[held] * 1.8**-0.6, rtol=1e-5)


def test_two_tenths_of_an_arcsec_never_split_in_six_inches() -> None:
    """A quarter of Dawes' limit (0.76" for six inches): no six-inch has done it."""
    worst = worst_of(pairs([0.2, 0.2, 0.25], 6.0, [6.0, 6.5, 6.0]))
    assert np.all(worst == 0.0)


def test_nothing_below_nine_tenths_of_dawes_is_notched_in_six_inches() -> None:
    """Dawes 1867: 4.56"/D. An obstruction of 0.33 helps by 5 % only (diffraction theory)."""
    worst = worst_of(pairs(0.9 * 115.8 / 154.0, 6.0, 6.0))
    assert np.all(worst[..., CLASS_AXIS[SplitClass.NOTCHED]] == 0.0)


def test_an_eye_that_follows_no_motion_never_sees_more() -> None:
    found = random_pairs(COUNT)
    still = worst_of(found, tables=tables_of(telescope(tilt_followed=0.0)))
    following = worst_of(found, tables=tables_of(telescope(tilt_followed=1.0)))
    assert np.all(still <= following + INTERPOLATION_ARCSEC)


def test_an_older_eye_never_sees_more() -> None:
    found = random_pairs(COUNT)
    young = worst_of(found, tables=tables_of(telescope(age_years=25.0)))
    old = worst_of(found, tables=tables_of(telescope(age_years=75.0)))
    assert np.all(old <= young + ROUNDING)


def test_glare_never_helps() -> None:
    found, view = random_pairs(COUNT), np.full(COUNT, 4)
    with_it = limiting_seeing_in(six_inch(), found, sky(), ViewChoice(view))
    without = limiting_seeing_in(six_inch(), found, sky(), ViewChoice(view, without_glare=True))
    assert np.all(with_it <= without + ROUNDING)


def test_a_scalar_call_equals_an_element_of_the_array_call() -> None:
    found = random_pairs(20)
    together = worst_of(found, sky(np.linspace(1.0, 2.0, 20)))
    for i, airmass in enumerate(np.linspace(1.0, 2.0, 20)):
        alone = worst_of(pairs(found.separation_arcsec[i], found.v1[i], found.v2[i]), sky(airmass))
        np.testing.assert_allclose(alone[0], together[i], rtol=1e-5)


def test_view_by_view_equals_all_views_at_once() -> None:
    found = random_pairs(500)
    together = worst_of(found)
    for v in range(len(POWERS)):
        alone = limiting_seeing_in(six_inch(), found, sky(), ViewChoice(np.full(500, v)))
        assert np.array_equal(alone, together[:, v])


def test_magnitudes_may_stand_in_either_order() -> None:
    assert np.array_equal(worst_of(pairs(3.0, 6.0, 4.0)), worst_of(pairs(3.0, 4.0, 6.0)))


def test_unknown_values_give_nan() -> None:
    worst = worst_of(pairs([np.nan, 3.0, 3.0], [5.0, np.nan, 5.0], [5.0, 5.0, np.nan]))
    assert np.all(np.isnan(worst))


def test_a_companion_below_the_limit_is_never_seen() -> None:
    """The limit is for the zenith: extinction beyond one airmass is taken from it."""
    found = pairs(20.0, 8.0, 11.0)
    assert np.any(worst_of(found, sky(1.0, 0.3, limit=11.4)) > 0.0)
    assert np.all(worst_of(found, sky(1.0, 0.3, limit=11.2)) == 0.0)
    assert np.all(worst_of(found, sky(2.0, 0.3, limit=11.4)) == 0.0)


def test_limits_differ_from_view_to_view() -> None:
    worst = worst_of(pairs(20.0, 8.0, 11.0), sky(limit=[10.0, 10.0, 10.0, 13.0, 13.0, 13.0]))
    assert np.all(worst[0, :3] == 0.0) and np.all(worst[0, 3:, 1] > 0.0)


def test_elongation_passes_into_a_glimpse_without_a_jump_at_two_magnitudes() -> None:
    below, above = worst_of(pairs([1.5, 1.5], 5.0, [6.999, 7.0]))[:, 4]
    assert above[0] == above[1]
    assert below[0] == pytest.approx(above[0], abs=INTERPOLATION_ARCSEC)


def test_dispersion_along_the_pair_is_all_or_nothing() -> None:
    """Upright pairs (PA = parallactic angle) take all of the spectrum, level ones none."""
    along = SiteAir(1013.25).along_arcsec(2.0, [30.0, 120.0, 210.0], 30.0)
    assert along[0] == pytest.approx(along[2]) and along[0] > 0.5
    assert along[1] == pytest.approx(0.0, abs=1e-12)


def test_limiting_seeing_rejects_columns_of_two_dimensions() -> None:
    square = np.ones((2, 2))
    with pytest.raises(ValueError, match="one-dimensional"):
        worst_of(StudyPairs(square, square, square))


def test_tables_of_the_blurs_needed_answer_as_the_whole_ones() -> None:
    """A few like pairs need a few columns, and these hold the same."""
    whole = six_inch()
    rng = np.random.default_rng(5)
    some = pairs(rng.uniform(0.8, 6.0, 40), rng.uniform(4.0, 5.0, 40), rng.uniform(5.0, 7.0, 40))
    air = sky(1.2)
    blurs = blurs_needed(whole, some, air)
    assert len(blurs) < BLUR_COUNT
    cut = build_split_tables(
        whole.instrument, whole.powers.tolist(), whole.exit_pupils_mm.tolist(), blurs
    )
    assert cut.steps.shape[2] == len(blurs)
    told = limiting_seeing(cut, some, air)
    assert np.count_nonzero(told) > 100
    assert told == pytest.approx(limiting_seeing(whole, some, air), abs=ROUNDING)


def test_pairs_of_which_nothing_is_known_need_no_blur_and_stay_unknown() -> None:
    whole, air = six_inch(), sky(1.2)
    for unknown in (pairs([np.nan], [np.nan], [np.nan]), pairs([], [], [])):
        blurs = blurs_needed(whole, unknown, air)
        assert len(blurs) == 2
        cut = build_split_tables(whole.instrument, [60.0], [2.5], blurs)
        assert np.isnan(limiting_seeing(cut, unknown, air)).all()
