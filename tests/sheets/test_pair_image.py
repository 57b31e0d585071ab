"""The sheet with a pair's three pictures: data, words and arrows on it."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from sample_nights import request

from planner.night.plan import ObjectDetail
from planner.night.single_target import plan_single
from planner.optics.orientation import Orientation
from planner.optics.telescope import Mount
from planner.sheets.double_words import split_words
from planner.sheets.pair_image import PairSheet, orientation_lines, pair_figure, panel_class
from planner.sheets.verdict_words import verdict_words
from planner.verdict.pairs.criteria import SplitClass
from planner.verdict.pairs.picture import PairSight, greys, pair_picture
from planner.verdict.pairs.profiles import SplitInstrument

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from planner.night.plan import Plan

IZAR = "hip72105-AB"


@cache
def izar_plan() -> Plan:
    """A spring night's plan of Izar alone."""
    return plan_single(request(only=frozenset({IZAR})))[0]


def sheet(orientation: Orientation = Orientation.INVERTED, angle: float | None = 0.0) -> PairSheet:
    """Izar with a position angle of one's own, drawn for a 154 mm telescope."""
    plan = izar_plan()
    target = plan.targets[0]
    assert target.double is not None and target.view is not None and target.airmass is not None
    double = replace(target.double, position_angle_deg=angle)
    sight = PairSight(
        SplitInstrument(154.0, 0.227), target.view.magnification, target.view.exit_pupil_mm,
        double.separation_arcsec, angle, *double.magnitudes, target.airmass, 0.2, 2.0,
    )  # fmt: skip
    picture = pair_picture(sight, orientation)
    return PairSheet(plan, replace(target, detail=double), target.view, picture)


def words(figure: Figure) -> str:
    """All text outside the panels."""
    return "\n".join(text.get_text() for text in figure.texts)


def test_panels_hold_the_pictures_on_one_grey_scale() -> None:
    """Izar is not so unequal that the brighter star burns out."""
    drawn = sheet()
    panels = [axes.images[0] for axes in pair_figure(drawn).axes]
    assert np.allclose([panel.get_array() for panel in panels], greys(drawn.picture.images, 1.0))
    assert {panel.get_clim() for panel in panels} == {(0.0, 1.0)}
    assert all(panel.origin == "lower" for panel in panels)


def test_background_is_black() -> None:
    """For use in the dark: the sheet is black and so is the sky in the corners."""
    figure = pair_figure(sheet())
    assert figure.get_facecolor() == (0.0, 0.0, 0.0, 1.0)
    assert float(figure.axes[0].images[0].get_array()[0, 0]) < 0.1


def test_title_names_pair_angle_magnitudes_and_class() -> None:
    drawn = sheet(angle=344.0)
    double = drawn.target.double
    assert double is not None
    text = words(pair_figure(drawn))
    assert "Izar" in text
    assert f"{double.separation_arcsec:.2f}″, PA 344°" in text
    assert f"{double.magnitudes[0]:.1f} and {double.magnitudes[1]:.1f}" in text
    assert verdict_words(drawn.target) in text
    assert f"{drawn.view.magnification:.0f}x" in text


def test_the_date_is_that_of_the_moment_drawn() -> None:
    """After midnight the day after the evening's."""
    drawn = sheet()
    assert drawn.target.best_time is not None
    assert drawn.target.best_time.date() > drawn.plan.night.date
    assert f"{drawn.target.best_time:%Y-%m-%d %H:%M}, " in words(pair_figure(drawn))


def test_middle_panel_carries_the_plans_own_verdict() -> None:
    """Tonight's seeing is the seeing the plan was made for."""
    drawn = sheet()
    captions = [axes.get_xlabel() for axes in pair_figure(drawn).axes]
    assert captions[1] == verdict_words(drawn.target).replace("perhaps ", "")
    titles = [axes.get_title() for axes in pair_figure(drawn).axes]
    for title, fwhm in zip(titles, drawn.picture.fwhm_arcsec, strict=True):
        assert f"{fwhm:.1f}″" in title


