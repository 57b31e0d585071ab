"""Mean surface brightness."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from target_samples import write_catalogs

from planner.targets.catalog import load_deepsky
from planner.targets.deepsky import mean_surface_brightness, surface_brightness

PRINTED_CONSTANT = 0.005  # half a unit of the last digit of 8.63


def test_disc_of_one_square_arcsecond_has_its_own_magnitude() -> None:
    across_arcmin = 2.0 / np.sqrt(np.pi) / 60.0
    assert mean_surface_brightness(7.0, across_arcmin, across_arcmin) == pytest.approx(
        7.0, abs=PRINTED_CONSTANT
    )


def test_full_moon_has_its_published_surface_brightness() -> None:
    # Cox 2000, Allen's Astrophysical Quantities: V -12.74, 31.1', 3.4 mag/arcsec2 (from memory)
    assert mean_surface_brightness(-12.74, 31.1, 31.1) == pytest.approx(3.4, abs=0.05)


@settings(deadline=None, max_examples=60)
@given(st.floats(0.0, 15.0), st.floats(0.01, 200.0), st.floats(0.01, 200.0), st.floats(1.1, 9.0))
def test_larger_object_of_same_light_is_dimmer(
    v: float, major: float, minor: float, factor: float
) -> None:
    small = mean_surface_brightness(v, major, minor)
    large = mean_surface_brightness(v, major * factor, minor)
    assert large - small == pytest.approx(2.5 * np.log10(factor), abs=1e-9)


def test_unknown_or_impossible_size_gives_no_answer() -> None:
    found = mean_surface_brightness([5.0, 5.0, np.nan], [np.nan, 0.0, 3.0], [1.0, 1.0, 3.0])
    assert np.isnan(found).all()


def test_missing_minor_axis_means_round(tmp_path_factory: pytest.TempPathFactory) -> None:
    objects = load_deepsky(write_catalogs(tmp_path_factory.mktemp("deepsky")))
    cluster = list(objects.id).index("Caldwell 14")
    assert np.isnan(objects.minor_arcmin[cluster])
    expected = mean_surface_brightness(5.3, 30.0, 30.0)
    assert surface_brightness(objects)[cluster] == pytest.approx(expected)
    assert np.isnan(surface_brightness(objects)[list(objects.id).index("NGC 281")])
