"""The table of limits against working them out directly."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.eye.margin_table import (
    NEAR_BEST_MAG,
    Liking,
    MarginTable,
    margin_table,
    view_standing,
)
from planner.eye.profile import RADIUS_STEP_DEX, Profile, ProfileLimit, Sizes, Views, profile_limit
from planner.eye.stars import EyeAtTelescope

TABLE_ERROR_MAG = 0.03  # promised by MarginTable.limit
EYE = EyeAtTelescope(158.0, 40.0, 0.8, 6.4, 1.8)
POWERS = np.array([32.0, 41.0, 64.0, 82.0, 103.0, 128.0, 171.0, 205.0, 257.0])
VIEWS = Views(158.0 / POWERS, 55.0 / POWERS)
LIKING = Liking(90.0, 4.0, 1.0)
TABLES = {profile: margin_table(profile, EYE, VIEWS, LIKING) for profile in Profile}


def _ask(table: MarginTable, size: float, axis_ratio: float, mu: float) -> ProfileLimit:
    return table.limit(Sizes(np.array([size]), np.array([size * axis_ratio])), mu)


@pytest.mark.parametrize("profile", Profile)
def test_table_agrees_with_direct_evaluation(profile: Profile) -> None:
    """Random objects from 0.6" to 3 deg, skies from twilight to the darkest."""
    random = np.random.default_rng(20250101)
    major = 10.0 ** random.uniform(-2.0, 2.25, 300)
    sizes = Sizes(major, major * random.uniform(0.1, 1.0, 300))
    sky = random.uniform(8.0, 22.3, (300, 4))
    direct = profile_limit(profile, sizes, EYE, VIEWS, sky)
    table = TABLES[profile].limit(sizes, sky)
    assert table.limit_mag == pytest.approx(direct.limit_mag, abs=TABLE_ERROR_MAG)
    assert np.array_equal(table.overflows, direct.overflows)
    assert direct.overflows.sum() > 10


@pytest.mark.parametrize("profile", Profile)
def test_the_view_chosen_shows_what_was_promised(profile: Profile) -> None:
    """With that view alone the limit is the same but for what is given up, twice the table's
    error either way; none nearer to the power liked shows it as well."""
    random = np.random.default_rng(7)
    sizes = Sizes(10.0 ** random.uniform(-1.5, 1.6, 40), np.full(40, 0.03))
    table = TABLES[profile].limit(sizes, np.array([21.3, 19.0, 17.5]))
    for n in range(40):
        only = Sizes(sizes.major_arcmin[n : n + 1], sizes.minor_arcmin[n : n + 1])
        for t, mu in enumerate((21.3, 19.0, 17.5)):
            view = table.view_index[n, t]
            one = Views(VIEWS.exit_pupil_mm[[view]], VIEWS.true_field_deg[[view]])
            alone = profile_limit(profile, only, EYE, one, mu)
            assert not alone.overflows[0]
            lost = table.limit_mag[n, t] - alone.limit_mag[0, 0]
            assert -2.0 * TABLE_ERROR_MAG <= lost <= NEAR_BEST_MAG + 2.0 * TABLE_ERROR_MAG
            mean = float(np.sqrt(only.major_arcmin * only.minor_arcmin)[0])
            step = 10.0 ** (0.5 * np.array([-RADIUS_STEP_DEX, 0.0, RADIUS_STEP_DEX]))
            near = LIKING.nearness(EYE.aperture_mm, VIEWS.exit_pupil_mm[:, None], mean * step)
            nearer = (near > near[view] + 1e-6).all(axis=1)
            for other in np.flatnonzero(nearer):
                one = Views(VIEWS.exit_pupil_mm[[other]], VIEWS.true_field_deg[[other]])
                found = profile_limit(profile, only, EYE, one, mu)
                lacks = table.limit_mag[n, t] - found.limit_mag[0, 0]
                assert found.overflows[0] or lacks >= NEAR_BEST_MAG - 2.0 * TABLE_ERROR_MAG


