"""Deep-sky verdicts: what must hold of them, and famous objects as observers know them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from deepsky_samples import DARK_MAG, margins, objects, setup, tables, views
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.errors import ModelRangeError
from planner.eye.profile import Profile
from planner.optics.eyepiece import Filter
from planner.verdict.deepsky.margins import (
    deepsky_margins,
    deepsky_tables,
    hopeless_from_mag,
    margin_uncertainty_mag,
)
from planner.verdict.deepsky.profiles import profile_of
from planner.verdict.faintest_star import faintest_star_mag, second_faintest_star_mag

TABLE_MAG = 0.03  # of interpolation in the tables of limits
KINDS = ("NGC 6205", "NGC 3031", "NGC 6720", "NGC 2682", "NGC 1952", "NGC 4594")
EASY = ("NGC 224", "NGC 6205", "NGC 6720", "NGC 6853", "NGC 3031", "NGC 3034", "NGC 2632")


def test_famous_objects_are_plain_under_a_dark_sky() -> None:
    """M 31, 13, 57, 27, 81, 82 and 44 in six inches: common practice, no source."""
    assert margins(objects(*EASY)).min() > 1.5


def test_a_galaxy_of_sixteenth_magnitude_is_beyond_six_inches() -> None:
    """Handbook limit for stars: 2.7 + 5 log 154 = 13.6; small galaxies show less far."""
    faint = objects("NGC 3031", "NGC 4594", v_mag=[16.0, 15.0], major_arcmin=[1.0, 1.0])
    assert margins(faint).max() < 0.0


def test_bright_ellipticals_and_starbursts_stand_with_their_like() -> None:
    """Under a suburban sky: M 84, 86 and 87 near each other; M 82 near M 81; M 33 below M 66
    and M 77: common practice, no source."""
    sky = 20.0
    virgo = margins(objects("NGC 4374", "NGC 4406", "NGC 4486"), sky)
    assert np.ptp(virgo) < 0.5 and virgo.min() > 1.0
    m81, m82 = margins(objects("NGC 3031", "NGC 3034"), sky)
    assert abs(m81 - m82) < 1.0
    m33, m66, m77 = margins(objects("NGC 598", "NGC 3627", "NGC 1068"), sky)
    assert m33 < min(m66, m77)


def test_galaxies_are_in_the_order_observers_know() -> None:
    """Bright middles first, the pale last, in six inches: common practice, no source."""
    showy = objects("NGC 3031", "NGC 4594", "NGC 4826")  # M 81, 104, 64
    fair = objects("NGC 5194", "NGC 4258", "NGC 5055", "NGC 2903")  # M 51, 106, 63
    pale = objects("NGC 5457", "NGC 628", "NGC 891", "NGC 147", "NGC 185")  # M 101, M 74
    sky = 21.0
    assert margins(showy, sky).min() > margins(fair, sky).max()
    assert margins(fair, sky).min() > margins(pale, sky).max() + 0.5
    assert margins(fair, sky).min() > 1.0


def test_galaxies_follow_the_profile_of_their_stage() -> None:
    """RC3 types (from memory) of M 104, 81, 51, 74, 101, 82, NGC 147, 4565 (edge-on), 3115."""
    expected = {
        "NGC 4594": Profile.STRONG_BULGE,
        "NGC 3031": Profile.STRONG_BULGE,
        "NGC 5194": Profile.BULGE,
        "NGC 628": Profile.WEAK_BULGE,
        "NGC 5457": Profile.EXPONENTIAL_DISC,
        "NGC 3034": Profile.STRONG_BULGE,
        "NGC 147": Profile.EXPONENTIAL_DISC,
        "NGC 4565": Profile.WEAK_BULGE,
        "NGC 3115": Profile.STEEP,
    }
    names = tuple(expected)
    assert dict(zip(names, profile_of(objects(*names)), strict=True)) == expected


@settings(deadline=None, max_examples=40)
@given(st.floats(17.0, 22.0), st.floats(17.0, 22.0))
def test_a_brighter_sky_never_gains(one: float, other: float) -> None:
    """For every kind of object."""
    bright, dark = sorted((one, other))
    found = objects(*KINDS)
    assert (margins(found, bright) <= margins(found, dark) + TABLE_MAG).all()


@settings(deadline=None, max_examples=40)
@given(st.floats(0.0, 3.0))
def test_air_takes_what_it_dims(dimming: float) -> None:
    """Magnitude for magnitude, with the sky behind unchanged."""
    found = objects(*KINDS)
    assert margins(found, dimming_mag=dimming) == pytest.approx(margins(found) - dimming)


@settings(deadline=None, max_examples=40)
@given(st.floats(0.2, 60.0), st.floats(0.2, 60.0))
def test_the_same_light_spread_wider_is_never_easier(one: float, other: float) -> None:
    """Galaxies, nebulae and globulars of one magnitude: the larger has the smaller margin."""
    small, large = sorted((one, other))
    for name in ("NGC 3031", "NGC 1952", "NGC 6205", "NGC 6720"):
        pair = objects(
            name, name, v_mag=[10.0, 10.0], major_arcmin=[small, large],
            minor_arcmin=[small, large],
        )  # fmt: skip
        compact, spread = margins(pair)
        assert spread <= compact + TABLE_MAG


def test_a_tiny_object_is_judged_like_a_star() -> None:
    """A planetary of 3 arcsec: the limit of its total light is about that of a star."""
    tiny = objects("NGC 6720", v_mag=[11.0], major_arcmin=[0.05], minor_arcmin=[0.05])
    pupils = [view.exit_pupil_mm for view in views()]
    overhead = replace(setup(), extinction_mag=0.0)
    star = float(np.max(faintest_star_mag(overhead, pupils))) - 11.0
    assert margins(tiny)[0] == pytest.approx(star, abs=0.5)  # the model's own uncertainty


def test_one_object_is_judged_as_in_a_crowd() -> None:
    """Element by element the same, in any order."""
    crowd = margins(objects(*KINDS))
    assert margins(objects(*KINDS[::-1])) == pytest.approx(crowd[::-1])
    for name, margin in zip(KINDS, crowd, strict=True):
        assert margins(objects(name))[0] == pytest.approx(margin)


def test_unknown_brightness_has_no_margin_and_no_view() -> None:
    """NaN, not a guess."""
    unknown = objects(*KINDS, v_mag=[np.nan] * len(KINDS))
    shape = (len(KINDS), 3)
    judged = deepsky_margins(tables(), unknown, np.zeros(shape), np.full(shape, DARK_MAG))
    assert np.isnan(judged.margin_mag).all()
    assert (judged.view == -1).all() and (judged.filter_index == -1).all()


def test_the_view_holds_the_object_where_one_can() -> None:
    """True field no smaller than the object's long axis."""
    found = objects("NGC 2632", "NGC 2682", "NGC 6205", "NGC 6720")
    shape = (4, 1)
    judged = deepsky_margins(tables(), found, np.zeros(shape), np.full(shape, DARK_MAG))
    widest = max(view.true_field_deg for view in views())
    for size, index in zip(found.major_arcmin, judged.view[:, 0], strict=True):
        assert views()[index].true_field_deg * 60.0 >= min(size, widest * 60.0)


