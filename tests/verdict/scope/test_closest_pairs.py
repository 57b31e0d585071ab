"""The closest pairs that the report tells, against the judge of the night and old rules."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from planner.kit.reading import load_kit
from planner.optics.glass import Glass
from planner.optics.resolution import dawes_arcsec, rayleigh_arcsec
from planner.optics.view import View
from planner.verdict.pairs.criteria import SplitClass
from planner.verdict.pairs.judge import judge_pairs, split_conditions, split_instrument
from planner.verdict.pairs.lookup import StudyPairs
from planner.verdict.pairs.tables import build_split_tables
from planner.verdict.scope.closest_pairs import (
    DIFFERENCES_MAG,
    PRIMARY_MAG,
    ClosestPairs,
    closest_pairs,
)
from planner.verdict.setup import Setup

KIT = load_kit()


def _setup(glass: Glass | None = None, band: tuple[Glass, Glass] | None = None) -> Setup:
    scope = replace(KIT.telescope(), glass_band=band)
    if glass is not None:
        scope = replace(scope, glass=glass)
    return Setup(scope, KIT.observer, 21.0, 2.0, 0.2)


def _views(setup: Setup) -> tuple[View, ...]:
    return tuple(KIT.views(setup.telescope))


def _closest(setup: Setup) -> tuple[ClosestPairs, ...]:
    return closest_pairs(setup, _views(setup))


def _bowl(depth: float) -> Glass:
    """Spherical aberration of a depth in waves; at its focus a quarter of it is left."""
    return Glass(0.02, profile=tuple((r, depth * (r / 80.0) ** 4) for r in np.linspace(0, 80, 20)))


def test_the_judge_of_the_night_splits_these_and_nothing_closer() -> None:
    setup = _setup()
    for told in _closest(setup):
        tonight = replace(setup, seeing_arcsec=told.seeing_arcsec)
        tables = build_split_tables(
            split_instrument(setup), [told.view.magnification], [told.view.exit_pupil_mm]
        )
        separation = np.array(told.separations_arcsec, dtype=float)
        ones = np.ones(len(separation))
        sky = split_conditions(tonight, [told.view], ones, 21.0 * ones, 0.0 * ones)
        for factor, splits in ((1.0, True), (0.97, False)):
            pairs = StudyPairs(
                factor * separation, PRIMARY_MAG * ones, PRIMARY_MAG + np.array(DIFFERENCES_MAG)
            )
            found = judge_pairs(tonight, [told.view], tables, pairs, sky).detail.split_class
            assert ((found >= SplitClass.JUST) == splits).all()


def test_in_the_best_air_two_alike_part_near_rayleighs_limit() -> None:
    """Dawes 1867: 116"/D mm, Rayleigh 138"/D: a dip of a fifth lies a little beyond."""
    (told,) = _closest(replace(_setup(), seeing_arcsec=0.4))
    aperture = KIT.telescope().clear_aperture_mm
    alike = told.separations_arcsec[0]
    assert alike is not None
    assert dawes_arcsec(aperture) < alike < 1.25 * rayleigh_arcsec(aperture)


def test_unlike_stars_and_worse_air_want_more_room() -> None:
    usual, good = (np.array(t.separations_arcsec, dtype=float) for t in _closest(_setup()))
    assert (np.diff(usual) > 0.0).all() and (np.diff(good) > 0.0).all()
    assert (good < usual).all()


def test_a_test_that_leaves_much_open_is_told_and_holds_the_glass_between() -> None:
    told = _closest(_setup(_bowl(0.7), (_bowl(1.6), _bowl(0.2))))
    for each in told:
        assert each.by_test is not None
        for here, (least, most) in zip(each.separations_arcsec, each.by_test, strict=True):
            assert here is not None and least is not None and most is not None
            assert least <= here <= most
    good_night = told[-1].by_test or ()
    ends = [most / least for least, most in good_night if least and most]
    assert max(ends) > 1.1


@pytest.mark.parametrize("band", [None, (_bowl(0.31), _bowl(0.29))])
def test_without_a_test_or_a_doubt_that_is_felt_no_band_is_told(
    band: tuple[Glass, Glass] | None,
) -> None:
    assert all(each.by_test is None for each in _closest(_setup(_bowl(0.3), band)))


def test_the_band_is_what_either_glass_alone_would_do() -> None:
    poor, good = _bowl(1.1), _bowl(0.2)
    told = _closest(_setup(_bowl(0.7), (poor, good)))[0].by_test
    assert told is not None
    for column, alone in ((0, good), (1, poor)):
        ends = [end[column] for end in told]
        assert ends == list(_closest(_setup(alone))[0].separations_arcsec)
