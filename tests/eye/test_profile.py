"""Objects with a bright middle: enclosed light, known objects, fields."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.errors import ModelRangeError
from planner.eye.profile import (
    STEEP_SCALES,
    Profile,
    Sizes,
    Views,
    enclosed_fraction,
    field_order,
    fitting_views,
    profile_limit,
)
from planner.eye.stars import EyeAtTelescope
from planner.eye.surface import patch_limit_mag

if TYPE_CHECKING:
    from numpy.typing import NDArray

SIX_INCH = EyeAtTelescope(152.4, 0.0, 1.0 / 1.33, 7.0, 2.0)
POWERS = np.geomspace(22.0, 300.0, 40)
ANY_FIELD = Views(152.4 / POWERS, np.full(40, 10.0))

# V, axes in arcmin: catalogue values (from memory). Margins worked out apart from the project
# for six inches, F = 2, Ft = 1.33, one eye, at the best power: uniform patch at 21.5, then disc
# at 21.5 and 20.0.
KNOWN = {
    "M 33": (5.7, 71.0, 42.0, 0.40, 1.33, 0.36),
    "M 101": (7.9, 29.0, 27.0, -0.42, 0.25, -0.69),
    "M 51": (8.4, 11.2, 6.9, 1.23, 1.40, 0.53),
    "M 74": (9.4, 10.5, 9.5, 0.02, 0.23, -0.64),
    "NGC 4565": (9.6, 15.9, 1.9, 0.74, 0.83, -0.09),
    "faint": (12.5, 2.0, 1.0, -0.36, -0.48, -1.21),
}
V_MAG, MAJOR, MINOR, UNIFORM, DISC_DARK, DISC_SUBURB = np.array(list(KNOWN.values())).T
GALAXIES = Sizes(MAJOR, MINOR)


def margins(profile: Profile, sky_mu: list[float]) -> NDArray[np.float64]:
    """Limit less V of the known galaxies (N, T) in six inches, without extinction."""
    limit = profile_limit(profile, GALAXIES, SIX_INCH, ANY_FIELD, np.array(sky_mu)).limit_mag
    return np.asarray(limit - V_MAG[:, None])


def test_margins_derived_from_the_stated_equation() -> None:
    """Checks the implementation: Crumey 2014, eq 88 over outlines; 0.05 for grids of power."""
    disc = margins(Profile.EXPONENTIAL_DISC, [21.5, 20.0])
    assert disc == pytest.approx(np.column_stack([DISC_DARK, DISC_SUBURB]), abs=0.05)
    uniform = margins(Profile.UNIFORM, [21.5])
    assert uniform[:, 0] == pytest.approx(UNIFORM, abs=0.05)


def test_margins_agree_with_experience_of_galaxies() -> None:
    """Six inches: M 33 and M 51 are shown by a dark sky, M 74 and M 101 are notoriously hard and
    go first under a suburban one (common practice, no source).
    """
    dark, suburb = margins(Profile.EXPONENTIAL_DISC, [21.5, 20.0]).T
    m33, m101, m51, m74 = range(4)
    assert min(dark[m33], dark[m51]) > 0.5 > max(dark[m101], dark[m74])
    assert suburb[m51] > 0.0 > max(suburb[m101], suburb[m74])


def test_enclosed_fraction_derived_from_the_stated_equations() -> None:
    """Half the light: disc at 1.678 scale lengths (Freeman 1970), steep at one half-light radius
    (de Vaucouleurs 1948), uniform at sqrt(1/2).
    """
    assert enclosed_fraction(Profile.EXPONENTIAL_DISC, 1.678 / 3.1) == pytest.approx(0.5, abs=1e-3)
    assert enclosed_fraction(Profile.STEEP, 1.0 / STEEP_SCALES) == pytest.approx(0.5, abs=1e-3)
    assert enclosed_fraction(Profile.UNIFORM, np.sqrt(0.5)) == pytest.approx(0.5, abs=1e-12)


def test_steep_profile_agrees_with_integrated_r_quarter_law() -> None:
    """de Vaucouleurs 1948: I = exp(-7.669 ((r/re)^1/4 - 1)), summed over rings."""
    r = np.linspace(0.0, 1.0, 20001) ** 4 * 400.0
    light = np.exp(-7.669 * (r**0.25 - 1.0)) * r
    rings = np.concatenate(([0.0], np.cumsum(0.5 * (light[1:] + light[:-1]) * np.diff(r))))
    for radius in (0.1, 1.0, 3.4):
        share = np.interp(radius, r, rings) / rings[-1]
        found = enclosed_fraction(Profile.STEEP, radius / STEEP_SCALES)
        assert found == pytest.approx(share, abs=2e-3)


@settings(deadline=None, max_examples=60)
@given(st.sampled_from(Profile), st.floats(1e-3, 3.0), st.floats(1e-3, 3.0))
def test_enclosed_fraction_grows_to_at_most_one(profile: Profile, one: float, other: float) -> None:
    inner, outer = enclosed_fraction(profile, sorted((one, other)))
    assert 0.0 < inner <= outer <= 1.0


def test_a_bright_middle_is_never_harder_than_its_whole() -> None:
    """The full outline is one of those tried; a uniform object gains nothing from smaller ones."""
    sizes = Sizes(np.array([0.5, 5.0, 50.0]), np.array([0.4, 5.0, 20.0]))
    one = Views(np.array([3.0]), np.array([10.0]))
    area = 0.25 * np.pi * sizes.major_arcmin * sizes.minor_arcmin
    whole = patch_limit_mag(SIX_INCH, 3.0, 21.0, area)
    for profile in Profile:
        limit = profile_limit(profile, sizes, SIX_INCH, one, 21.0).limit_mag[:, 0]
        assert np.all(limit >= whole + 2.5 * np.log10(enclosed_fraction(profile, 1.0)) - 1e-9)
    uniform = profile_limit(Profile.UNIFORM, sizes, SIX_INCH, one, 21.0).limit_mag[:, 0]
    assert uniform == pytest.approx(whole, abs=1e-9)


def test_views_are_used_only_where_the_object_fits() -> None:
    """Fields of 1.0, 0.5 and 0.25 deg hold 54', 27' and 13.5'."""
    views = Views(np.array([1.0, 4.0, 2.0]), np.array([0.25, 1.0, 0.5]))
    major = np.array([5.0, 13.5, 14.0, 30.0, 60.0, np.nan])
    assert field_order(views).tolist() == [1, 2, 0]
    assert fitting_views(views, major[:5]).tolist() == [3, 3, 2, 1, 0]
    found = profile_limit(Profile.UNIFORM, Sizes(major, major), SIX_INCH, views, 21.0)
    assert found.overflows.tolist() == [False, False, False, False, True, False]
    assert found.view_index[3:, 0].tolist() == [1, 1, -1]
    assert np.isnan(found.limit_mag[5, 0])


def test_an_overflowing_object_counts_only_inside_the_field() -> None:
    """A uniform object of twice the usable field has a quarter of its light in it: 1.505 mag."""
    views = Views(np.array([4.0]), np.array([1.0]))
    sizes = Sizes(np.array([54.0, 108.0]), np.array([54.0, 108.0]))
    limit = profile_limit(Profile.UNIFORM, sizes, SIX_INCH, views, 21.0).limit_mag[:, 0]
    assert limit[0] - limit[1] == pytest.approx(2.5 * np.log10(4.0), abs=1e-6)


def test_views_reject_uneven_or_empty_sets() -> None:
    with pytest.raises(ModelRangeError, match="at least one view"):
        Views(np.array([]), np.array([]))
    with pytest.raises(ModelRangeError, match="one length"):
        Views(np.array([1.0, 2.0]), np.array([1.0]))