@pytest.mark.parametrize("orientation", list(Orientation))
def test_arrow_to_north_points_as_the_companion_lies_at_position_angle_0(
    orientation: Orientation,
) -> None:
    """Definition of position angle; the letters stand beyond the arrows' points."""
    drawn = sheet(orientation)
    axes = pair_figure(drawn).axes[-1]
    letters = {t.get_text(): np.array(t.get_position()) for t in axes.texts if t.get_text()}
    start = np.array(next(t for t in axes.texts if not t.get_text()).xyann)
    north, east = letters["N"] - start, letters["E"] - start
    companion = np.subtract(drawn.picture.second, drawn.picture.first)
    assert north @ companion == pytest.approx(np.linalg.norm(north) * np.linalg.norm(companion))
    assert east @ companion == pytest.approx(0.0, abs=1e-9)


def test_scale_bar_is_as_long_as_it_says() -> None:
    axes = pair_figure(sheet()).axes[0]
    (bar,) = axes.get_lines()
    length = float(np.ptp(bar.get_xdata()))
    assert any(t.get_text().startswith(f"{length:g}″") for t in axes.texts)


def test_orientation_is_told_for_each_telescope_and_mount() -> None:
    """Two mirrors do not mirror; a hand-moved mount turns the field."""
    assert "not mirrored" in orientation_lines(sheet())[0]
    assert "the field turns through the night" in orientation_lines(sheet())[0]
    mirrored = sheet(Orientation.MIRRORED)
    driven = replace(mirrored.plan.telescope, mount=Mount.DRIVEN)
    line = orientation_lines(replace(mirrored, plan=replace(mirrored.plan, telescope=driven)))[0]
    assert "mirrored; drawn with north up" in line
    assert "driven alt-azimuth" in line


def test_unknown_position_angle_has_no_arrows() -> None:
    """The companion is drawn to the right, and that is said."""
    figure = pair_figure(sheet(angle=None))
    assert [t.get_text() for t in figure.axes[-1].texts] == []
    assert "position angle unknown" in words(figure)


def test_burnt_out_star_is_told() -> None:
    """4.5 mag apart the companion would be too dark on a screen."""
    drawn = sheet()
    assert drawn.target.double is not None
    faint = replace(drawn.target.double, magnitudes=(2.5, 7.0))
    figure = pair_figure(replace(drawn, target=replace(drawn.target, detail=faint)))
    assert "burns out" in words(figure)
    assert "burns out" not in words(pair_figure(drawn))


def test_pair_figure_rejects_a_target_that_is_no_double() -> None:
    drawn = sheet()
    with pytest.raises(ValueError, match="only a double star"):
        pair_figure(
            replace(drawn, target=replace(drawn.target, detail=ObjectDetail(False, False, None)))
        )


@pytest.mark.parametrize(
    ("seeing", "expected"),
    [(1.0, SplitClass.CLEAN), (1.5, SplitClass.JUST), (1.7, SplitClass.ELONGATED),
     (2.5, SplitClass.NOT_SPLIT)],
)  # fmt: skip
def test_panel_class_is_the_best_that_holds(seeing: float, expected: SplitClass) -> None:
    """A class that is never reached has 0."""
    double = izar_plan().targets[0].double
    assert double is not None
    worst = replace(double, limiting_seeing_arcsec=(2.0, 0.0, 1.5, 1.2))
    assert panel_class(worst, seeing) is expected
    assert split_words(expected, 0.0)


@pytest.mark.parametrize("angle", [344.0, None])
def test_every_text_of_the_sheet_stays_on_it(angle: float | None) -> None:
    """Measured by the renderer that writes the file."""
    figure = pair_figure(sheet(angle=angle))
    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    texts = [*figure.texts, *(t for axes in figure.axes for t in (*axes.texts, axes.title))]
    for text in texts:
        box = text.get_window_extent(canvas.get_renderer())
        assert box.x0 >= 0.0 and box.y0 >= 0.0, text.get_text()
        assert box.x1 <= figure.bbox.width and box.y1 <= figure.bbox.height, text.get_text()
