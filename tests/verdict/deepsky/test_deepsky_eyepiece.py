"""The eyepiece for galaxies and globular clusters."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest
from deepsky_samples import objects, setup

from planner.optics.eyepiece import Eyepiece
from planner.optics.view import all_views
from planner.verdict.deepsky.margins import deepsky_margins, deepsky_tables

if TYPE_CHECKING:
    from planner.optics.view import View
    from planner.verdict.setup import Setup

EYEPIECES = [Eyepiece(f"{f:g} mm", f, 52.0) for f in (32.0, 25.0, 18.0, 12.0, 9.0, 7.0, 5.0)]
SKIES = (19.5, 20.5, 21.5)


@cache
def kit(aperture_mm: float, sky_mag: float) -> tuple[Setup, tuple[View, ...]]:
    """A Newtonian of f/6 with seven eyepieces."""
    base = setup(sky_mag)
    telescope = replace(
        base.telescope, aperture_mm=aperture_mm, clear_aperture_mm=aperture_mm,
        obstruction_mm=0.22 * aperture_mm, focal_length_mm=6.0 * aperture_mm,
    )  # fmt: skip
    return replace(base, telescope=telescope), all_views(telescope, EYEPIECES)


def chosen(name: str, aperture_mm: float, sky_mag: float) -> View:
    """The view named for an object overhead."""
    asked, views = kit(aperture_mm, sky_mag)
    one = np.full((1, 1), sky_mag)
    found = deepsky_margins(deepsky_tables(asked, views), objects(name), one * 0.0 + 0.2, one)
    return views[found.view[0, 0]]


@pytest.mark.parametrize("sky_mag", SKIES)
@pytest.mark.parametrize("name", ["NGC 6205", "NGC 6341", "NGC 7078"])
def test_bright_globulars_are_resolved_at_120_to_200_in_eight_inches(
    name: str, sky_mag: float
) -> None:
    """M 13, M 92 and M 15: common practice, no source."""
    assert 120.0 <= chosen(name, 200.0, sky_mag).magnification <= 200.0


@pytest.mark.parametrize("sky_mag", SKIES)
@pytest.mark.parametrize("name", ["NGC 4594", "NGC 3031", "NGC 5194", "NGC 4565", "NGC 891"])
def test_galaxies_get_no_power_for_a_hundredth_of_a_magnitude(name: str, sky_mag: float) -> None:
    """Exit pupils of 1 to 4.5 mm, bright and faint: common practice, no source."""
    for aperture_mm in (150.0, 200.0, 300.0):
        assert 1.0 <= chosen(name, aperture_mm, sky_mag).exit_pupil_mm <= 4.5
