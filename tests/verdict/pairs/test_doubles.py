"""Verdicts on pairs: the joint of image, air, sky and eye."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from deepsky_samples import setup, views
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.verdict.pairs.criteria import SplitClass
from planner.verdict.pairs.judge import (
    PairDetail,
    judge_pairs,
    split_conditions,
    split_instrument,
    zenith_limits_mag,
)
from planner.verdict.pairs.lookup import StudyPairs
from planner.verdict.pairs.tables import SplitTables, build_split_tables
from planner.verdict.setup import Setup
from planner.verdict.verdicts import Limit, Verdicts

INTERPOLATION = 0.02  # share by which a table's neighbours may disagree


@cache
def tables() -> SplitTables:
    """For the test kit's ten views."""
    return build_split_tables(
        split_instrument(setup()),
        [view.magnification for view in views()],
        [view.exit_pupil_mm for view in views()],
    )


@cache
def tables_without(number: int) -> SplitTables:
    """With one view left out: each view has a table of its own (held below)."""
    whole = tables()
    return replace(
        whole,
        powers=np.delete(whole.powers, number),
        exit_pupils_mm=np.delete(whole.exit_pupils_mm, number),
        steps=np.delete(whole.steps, number, axis=0),
    )


def judge(
    separation: float,
    v1: float,
    v2: float,
    airmass: float = 1.0,
    sky_mag: float = 21.5,
    seeing: float = 2.0,
) -> Verdicts[PairDetail]:
    """One pair without the air's spectrum."""  # fmt: skip
    base = setup()
    used = Setup(base.telescope, base.observer, base.zenith_sky_mag, seeing, base.extinction_mag)
    pairs = StudyPairs(np.array([separation]), np.array([v1]), np.array([v2]))
    place = np.array([airmass]), np.array([sky_mag]), np.zeros(1)
    return judge_pairs(used, views(), tables(), pairs, split_conditions(used, views(), *place))


def just(separation: float, v1: float, v2: float, **more: float) -> float:
    """The worst zenith seeing in which the pair is just split."""
    found = judge(separation, v1, v2, **more)
    return float(found.detail.limiting_seeing_arcsec[0, SplitClass.JUST - 1])


SEPARATIONS = st.floats(1.0, 20.0)
MAGNITUDES = st.floats(2.0, 7.0)
DIFFERENCES = st.floats(0.0, 5.0)


@settings(deadline=None, max_examples=40)
@given(SEPARATIONS, MAGNITUDES, DIFFERENCES, st.floats(1.0, 4.0))
def test_more_air_never_helps(
    separation: float, v1: float, difference: float, airmass: float
) -> None:
    """Lower down the same pair asks for better zenith seeing."""
    here = just(separation, v1, v1 + difference)
    low = just(separation, v1, v1 + difference, airmass=airmass)
    assert low <= here * (1.0 + INTERPOLATION)


@settings(deadline=None, max_examples=40)
@given(SEPARATIONS, MAGNITUDES, DIFFERENCES, DIFFERENCES)
def test_a_fainter_companion_is_never_easier(
    separation: float, v1: float, one: float, other: float
) -> None:
    """Same separation, same primary."""
    small, large = sorted((one, other))
    assert just(separation, v1, v1 + large) <= just(separation, v1, v1 + small) * 1.1


@settings(deadline=None, max_examples=40)
@given(SEPARATIONS, MAGNITUDES, DIFFERENCES, st.floats(0.4, 6.0), st.floats(0.4, 6.0))
def test_worse_seeing_never_splits_better(
    separation: float, v1: float, difference: float, one: float, other: float
) -> None:
    """And in one eyepiece the worst seeing itself does not depend on tonight's."""
    steady, poor = (judge(separation, v1, v1 + difference, seeing=s) for s in sorted((one, other)))
    assert poor.detail.split_class[0] <= steady.detail.split_class[0]
    same = poor.view[0] == steady.view[0]
    assert (
        not same
        or (poor.detail.limiting_seeing_arcsec == steady.detail.limiting_seeing_arcsec).all()
    )


def test_a_table_does_not_depend_on_the_other_views() -> None:
    """Built anew with one view left out it is what cutting that view away leaves."""
    fewer = [view for index, view in enumerate(views()) if index != 4]
    built = build_split_tables(
        split_instrument(setup()),
        [view.magnification for view in fewer],
        [view.exit_pupil_mm for view in fewer],
    )
    cut = tables_without(4)
    np.testing.assert_array_equal(built.powers, cut.powers)
    np.testing.assert_allclose(built.steps, cut.steps, atol=1e-6)


