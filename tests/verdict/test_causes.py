"""What stands in the way: the air and sky as they would be without it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from deepsky_samples import setup
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.sky.background import night_luminance_nl
from planner.sky.extinction import Aerosol, extinction_mag_per_airmass
from planner.sky.scales import nanolamberts
from planner.verdict.causes import air_now, air_without, costliest
from planner.verdict.sightlines import Sightlines
from planner.verdict.verdicts import Limit

SCALES_MAG = 1e-4  # of the printed conversion between magnitudes and nanolamberts


def low(altitude_deg: float = 15.0, moon: float = 0.0, twilight: float = 0.0) -> Sightlines:
    """One target under a sky of 20 mag."""
    values = (altitude_deg, 20.0, moon, twilight)
    return Sightlines(*(np.array([value]) for value in values))


@settings(deadline=None, max_examples=40)
@given(st.floats(5.0, 90.0), st.floats(0.05, 1.0))
def test_without_haze_a_target_is_as_bright_as_through_clear_air(
    altitude_deg: float, extinction_mag: float
) -> None:
    """At every height: all the air on the way is cleared, not one airmass of it."""
    clear = float(extinction_mag_per_airmass(0.0, Aerosol.CLEAR))
    used = replace(setup(), extinction_mag=extinction_mag)
    best = replace(setup(), extinction_mag=min(extinction_mag, clear))
    found = air_without(used, low(altitude_deg))[Limit.HAZE].dimming_mag
    assert found == pytest.approx(air_now(best, low(altitude_deg)).dimming_mag)


def test_overhead_a_target_loses_what_the_zenith_takes() -> None:
    """Whatever its height now; 15 degrees are 3.8 airmasses (1/sin 15 = 3.86)."""
    used = setup()
    without = air_without(used, low())[Limit.ALTITUDE]
    assert without.dimming_mag == pytest.approx(used.zenith_loss_mag)
    gain = air_now(used, low()).dimming_mag - without.dimming_mag
    assert gain == pytest.approx(0.2 * 2.8, abs=0.02)


@pytest.mark.parametrize("cause", ["moon", "twilight"])
@pytest.mark.parametrize("share", [0.0, 0.5, 0.9])
def test_a_share_of_the_light_left_out_darkens_the_sky_by_it(cause: str, share: float) -> None:
    """Half of the light is 0.75 mag, nine tenths 2.5; the target keeps its brightness."""
    lines = low(**{cause: share})
    now = air_now(setup(), lines)
    found = air_without(setup(), lines)[Limit[cause.upper()]]
    darker = float(found.sky_mag[0]) - 20.0
    assert darker == pytest.approx(-2.5 * np.log10(1.0 - share), abs=SCALES_MAG)
    assert found.dimming_mag == pytest.approx(now.dimming_mag)


def test_a_natural_sky_is_never_brighter_than_the_site() -> None:
    """Overhead a town's 18 mag becomes 21.9; a darker desert's stays as it is."""
    for zenith_sky_mag, natural in ((18.0, 21.9), (22.1, 22.1)):
        lines = replace(low(90.0), sky_mag=np.array([zenith_sky_mag]))
        found = air_without(setup(zenith_sky_mag), lines)[Limit.SKY_GLOW].sky_mag
        assert float(found[0]) == pytest.approx(natural, abs=0.02)


GAINS = st.lists(st.floats(-1.0, 3.0), min_size=2, max_size=2)


@settings(deadline=None, max_examples=60)
@given(st.floats(-3.0, 3.0), GAINS)
def test_the_costliest_cause_is_named_if_it_tells(now: float, gains: list[float]) -> None:
    """From 0.3 mag on, else the target's own; nothing where 1.5 mag are in hand."""
    causes = (Limit.MOON, Limit.HAZE)
    without = {cause: np.array([now + gain]) for cause, gain in zip(causes, gains, strict=True)}
    found = Limit(int(costliest(np.array([now]), without, Limit.FAINTNESS)[0]))
    most = max(gains)
    if abs(most - 0.3) < 1e-6:
        return
    if now >= 1.5:
        assert found is Limit.NOTHING
    elif most < 0.3:
        assert found is Limit.FAINTNESS
    else:
        assert gains[causes.index(found)] == pytest.approx(most)


def test_unknown_margins_name_the_targets_own_limit() -> None:
    """NaN now or without."""
    unknown = np.array([np.nan])
    assert costliest(unknown, {Limit.MOON: unknown}, Limit.FAINTNESS)[0] == Limit.FAINTNESS


@pytest.mark.parametrize("altitude_deg", [15.0, 40.0, 70.0])
def test_overhead_only_the_natural_glow_changes(altitude_deg: float) -> None:
    """The sky left is tonight's less the glow at that height, plus the glow of the zenith."""
    lines = low(altitude_deg, moon=0.4)
    used = replace(setup(21.0), extinction_mag=0.25)
    found = air_without(used, lines)[Limit.ALTITUDE].sky_mag
    here, zenith = (night_luminance_nl(21.0, 0.25, height) for height in (altitude_deg, 90.0))
    wanted = nanolamberts(20.0) - here + zenith
    assert nanolamberts(found) == pytest.approx(wanted, rel=1e-3)


def test_an_unknown_margin_names_no_cause() -> None:
    """NaN now or without: what counts is the object's own."""
    nan = np.array([np.nan])
    assert costliest(nan, {Limit.MOON: nan}, Limit.FAINTNESS).tolist() == [Limit.FAINTNESS]
