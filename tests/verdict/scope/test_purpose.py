"""Which view suits which purpose."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.eye.observer import Observer
from planner.optics.eyepiece import Eyepiece, Filter
from planner.optics.glass import Glass
from planner.optics.telescope import Design, Mount, Telescope
from planner.optics.view import all_views
from planner.verdict.scope.purpose import (
    AsAtNight,
    Fit,
    NearExitPupil,
    NearPower,
    Purpose,
    rank_by_exit_pupil,
    rank_for_purpose,
)
from planner.verdict.setup import Setup

F6 = Telescope(
    "six", Design.NEWTONIAN, Mount.HAND_MOVED, 150.0, 150.0, 900.0, 36.0, Glass(0.05), 0.8, 50.8
)
SIX_INCH = Setup(F6, Observer("o", 40.0, 6.5, 2.0, 0.0, 0.5), 21.3, 1.0, 0.2)
FOCAL_MM = (40.0, 30.0, 20.0, 12.0, 9.0, 6.0, 4.0, 2.5)
PIECES = tuple(Eyepiece(f"{f:g} mm", f, 60.0, barrel_mm=50.8) for f in FOCAL_MM)
VIEWS = all_views(F6, PIECES)


def exit_pupil_of_best(setup: Setup, purpose: Purpose) -> float:
    """Exit pupil of the first choice, mm."""
    return rank_for_purpose(setup, VIEWS, purpose)[0].view.exit_pupil_mm


@pytest.mark.parametrize(
    ("purpose", "least", "most"),
    [
        (Purpose.GALAXIES, 1.0, 4.0),
        (Purpose.NEBULAE, 3.0, 7.0),
        (Purpose.GLOBULARS, 0.7, 1.5),
        (Purpose.CLUSTERS, 2.0, 5.5),
        (Purpose.PLANETS, 0.7, 1.2),
        (Purpose.DOUBLES, 0.6, 1.0),
        (Purpose.SWEEPING, 4.5, 7.0),
    ],
)
def test_best_view_agrees_with_practice(purpose: Purpose, least: float, most: float) -> None:
    """Customary exit pupils for each purpose in steady air (common practice, no source)."""
    assert least <= exit_pupil_of_best(SIX_INCH, purpose) <= most


@pytest.mark.parametrize("purpose", [Purpose.PLANETS, Purpose.DOUBLES])
def test_bad_seeing_asks_for_less_power(purpose: Purpose) -> None:
    """At 4" the choice has a larger exit pupil than at 1", and the reason is the seeing."""
    bad = replace(SIX_INCH, seeing_arcsec=4.0)
    assert exit_pupil_of_best(bad, purpose) > exit_pupil_of_best(SIX_INCH, purpose)
    reason = rank_for_purpose(bad, VIEWS, purpose)[0].reason
    assert isinstance(reason, NearPower)
    assert reason.wanted.capped_by_seeing


@pytest.mark.parametrize("purpose", [Purpose.PLANETS, Purpose.DOUBLES])
def test_each_power_is_placed_against_those_wanted(purpose: Purpose) -> None:
    """Below the span too low, above it too high, in it right."""
    fits = set()
    for ranked in rank_for_purpose(SIX_INCH, VIEWS, purpose):
        reason, power = ranked.reason, ranked.view.magnification
        assert isinstance(reason, NearPower)
        assert (power < reason.wanted.least) == (reason.fit is Fit.TOO_LOW)
        assert (power > reason.wanted.most) == (reason.fit is Fit.TOO_HIGH)
        fits.add(reason.fit)
    assert {Fit.TOO_LOW, Fit.RIGHT} <= fits


def test_brighter_sky_takes_margin_from_galaxies() -> None:
    """A sky brighter by 2 mag costs every view margin."""
    town = replace(SIX_INCH, zenith_sky_mag=19.3)

    def told(setup: Setup) -> dict[str, float]:
        ranked = rank_for_purpose(setup, VIEWS, Purpose.GALAXIES)
        return {r.view.name: r.reason.margin_mag for r in ranked if isinstance(r.reason, AsAtNight)}

    dark, bright = told(SIX_INCH), told(town)
    assert len(bright) == len(VIEWS) - 1
    assert all(margin < dark[name] for name, margin in bright.items())


def test_a_filter_counts_for_nebulae_and_for_nothing_else() -> None:
    """It is named, gains what it gains at night, and leaves galaxies and clusters alone."""
    both = Filter("both lines", "nebula", 24.0, 0.92)
    for purpose in (Purpose.NEBULAE, Purpose.GALAXIES, Purpose.GLOBULARS, Purpose.CLUSTERS):
        bare = rank_for_purpose(SIX_INCH, VIEWS, purpose)[0].reason
        with_it = rank_for_purpose(SIX_INCH, VIEWS, purpose, (both,))[0].reason
        assert isinstance(bare, AsAtNight) and isinstance(with_it, AsAtNight)
        gained = with_it.margin_mag - bare.margin_mag
        named = purpose is Purpose.NEBULAE
        assert with_it.filter_name == ("both lines" if named else None)
        assert gained > 0.5 if named else gained == 0.0


def test_sweeping_counts_what_the_iris_cuts() -> None:
    """An old eye of 4 mm loses from 40 mm (6.7 mm exit pupil) what the wider field gains."""
    old = replace(SIX_INCH, observer=replace(SIX_INCH.observer, dark_pupil_mm=4.0))
    scores = {r.view.name: r.score for r in rank_for_purpose(old, VIEWS, Purpose.SWEEPING)}
    assert scores["40 mm"] == pytest.approx(40.0 * 60.0 / 900.0 * 4.0 / (40.0 / 6.0), rel=1e-9)


def test_narrow_field_says_that_the_nebula_does_not_fit() -> None:
    """A patch of half a degree in a field of 0.17 degrees."""
    reasons = {r.view.name: r.reason for r in rank_for_purpose(SIX_INCH, VIEWS, Purpose.NEBULAE)}
    wide, narrow = reasons["40 mm"], reasons["4 mm"]
    assert isinstance(wide, AsAtNight) and isinstance(narrow, AsAtNight)
    assert not wide.overflows
    assert narrow.overflows


@pytest.mark.parametrize("purpose", [Purpose.PLANETS, Purpose.DOUBLES])
@pytest.mark.parametrize("seeing", [0.8, 1.5, 2.0, 3.0, 6.0])
def test_the_first_power_is_never_too_high_and_the_rest_follow_by_nearness(
    purpose: Purpose, seeing: float
) -> None:
    """The highest within the bound; the lowest where all are past it."""
    ranked = rank_for_purpose(replace(SIX_INCH, seeing_arcsec=seeing), VIEWS, purpose)
    assert isinstance(ranked[0].reason, NearPower)
    most = ranked[0].reason.wanted.most
    powers = [r.view.magnification for r in ranked]
    within = [power for power in powers if power <= most]
    assert powers[0] == (max(within) if within else min(powers))
    for side in (within, [power for power in powers if power > most]):
        far = [abs(np.log(power / most)) for power in side]
        assert far == sorted(far)


@pytest.mark.parametrize("purpose", list(Purpose))
def test_views_below_the_least_exit_pupil_are_left_out(purpose: Purpose) -> None:
    """2.5 mm at f/6 is 0.42 mm, below 0.5; it stays only where there is nothing else."""
    assert "2.5 mm" not in {r.view.name for r in rank_for_purpose(SIX_INCH, VIEWS, purpose)}
    only = [view for view in VIEWS if view.name == "2.5 mm"]
    assert len(rank_for_purpose(SIX_INCH, only, purpose)) == 1


@pytest.mark.parametrize("purpose", list(Purpose))
def test_order_does_not_depend_on_the_order_given(purpose: Purpose) -> None:
    """Shuffled views come back the same, best score first."""
    shuffled = list(VIEWS)
    random.Random(7).shuffle(shuffled)
    ranked = rank_for_purpose(SIX_INCH, VIEWS, purpose)
    assert rank_for_purpose(SIX_INCH, shuffled, purpose) == ranked
    scores = [r.score for r in ranked]
    assert scores == sorted(scores, reverse=True)


@settings(deadline=None, max_examples=60)
@given(st.floats(0.3, 8.0))
def test_rank_by_exit_pupil_takes_the_nearest_by_ratio(wanted: float) -> None:
    """No other view is nearer, and an exact one scores 1."""
    best = rank_by_exit_pupil(VIEWS, wanted)[0]
    ratios = [max(v.exit_pupil_mm / wanted, wanted / v.exit_pupil_mm) for v in VIEWS]
    assert 1.0 / best.score == pytest.approx(min(ratios), rel=1e-9)
    exact = rank_by_exit_pupil(VIEWS, VIEWS[2].exit_pupil_mm)[0]
    assert exact.view == VIEWS[2]
    assert exact.reason == NearExitPupil(VIEWS[2].exit_pupil_mm, 1.0)