def test_only_what_is_larger_than_every_field_overflows() -> None:
    """M 31 is 3 degrees long, M 57 a dot; the widest field of the kit is 1.54 degrees."""
    found = objects("NGC 224", "NGC 6720", "NGC 6205")
    judged = deepsky_margins(tables(), found, np.zeros((3, 1)), np.full((3, 1), DARK_MAG))
    assert judged.overflows.tolist() == [True, False, False]


def test_what_is_called_hopeless_never_shows() -> None:
    """Even as a point of light overhead: objects fainter than that have no margin left."""
    limit = hopeless_from_mag(tables(), DARK_MAG)
    for size in (0.05, 1.0, 10.0):
        count = len(KINDS)
        faint = objects(
            *KINDS, v_mag=[limit] * count, major_arcmin=[size] * count,
            minor_arcmin=[size] * count,
        )  # fmt: skip
        judged = margins(faint)
        assert judged[[kind != "NGC 2682" for kind in KINDS]].max() < 0.0


def test_filters_help_nebulae_and_leave_galaxies_alone() -> None:
    """O III: planetaries gain, a galaxy's white light does not. Common practice, no source."""
    oxygen = Filter(name="O III", passes="O III", bandwidth_nm=12.0, transmission=0.9)
    found = objects("NGC 3587", "NGC 3031", "NGC 6205", "NGC 2682")  # M 97, 81, 13, 67
    shape = (4, 1)
    air, sky = np.zeros(shape), np.full(shape, 19.5)
    bare = deepsky_margins(tables(), found, air, sky)
    with_it = deepsky_margins(deepsky_tables(setup(), views(), (oxygen,)), found, air, sky)
    gain = (with_it.margin_mag - bare.margin_mag)[:, 0]
    assert gain[0] > 0.3
    assert gain[1:] == pytest.approx(0.0, abs=1e-9)
    assert with_it.filter_index[:, 0].tolist() == [0, -1, -1, -1]


def test_a_keener_eye_sees_more() -> None:
    """Field factor 1.4 against 2.4 is 2.5 log(2.4/1.4) = 0.59 mag (Crumey 2014, eq. 88)."""
    found = objects("NGC 3031", "NGC 6720", "NGC 6205")
    shape = (3, 1)
    air, sky = np.zeros(shape), np.full(shape, DARK_MAG)
    keen, casual = (
        deepsky_margins(deepsky_tables(setup(field_factor=f), views()), found, air, sky).margin_mag
        for f in (1.4, 2.4)
    )
    # 0.59 for every patch of light; the part of a profile that is seen grows with it
    assert ((keen - casual) >= 2.5 * np.log10(2.4 / 1.4) - TABLE_MAG).all()
    assert ((keen - casual) < 1.2).all()


def test_clusters_are_as_uncertain_as_the_star_models_differ() -> None:
    """Crumey against Schaefer at the same exit pupil and sky; half a magnitude for glows, one
    for nebulae."""
    found = objects("NGC 2632", "NGC 3031", "NGC 1952", "NGC 1976")  # M 44, 81, 1, 42
    wide = int(np.argmax([view.true_field_deg for view in views()]))
    sky = np.full(4, DARK_MAG)
    uncertain = margin_uncertainty_mag(tables(), found, np.full(4, wide), sky)
    pupil = views()[wide].exit_pupil_mm
    overhead = replace(setup(), extinction_mag=0.0)
    spread = abs(
        float(second_faintest_star_mag(overhead, pupil)) - float(faintest_star_mag(overhead, pupil))
    )
    assert spread > 0.3
    assert uncertain[0] == pytest.approx(spread, abs=0.01)  # grid of skies, 0.1 mag
    assert uncertain[1:].tolist() == [0.5, 1.0, 1.0]
    uncounted = objects("NGC 2682", "NGC 3034", member_v_mag=[np.nan, np.nan])
    assert margin_uncertainty_mag(tables(), uncounted, np.full(2, wide), sky[:2])[0] == 1.0


def test_tables_need_a_view() -> None:
    """No eyepiece, no answer."""
    with pytest.raises(ModelRangeError, match="view"):
        deepsky_tables(setup(), ())
