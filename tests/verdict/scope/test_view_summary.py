"""What each eyepiece does, as one row."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.eye.observer import Observer
from planner.optics.eyepiece import Barlow, Eyepiece
from planner.optics.glass import Glass
from planner.optics.telescope import Design, Mount, Telescope
from planner.optics.view import all_views, drift_s
from planner.verdict.faintest_star import faintest_star_mag
from planner.verdict.scope.view_summary import Use, darker_sky_mag, good_for, view_summaries
from planner.verdict.setup import Setup

SIX_INCH = Setup(
    Telescope(
        "six",
        Design.NEWTONIAN,
        Mount.HAND_MOVED,
        152.4,
        152.4,
        762.0,
        38.0,
        Glass(0.05),
        0.8,
        31.75,
    ),
    Observer("o", 60.0, 5.0, 2.0, 0.0, 0.6),
    21.0,
    1.5,
    0.2,
)
PIECES = (
    Eyepiece("40 mm", 40.0, 45.0, 27.0),
    Eyepiece("10 mm", 10.0, 60.0),
    Eyepiece("3 mm", 3.0, 60.0),
)
VIEWS = all_views(SIX_INCH.telescope, PIECES, [Barlow("2x", 2.0)])


def test_too_wide_an_exit_pupil_wastes_aperture() -> None:
    """40 mm at f/5 gives 8 mm; an eye of 5 mm uses 5/8 of 152.4 mm (geometry)."""
    widest = view_summaries(SIX_INCH, VIEWS)[0]
    assert widest.view.name == "40 mm"
    assert widest.wasted_aperture_mm == pytest.approx(152.4 * 3 / 8, rel=1e-9)


def test_sky_darkens_by_exit_pupil_squared() -> None:
    """Half the exit pupil, a quarter of the light: 1.505 mag (Crumey 2014, eq. 66)."""
    step = darker_sky_mag(SIX_INCH, 2.0) - darker_sky_mag(SIX_INCH, 4.0)
    assert step == pytest.approx(1.505, abs=0.0005)


def test_rows_carry_each_views_own_figures() -> None:
    """One row per view, in the order given, each with the figures of its own exit pupil."""
    rows = view_summaries(SIX_INCH, VIEWS)
    assert [row.view for row in rows] == list(VIEWS)
    for row in rows:
        assert row.faintest_mag == pytest.approx(
            float(faintest_star_mag(SIX_INCH, row.view.exit_pupil_mm)), rel=1e-9
        )
        assert row.drift_s == pytest.approx(float(drift_s(row.view.true_field_deg)), rel=1e-12)
        assert row.below_least_pupil == (row.view.exit_pupil_mm < 0.6)
    assert rows[-1].below_least_pupil


def test_fainter_eye_factor_shows_fainter_stars() -> None:
    """A keen observer (F 1.4) goes 0.39 mag deeper than a typical one (F 2): 2.5 log10(2/1.4)."""
    keen = replace(SIX_INCH, observer=replace(SIX_INCH.observer, field_factor=1.4))
    gain = (
        view_summaries(keen, VIEWS)[1].faintest_mag
        - view_summaries(SIX_INCH, VIEWS)[1].faintest_mag
    )
    assert gain == pytest.approx(0.387, abs=0.0005)


@pytest.mark.parametrize(
    ("exit_pupil", "use"),
    [
        (6.0, Use.FINDING),
        (2.2, Use.DEEP_SKY),
        (0.8, Use.PLANETS_AND_DOUBLES),
        (0.3, Use.LITTLE),
    ],
)
def test_good_for_agrees_with_practice(exit_pupil: float, use: Use) -> None:
    """Customary use of exit pupils (common practice, no source)."""
    assert good_for(exit_pupil) is use


@settings(deadline=None, max_examples=60)
@given(st.floats(0.05, 15.0), st.floats(1.0, 3.0))
def test_good_for_answers_every_exit_pupil(exit_pupil: float, wider: float) -> None:
    """No gap in the table, and a wider exit pupil never has a use further down."""
    uses = list(Use)
    assert uses.index(good_for(exit_pupil * wider)) <= uses.index(good_for(exit_pupil))
