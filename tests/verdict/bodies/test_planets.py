"""Eyepieces for the Moon and planets, and planets against their sky."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from deepsky_samples import setup, views
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.verdict.bodies.planets import (
    body_limits,
    body_margin_mag,
    planet_views,
    whole_moon_view,
)
from planner.verdict.sightlines import Sightlines
from planner.verdict.verdicts import Limit

DAYLIGHT_MAG = 4.0  # zenith a few degrees from the Sun's setting; mag per square arcsecond
SOFT_ARCMIN = 5.0  # a disc of seeing larger than this at the eye is soft; common practice


@settings(deadline=None, max_examples=60)
@given(st.floats(0.4, 10.0), st.floats(0.4, 10.0))
def test_worse_air_never_asks_for_more_power(one: float, other: float) -> None:
    """In any two seeings."""
    steady, poor = sorted((one, other))
    powers = [views()[planet_views(setup(), views(), s)].magnification for s in (steady, poor)]
    assert powers[0] >= powers[1]


@settings(deadline=None, max_examples=60)
@given(st.floats(0.4, 9.0))
def test_the_power_is_the_highest_that_stays_sharp(seeing: float) -> None:
    """The seeing's disc looks no larger than 5 arcmin; the pupil no smaller than 0.7 mm."""
    chosen = views()[planet_views(setup(), views(), seeing)]
    assert chosen.magnification * seeing / 60.0 <= SOFT_ARCMIN
    fitting = [
        view.magnification
        for view in views()
        if view.magnification * seeing / 60.0 <= SOFT_ARCMIN and view.exit_pupil_mm >= 0.7
    ]
    assert chosen.magnification == max(fitting)


def test_the_lowest_power_is_left_when_the_air_boils() -> None:
    """Seeing of 20 arcsec bears 15 times; the kit begins with 32."""
    chosen = views()[planet_views(setup(), views(), 20.0)]
    assert chosen.magnification == min(view.magnification for view in views())


def test_the_moon_fits_into_her_field() -> None:
    """At most 33.5 arcmin across; the highest power that holds her, not the lowest."""
    chosen = views()[whole_moon_view(views())]
    assert chosen.true_field_deg * 60.0 > 33.5
    closer = [view for view in views() if view.magnification > chosen.magnification]
    assert all(view.true_field_deg < 0.6 for view in closer)


def test_the_widest_field_is_left_when_none_holds_the_moon() -> None:
    """High powers only."""
    narrow = [view for view in views() if view.true_field_deg < 0.5]
    assert whole_moon_view(narrow) == max(
        range(len(narrow)), key=lambda index: narrow[index].true_field_deg
    )


def margin(magnitude: float, sky_mag: float, airmass: float = 1.0) -> float:
    """In the view of 104 times."""
    view = next(view for view in views() if view.name == "10 mm")
    dimming = setup().dimming_mag(airmass)
    return float(body_margin_mag(setup(), view.exit_pupil_mm, magnitude, dimming, sky_mag))


def test_venus_is_seen_in_twilight_and_neptune_is_not() -> None:
    """Mag -4 by day and dusk, mag 7.8 only in the dark. Common practice, no source."""
    assert margin(-4.0, DAYLIGHT_MAG) > 0.0
    assert margin(7.8, 6.0) < 0.0
    assert margin(7.8, 21.0) > 2.0


@settings(deadline=None, max_examples=60)
@given(st.floats(-4.0, 8.0), st.floats(18.0, 22.0), st.floats(1.0, 8.0))
def test_the_margin_falls_with_magnitude_and_air(
    magnitude: float, sky_mag: float, airmass: float
) -> None:
    """One magnitude for one; extinction 0.2 mag for each airmass beyond the first."""
    base = margin(magnitude, sky_mag)
    assert margin(magnitude + 1.0, sky_mag) == pytest.approx(base - 1.0)
    assert margin(magnitude, sky_mag, airmass) == pytest.approx(base - 0.2 * (airmass - 1.0))


def test_what_limits_a_body_is_named() -> None:
    """Neptune in twilight, beside the Moon, high in the dark; Jupiter by the seeing alone."""
    moments = Sightlines(
        altitude_deg=np.full(4, 50.0),
        sky_mag=np.array([13.0, 16.0, 21.4, 21.4]),
        moon_share=np.array([0.0, 0.98, 0.0, 0.0]),
        twilight_share=np.array([0.99, 0.0, 0.0, 0.0]),
    )
    magnitude = np.array([10.5, 12.0, 14.5, -2.0])
    limits = body_limits(setup(21.4), np.full(4, 1.5), magnitude, moments)
    assert limits.tolist() == [Limit.TWILIGHT, Limit.MOON, Limit.FAINTNESS, Limit.SEEING]


def test_unknown_magnitudes_stay_unknown() -> None:
    """NaN in, NaN out; the others untouched."""
    found = body_margin_mag(setup(), 2.0, np.array([np.nan, 1.0]), 0.2, 21.0)
    assert np.isnan(found[0]) and np.isfinite(found[1])


def test_an_eye_measured_at_the_site_has_the_zenith_air_in_it() -> None:
    """The observer's own faintest star was seen through the air overhead already."""
    stated, measured = setup(), setup(factor_air_mag=0.2)
    lost = [
        float(body_margin_mag(s, 2.0, 5.0, s.dimming_mag(1.0), 21.0)) for s in (measured, stated)
    ]
    assert lost[0] - lost[1] == pytest.approx(stated.extinction_mag)
    assert measured.zenith_loss_mag == 0.0
    assert replace(measured, extinction_mag=0.5).zenith_loss_mag == pytest.approx(0.3)  # haze
