"""Objects with a bright middle: enclosed light, known objects, fields."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from planner.errors import ModelRangeError
from planner.eye.profile import (
    BULGE_SHARE,
    DISC_SCALES,
    STEEP_SCALES,
    STRONG_BULGE_SHARE,
    WEAK_BULGE_SHARE,
    Profile,
    Sizes,
    Views,
    enclosed_fraction,
    field_order,
    fitting_views,
    profile_limit,
    view_limit_mag,
)
from planner.eye.stars import EyeAtTelescope
from planner.eye.surface import patch_limit_mag

if TYPE_CHECKING:
    from collections.abc import Callable

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


def margins(profile: Profile, sky_mag: list[float]) -> NDArray[np.float64]:
    """Limit less V of the known galaxies (N, T) in six inches, without extinction."""
    limit = profile_limit(profile, GALAXIES, SIX_INCH, ANY_FIELD, np.array(sky_mag)).limit_mag
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


# Half-light radius (Harris 1996, AJ 112, 1487, 2010 edition) and handbook diameter of globular
# clusters, arcmin (both from memory): M 2, 3, 4, 5, 10, 12, 13, 15, 22, 55, 80, 92.
GLOBULARS = [
    (1.06, 16.0), (2.31, 18.0), (4.33, 36.0), (1.77, 23.0), (1.95, 20.0), (1.77, 16.0),
    (1.69, 20.0), (1.00, 18.0), (3.36, 32.0), (2.83, 19.0), (0.61, 10.0), (1.02, 14.0),
]  # fmt: skip


def test_globular_profile_has_half_its_light_where_the_median_cluster_has() -> None:
    """Harris's half-light radius over the handbook's radius; 0.02 is the median's own error."""
    half = np.median([2.0 * radius / diameter for radius, diameter in GLOBULARS])
    assert enclosed_fraction(Profile.GLOBULAR, half) == pytest.approx(0.5, abs=0.02)


def test_disc_and_steep_profiles_end_at_25_mag_per_arcsec2() -> None:
    """Freeman 1970: discs start at 21.65 in B and lose 1.0857 mag a scale length. de Vaucouleurs
    1948: 8.3268 ((r/re)^1/4 - 1) mag from the 22 at the half-light radius."""
    assert pytest.approx((25.0 - 21.65) / 1.0857, abs=0.05) == DISC_SCALES
    assert pytest.approx((1.0 + (25.0 - 22.0) / 8.3268) ** 4, abs=0.05) == STEEP_SCALES


@pytest.mark.parametrize(
    ("types", "share"),
    [((0, 1, 2), STRONG_BULGE_SHARE), ((3, 4), BULGE_SHARE), ((5, 6), WEAK_BULGE_SHARE)],
)
def test_bulge_shares_agree_with_simien_de_vaucouleurs1986(
    types: tuple[int, ...], share: float
) -> None:
    """Bulge fainter than the whole by ``0.324 t - 0.054 t^2 + 0.0047 t^3``, t = T + 5, for
    types S0/a 0 to Scd 6 (from memory); shares are rounded to 0.01 or so."""
    t = np.array(types) + 5.0
    fainter = 0.324 * t - 0.054 * t**2 + 0.0047 * t**3
    assert share == pytest.approx(np.mean(10.0 ** (-0.4 * fainter)), abs=0.013)


def _disc_light(r: float) -> float:
    return float(np.exp(-3.1 * r) * r)


def _steep_light(r: float, scales: float) -> float:
    return float(np.exp(-7.669 * (scales * r) ** 0.25) * r)


def _summed(light: Callable[[float], float], share: float) -> float:
    """Light inside an outline over all of it, by adaptive sums in the fourth root of the radius."""

    def ring(u: float) -> float:
        return light(u**4) * 4.0 * u**3

    inside, _ = quad(ring, 0.0, share**0.25, epsabs=0.0, epsrel=1e-9)
    beyond, _ = quad(ring, share**0.25, 10.0, epsabs=1e-14, epsrel=1e-9, limit=200)
    return float(inside / (inside + beyond))


@pytest.mark.parametrize("share", [0.03, 0.2, 0.6, 1.0, 1.6])
@pytest.mark.parametrize(
    ("profile", "bulge", "scales"),
    [
        (Profile.EXPONENTIAL_DISC, 0.0, 1.0),
        (Profile.WEAK_BULGE, 0.07, 15.0),
        (Profile.BULGE, 0.20, 15.0),
        (Profile.STRONG_BULGE, 0.40, 15.0),
        (Profile.STEEP, 1.0, 3.4),
        (Profile.GLOBULAR, 1.0, 5.5),
    ],
)
def test_enclosed_fraction_agrees_with_summed_brightness(
    profile: Profile, bulge: float, scales: float, share: float
) -> None:
    """Surface brightness of the stated laws summed over rings by scipy's quadrature."""
    steep = _summed(lambda r: _steep_light(r, scales), share) if bulge else 0.0
    disc = _summed(_disc_light, share) if bulge < 1.0 else 0.0
    expected = bulge * steep + (1.0 - bulge) * disc
    assert enclosed_fraction(profile, share) == pytest.approx(expected, abs=1e-6)


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


def test_the_view_named_is_the_one_that_shows_the_object_farthest() -> None:
    """Each of three views asked alone; the best differs with the object's size."""
    pupils, fields = np.array([0.7, 4.0, 2.0]), np.array([0.3, 1.5, 0.7])
    sizes = Sizes(np.array([0.3, 3.0, 12.0, 35.0]), np.array([0.3, 3.0, 12.0, 35.0]))
    found = profile_limit(Profile.UNIFORM, sizes, SIX_INCH, Views(pupils, fields), 20.0)
    alone = np.column_stack(
        [
            profile_limit(
                Profile.UNIFORM, sizes, SIX_INCH, Views(pupils[[n]], fields[[n]]), 20.0
            ).limit_mag[:, 0]
            for n in range(3)
        ]
    )
    fits = sizes.major_arcmin[:, None] <= 0.9 * 60.0 * fields
    best = np.argmax(np.where(fits, alone, -np.inf), axis=1)
    assert len(set(best.tolist())) > 1
    assert found.view_index[:, 0].tolist() == best.tolist()
    assert found.limit_mag[:, 0] == pytest.approx(alone[range(4), best], abs=1e-9)


def test_a_field_wider_than_the_object_adds_nothing() -> None:
    """No outline is larger than the object itself."""
    axes = (np.array([20.0]), np.array([12.0]))
    for profile in Profile:
        own, wider = (
            view_limit_mag(profile, SIX_INCH, 3.0, (*axes, np.array([w])), np.array([[21.0]]))
            for w in (20.0, 90.0)
        )
        assert wider == own


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
