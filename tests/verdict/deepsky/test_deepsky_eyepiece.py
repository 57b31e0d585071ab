"""The eyepiece for galaxies and globular clusters: the night's, and that of the report."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest
from deepsky_samples import objects, setup

from planner.optics.eyepiece import Eyepiece, Filter
from planner.optics.view import all_views
from planner.verdict.deepsky.margins import deepsky_margins, deepsky_tables
from planner.verdict.scope.purpose import Purpose, rank_for_purpose
from planner.verdict.scope.ranked_view import AboveThreshold

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


@pytest.mark.parametrize("aperture_mm", [100.0, 150.0, 200.0])
def test_the_report_names_the_globulars_eyepiece_of_the_night(aperture_mm: float) -> None:
    """M 13 and M 92, which every view of use holds."""
    asked, views = kit(aperture_mm, 20.5)
    best = rank_for_purpose(asked, views, Purpose.GLOBULARS)[0].view
    for name in ("NGC 6205", "NGC 6341"):
        power = chosen(name, aperture_mm, 20.5).magnification
        assert power == pytest.approx(best.magnification, rel=0.45)  # one eyepiece apart at most


@pytest.mark.parametrize("sky_mag", SKIES)
def test_the_report_names_the_galaxies_eyepiece_of_the_night(sky_mag: float) -> None:
    """Within the uncertainty, for a galaxy with a bulge (NGC 3521)."""
    asked, views = kit(150.0, sky_mag)
    ranked = rank_for_purpose(asked, views, Purpose.GALAXIES)
    score = {one.view.name: one.score for one in ranked}
    night = score[chosen("NGC 3521", 150.0, sky_mag).name]
    assert night >= ranked[0].score - 0.5  # the model's own uncertainty


def test_a_filter_counts_in_the_report_for_nebulae() -> None:
    """O III gains about a magnitude on an emission nebula, and is named; a blue one is not."""
    asked, views = kit(150.0, 20.5)
    bare = rank_for_purpose(asked, views, Purpose.NEBULAE)
    oxygen = Filter("O III", "O III", 12.0, 0.9)
    filtered = rank_for_purpose(asked, views, Purpose.NEBULAE, (oxygen,))
    assert 0.5 < filtered[0].score - bare[0].score < 1.7
    assert isinstance(filtered[0].reason, AboveThreshold)
    assert filtered[0].reason.filter_name == "O III"
    grey = Filter("grey", "broad", 300.0, 0.5)
    unhelped = rank_for_purpose(asked, views, Purpose.NEBULAE, (grey,))
    assert [one.score for one in unhelped] == [one.score for one in bare]
