"""Red stars as points of light: what they hang on, and how sure a verdict on a variable can be."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from deepsky_samples import setup, views

from planner.targets.catalog import load_red_stars
from planner.targets.columns import frozen
from planner.targets.red_stars import RedStars
from planner.verdict.bodies.planets import body_margin_mag
from planner.verdict.bodies.red_stars import RedStarJudge
from planner.verdict.causes import AMPLE_MARGIN_MAG
from planner.verdict.sightlines import Sightlines
from planner.verdict.steps import Step

STARS = load_red_stars()
JUDGE = RedStarJudge(setup(), views())


def overhead(count: int, sky_mag: float = 20.9) -> Sightlines:
    """Sightlines to the zenith in a moonless night."""
    ones = np.ones(count)
    return Sightlines(90.0 * ones, sky_mag * ones, 0.0 * ones, 0.0 * ones)


def with_range(bright: float, faint: float, colour: float = 2.0) -> RedStars:
    """The table with one range and colour for all."""
    count = len(STARS)
    return replace(
        STARS,
        v_bright_mag=frozen(np.full(count, bright)),
        v_faint_mag=frozen(np.full(count, faint)),
        colour_bv=frozen(np.full(count, colour)),
    )


def test_the_middle_of_the_range_is_judged() -> None:
    """A wide range about one middle has the margin of a narrow one, and is far less sure."""
    narrow = JUDGE.judge(with_range(7.9, 8.1), overhead(len(STARS)))
    wide = JUDGE.judge(with_range(5.0, 11.0), overhead(len(STARS)))
    assert wide.margin == pytest.approx(narrow.margin)
    assert np.all(wide.uncertainty > narrow.uncertainty + 0.5)


def test_a_star_a_magnitude_fainter_has_a_magnitude_less_in_the_same_view() -> None:
    """By the definition of the magnitude; both far below plenty, so in the view that shows most."""
    faint = JUDGE.judge(with_range(13.0, 13.0), overhead(len(STARS)))
    fainter = JUDGE.judge(with_range(14.0, 14.0), overhead(len(STARS)))
    assert np.array_equal(faint.view, fainter.view)
    assert faint.margin - fainter.margin == pytest.approx(np.ones(len(STARS)))


def test_the_view_is_the_lowest_power_with_plenty_in_hand_else_the_one_that_shows_most() -> None:
    """Against every view by itself."""
    for middle in (8.0, 11.5, 14.0):
        stars = with_range(middle, middle, 0.6)
        found = JUDGE.judge(stars, overhead(len(STARS)))
        light = middle + setup().dimming_mag(np.ones(1))[0]
        alone = [
            float(body_margin_mag(setup(), view.exit_pupil_mm, light, 0.0, 20.9))
            for view in views()
        ]
        liked = [
            index
            for index, view in enumerate(views())
            if view.exit_pupil_mm >= setup().observer.least_exit_pupil_mm
        ]
        ample = [index for index in liked if alone[index] >= AMPLE_MARGIN_MAG]
        wanted = (
            min(ample, key=lambda index: views()[index].magnification)
            if ample
            else max(liked, key=lambda index: alone[index])
        )
        assert set(found.view) == {wanted}


def test_red_light_is_lost_on_the_dark_adapted_eye() -> None:
    """0.27 mag for each magnitude of B-V: Crumey 2014, MNRAS 442, 2600, eq. 18; to B-V 2."""
    margins = [
        JUDGE.judge(with_range(13.0, 13.0, colour), overhead(len(STARS))).margin[0]
        for colour in (0.5, 1.5, 2.0, 5.0)
    ]
    assert margins[0] - margins[1] == pytest.approx(0.27, abs=0.01)
    assert margins[2] == pytest.approx(margins[3])


def test_bright_ones_are_plain_in_a_small_telescope_and_all_are_judged() -> None:
    """Common practice, no source: mu Cephei, U Hydrae and TX Piscium show in any finder."""
    found = JUDGE.judge(STARS, overhead(len(STARS)))
    assert np.all(np.isfinite(found.margin))
    for name in ("mu Cep", "U Hya", "TX Psc"):
        assert found.step[STARS.name.tolist().index(name)] == Step.PLAIN