@settings(deadline=None, max_examples=60)
@given(st.floats(0.02, 200.0), st.floats(30.0, 1000.0))
def test_the_power_liked_keeps_to_its_exit_pupils(diameter: float, aperture: float) -> None:
    """And what is past the most borne comes behind all else, the lowest first."""
    power = float(LIKING.power(aperture, diameter))
    assert aperture / 4.0 * 0.999 <= power <= aperture * 1.001
    near = replace(LIKING, most_power=aperture).nearness(
        aperture, np.array([6.0, 2.0, 1.0, 0.9, 0.5]), diameter
    )
    assert near[:3].min() > near[3] > near[4] > 0.0


@pytest.mark.parametrize("mu", [21.3, 18.0])
@pytest.mark.parametrize("size", [0.3, 2.0, 12.0, 40.0])
def test_losses_of_views_tell_why_one_was_chosen(size: float, mu: float) -> None:
    """The nearest to the power liked of those that lose less than what is given up."""
    table = TABLES[Profile.BULGE]
    found = view_standing(table, (size, size), mu)
    losses, near = found.lost_mag, found.nearness
    exact = LIKING.nearness(EYE.aperture_mm, VIEWS.exit_pupil_mm, size)
    assert near == pytest.approx(exact, rel=0.06)  # half of a step of the table's sizes
    expected = int(np.argmax(np.where(losses <= NEAR_BEST_MAG, near, -1.0)))
    assert losses.min() == 0.0
    assert _ask(table, size, 1.0, mu).view_index[0, 0] == expected


def test_unknown_sky_or_size_gives_no_answer() -> None:
    sizes = Sizes(np.array([3.0, np.nan, 3.0]), np.array([2.0, 2.0, np.nan]))
    found = TABLES[Profile.STEEP].limit(sizes, np.array([21.0, np.nan]))
    assert np.isnan(found.limit_mag).tolist() == [[False, True], [True, True], [True, True]]
    assert (found.view_index >= 0).tolist() == [[True, False], [False, False], [False, False]]
    assert not found.overflows.any()


def test_one_object_is_an_element_of_many() -> None:
    major = np.array([0.3, 4.0, 22.0, 150.0])
    sky = np.array([[21.5, 20.0], [21.0, 19.0], [20.5, 18.0], [20.0, 17.0]])
    table = TABLES[Profile.EXPONENTIAL_DISC]
    many = table.limit(Sizes(major, 0.5 * major), sky).limit_mag
    for n in range(4):
        assert _ask(table, major[n], 0.5, sky[n, 1]).limit_mag[0, 0] == many[n, 1]


@settings(deadline=None, max_examples=60)
@given(
    st.sampled_from(Profile),
    st.floats(-2.0, 2.2),
    st.floats(0.1, 1.0),
    st.floats(8.0, 22.0),
    st.floats(0.0, 2.0),
)
def test_a_darker_sky_never_hides(
    profile: Profile, log_size: float, axis_ratio: float, mu: float, darker: float
) -> None:
    size = 10.0**log_size
    bright = _ask(TABLES[profile], size, axis_ratio, mu).limit_mag[0, 0]
    dark = _ask(TABLES[profile], size, axis_ratio, mu + darker).limit_mag[0, 0]
    assert dark >= bright - 1e-9


def test_a_larger_aperture_never_hides() -> None:
    """At the same exit pupils and fields."""
    larger = margin_table(Profile.EXPONENTIAL_DISC, replace(EYE, aperture_mm=200.0), VIEWS, LIKING)
    assert np.all(larger.limits >= TABLES[Profile.EXPONENTIAL_DISC].limits)


def test_a_further_eyepiece_never_hides() -> None:
    """Best of more views."""
    fewer = Views(VIEWS.exit_pupil_mm[::2], VIEWS.true_field_deg[::2])
    without = margin_table(Profile.STEEP, EYE, fewer, LIKING).limits[-1]
    assert np.all(TABLES[Profile.STEEP].limits[-1] >= without)
