"""A pair as it should look tonight: three moments side by side, white on black."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot
from typing import TYPE_CHECKING

from planner.optics.orientation import Orientation
from planner.optics.telescope import Mount
from planner.sheets.clock_words import day_and_clock
from planner.sheets.double_words import limiting_seeing, split_words
from planner.sheets.page_text import wrapped
from planner.sheets.verdict_words import verdict_words
from planner.verdict.pairs.criteria import SplitClass
from planner.verdict.pairs.picture import MOMENTS, greys, white_share

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from planner.night.plan import DoubleDetail, Plan, PlannedTarget
    from planner.optics.view import View
    from planner.verdict.pairs.picture import PairPicture

BLACK, WHITE, QUIET = "black", "white", "0.72"
NOTE_COLUMNS = 172  # characters of a note that fit in the width
MOMENT_NAMES = ("in good moments", "tonight's seeing", "in poor moments")
ROUND_LENGTHS = (0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0)
BAR_SHARE = 0.3  # longest scale bar, share of the panel's width
ARROW_SHARE = 0.11  # length of the arrows to north and east


@dataclass(frozen=True, slots=True)
class PairSheet:
    """A pair of the plan and its picture in the view chosen for it."""

    plan: Plan
    target: PlannedTarget
    view: View
    picture: PairPicture


def pair_figure(sheet: PairSheet) -> Figure:
    """Title, three panels with one grey scale, and notes on how to read them.

    Raises ValueError for a target that is no double.
    """
    from matplotlib.figure import Figure

    double = sheet.target.double
    if double is None:
        raise ValueError("only a double star has a picture of this kind")
    figure = Figure(figsize=(11.0, 5.9), facecolor=BLACK)
    white = white_share(10.0 ** (-0.4 * double.difference_mag))
    shades = greys(sheet.picture.images, white)
    half = sheet.picture.half_width_arcsec
    for number, shade in enumerate(shades):
        axes = figure.add_axes((0.02 + 0.3245 * number, 0.235, 0.311, 0.58))
        axes.imshow(
            shade, cmap="gray", vmin=0.0, vmax=1.0, origin="lower",
            extent=(-half, half, -half, half), interpolation="bicubic",
        )  # fmt: skip
        axes.set_xticks([])
        axes.set_yticks([])
        for spine in axes.spines.values():
            spine.set_color("0.35")
        _caption(axes, sheet, number)
    _scale_bar(figure.axes[0], sheet.picture, sheet.view.magnification)
    if double.position_angle_deg is not None:
        _arrows(figure.axes[-1], sheet.picture)
    _words(figure, sheet, white)
    return figure


def panel_class(double: DoubleDetail, seeing_arcsec: float) -> SplitClass:
    """The best class of a pair that holds in a zenith seeing."""
    best = SplitClass.NOT_SPLIT
    for split_class in SplitClass:
        worst = limiting_seeing(double, split_class)
        if worst is not None and worst >= seeing_arcsec:
            best = max(best, split_class)
    return best


def _caption(axes: Axes, sheet: PairSheet, number: int) -> None:
    """The moment, its seeing in the line of sight, and the class that holds in it."""
    double = sheet.target.double
    assert double is not None
    seeing = sheet.plan.assumptions.seeing_arcsec * MOMENTS[number]
    words = split_words(panel_class(double, seeing), double.difference_mag)
    axes.set_title(
        f"{MOMENT_NAMES[number]}: {sheet.picture.fwhm_arcsec[number]:.1f}″",
        color=WHITE, fontsize=10.5, pad=6,
    )  # fmt: skip
    axes.set_xlabel(words, color=WHITE, fontsize=10.5, labelpad=6)


def _free_corner(picture: PairPicture, corners: tuple[tuple[int, int], ...]) -> tuple[int, int]:
    """The corner, as signs of (right, up), that lies farthest from both stars."""

    def nearest(corner: tuple[int, int]) -> float:
        right, up = (0.8 * picture.half_width_arcsec * sign for sign in corner)
        return min(hypot(right - x, up - y) for x, y in (picture.first, picture.second))

    return max(corners, key=nearest)


def _scale_bar(axes: Axes, picture: PairPicture, magnification: float) -> None:
    """A round number of arcseconds, and how long that looks in the eyepiece."""
    half = picture.half_width_arcsec
    length = max((x for x in ROUND_LENGTHS if x <= BAR_SHARE * 2.0 * half), default=0.5 * half)
    _, up = _free_corner(picture, ((-1, -1), (-1, 1)))
    left, low = -0.92 * half, (-0.9 if up < 0 else 0.8) * half
    axes.plot([left, left + length], [low, low], color=WHITE, linewidth=2, solid_capstyle="butt")
    axes.text(
        left, low + 0.035 * half,
        f"{length:g}″, looks {length * magnification / 60.0:.2g}′ long",
        color=WHITE, fontsize=8.5, va="bottom",
    )  # fmt: skip


def _arrows(axes: Axes, picture: PairPicture) -> None:
    """Arrows to north and east from one point in a free corner."""
    half, orientation = picture.half_width_arcsec, picture.orientation
    north, east = orientation.north, orientation.east
    length = 2.0 * ARROW_SHARE * half
    signs = _free_corner(picture, ((1, -1), (1, 1), (-1, -1), (-1, 1)))
    start = (
        0.76 * half * signs[0] - 0.5 * length * (north[0] + east[0]),
        0.76 * half * signs[1] - 0.5 * length * (north[1] + east[1]),
    )
    for name, (right, up) in (("N", north), ("E", east)):
        axes.annotate(
            "", xy=(start[0] + length * right, start[1] + length * up), xytext=start,
            arrowprops={"arrowstyle": "-|>", "color": WHITE, "linewidth": 1.1,
                        "shrinkA": 0.0, "shrinkB": 0.0},
        )  # fmt: skip
        axes.text(
            start[0] + 1.28 * length * right, start[1] + 1.28 * length * up, name,
            color=WHITE, fontsize=9.5, ha="center", va="center",
        )  # fmt: skip


def _words(figure: Figure, sheet: PairSheet, white: float) -> None:
    target, view = sheet.target, sheet.view
    double = target.double
    assert double is not None
    angle = (
        "position angle unknown" if double.position_angle_deg is None
        else f"PA {double.position_angle_deg:.0f}°"
    )  # fmt: skip
    pair = f"{double.components}: " if double.others else ""
    figure.text(
        0.02, 0.945, target.name, color=WHITE, fontsize=15, fontweight="bold", parse_math=False
    )
    figure.text(
        0.02, 0.895, f"{pair}{double.separation_arcsec:.2f}″, {angle}, magnitudes "
        f"{double.magnitudes[0]:.1f} and {double.magnitudes[1]:.1f}: {verdict_words(target)}",
        color=WHITE, fontsize=10.5, parse_math=False,
    )  # fmt: skip
    figure.text(
        0.98, 0.945, f"{sheet.plan.telescope.name}, {view.name}, {view.magnification:.0f}x",
        color=WHITE, fontsize=10.5, ha="right", parse_math=False,
    )  # fmt: skip
    altitude = "" if target.altitude_deg is None else f", {target.altitude_deg:.0f}° high"
    when = "" if target.best_time is None else day_and_clock(target.best_time)
    figure.text(0.98, 0.895, f"{when}{altitude}", color=WHITE, fontsize=10.5, ha="right")
    notes = [*orientation_lines(sheet), *_reading_lines(white)]
    lines = [line for note in notes for line in wrapped(note, 0, width=NOTE_COLUMNS).splitlines()]
    figure.text(
        0.02, 0.155, "\n".join(lines), color=QUIET, fontsize=8.5, va="top", linespacing=1.35
    )


def orientation_lines(sheet: PairSheet) -> list[str]:
    """How the picture is turned, and what the mount makes of it."""
    if sheet.target.double is None or sheet.target.double.position_angle_deg is None:
        return ["The position angle is unknown: the companion is drawn to the right."]
    inverted = sheet.picture.orientation is Orientation.INVERTED
    how = (
        "Two mirrors: turned by 180°, not mirrored; drawn with north down. At the eyepiece, "
        "focuser and head decide where north lies"
        if inverted
        else "With a star diagonal: mirrored; drawn with north up. At the eyepiece, the diagonal "
        "decides where north lies"
    )
    turning = (
        ", and the field turns through the night."
        if sheet.plan.telescope.mount is Mount.HAND_MOVED
        else "; on a driven alt-azimuth the field turns through the night."
    )
    return [f"{how}{turning} With the mount at rest the stars drift west, away from E."]


def _reading_lines(white: float) -> list[str]:
    burnt = (
        "."
        if white == 1.0
        else "; the brighter star burns out so that the fainter shows on a screen."
    )
    return [
        f"Seeing: {MOMENTS[0]:g}, {MOMENTS[1]:g} and {MOMENTS[2]:g} times tonight's, full width "
        "at half maximum in the line of sight at the best time. Telescope, air and eye are in it, "
        "smoothed over many moments: real rings are broken and moving; glare is not drawn.",
        f"One grey scale for all three: the root of the light, as the eye takes a point{burnt}",
    ]