@settings(deadline=None, max_examples=40)
@given(SEPARATIONS, MAGNITUDES, DIFFERENCES, st.floats(0.6, 4.0), st.integers(0, 9))
def test_a_further_eyepiece_never_splits_worse(
    separation: float, v1: float, difference: float, seeing: float, number: int
) -> None:
    """Whichever one is left out of the kit."""
    pairs = StudyPairs(np.array([separation]), np.array([v1]), np.array([v1 + difference]))
    place = np.ones(1), np.full(1, 21.5), np.zeros(1)
    used = replace(setup(), seeing_arcsec=seeing)
    fewer = [view for index, view in enumerate(views()) if index != number]
    sky = split_conditions(used, fewer, *place)
    without = judge_pairs(used, fewer, tables_without(number), pairs, sky)
    sky = split_conditions(used, views(), *place)
    whole = judge_pairs(used, views(), tables(), pairs, sky)
    assert whole.detail.split_class[0] >= without.detail.split_class[0]


def test_a_bright_sky_takes_the_faint_companion_first() -> None:
    """Mag 11.5 is beyond the telescope in deep twilight; its primary of mag 5 is not."""
    assert just(20.0, 5.0, 11.5, sky_mag=21.5) > 0.0
    found = judge(20.0, 5.0, 11.5, sky_mag=15.0)
    assert found.detail.split_class[0] == SplitClass.NOT_SPLIT
    assert found.limit[0] == Limit.COMPANION_TOO_FAINT
    assert just(20.0, 5.0, 7.0, sky_mag=15.0) > 0.0


@pytest.mark.parametrize(
    ("pair", "limit"),
    [
        ((14.4, 2.2, 3.9), Limit.NOTHING),  # Mizar: nothing to wish for
        ((0.3, 4.5, 4.6), Limit.RESOLUTION),  # zeta Boo
        ((2.9, 2.5, 4.8, 1.0, 21.5, 4.0), Limit.SEEING),  # Izar in 4 arcsec
    ],
)
def test_what_limits_a_pair_is_named(pair: tuple[float, ...], limit: Limit) -> None:
    """Handbook pairs (from memory)."""
    found = judge(*pair)
    assert found.limit[0] == limit


def test_pairs_in_a_crowd_are_judged_as_alone() -> None:
    """Each at its own airmass and sky."""
    rng = np.random.default_rng(3)
    count = 30
    columns = (
        10.0 ** rng.uniform(0.0, 1.3, count), v1 := rng.uniform(2.0, 7.0, count),
        v1 + rng.uniform(0.0, 4.0, count),
    )  # fmt: skip
    airmass, sky = rng.uniform(1.0, 3.0, count), rng.uniform(17.0, 21.5, count)
    place = split_conditions(setup(), views(), airmass, sky, np.zeros(count))
    crowd = judge_pairs(setup(), views(), tables(), StudyPairs(*columns), place)
    for row in range(count):
        alone = judge(*(float(c[row]) for c in columns), float(airmass[row]), float(sky[row]))
        assert alone.view[0] == crowd.view[row]
        assert alone.detail.split_class[0] == crowd.detail.split_class[row]
        worst = crowd.detail.limiting_seeing_arcsec[row]
        assert alone.detail.limiting_seeing_arcsec[0] == pytest.approx(worst)


def test_the_faintest_star_falls_with_the_sky_and_the_air() -> None:
    """A brighter sky and the zenith's own extinction cost; small pupils darken the sky."""
    pupils = np.array([view.exit_pupil_mm for view in views()])
    dark, bright = zenith_limits_mag(setup(), pupils, np.array([21.5, 18.0]))
    assert (bright < dark).all()
    assert np.argmax(bright) == np.argmin(pupils)
    # Handbook rule 2.7 + 5 log D = 13.6 at high power; spread of published rules about 1 mag
    assert dark.max() == pytest.approx(13.6, abs=0.5)
    measured = setup(factor_air_mag=0.2)
    gained = zenith_limits_mag(measured, pupils, np.array([21.5]))[0] - dark
    assert gained == pytest.approx(np.full(len(pupils), 0.2))


def test_the_telescopes_own_figures_reach_the_image() -> None:
    """Aperture, obstruction, wavefront and the eye's age."""
    made = split_instrument(setup(age_years=70.0))
    assert made.clear_aperture_mm == 154.0
    assert made.obstruction_ratio == pytest.approx(35.0 / 154.0)
    assert made.figure.rms_waves == 0.055
    assert made.age_years == 70.0
