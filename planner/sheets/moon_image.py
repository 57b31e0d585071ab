"""The Moon of tonight as a picture: lit relief, turned as in the eyepiece, features numbered."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.angles import compass_point
from planner.charts.moon_disc import ROOM
from planner.charts.moon_picture import moon_picture
from planner.errors import PlannerError
from planner.night.plan import BodyDetail
from planner.optics.turn import telescope_turn
from planner.sheets.clock_words import day_and_clock
from planner.sheets.lunar_words import look_words
from planner.sheets.moon_text import STEP, chosen_sights, relief_sights
from planner.sheets.page_text import wrapped

if TYPE_CHECKING:
    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from planner.charts.moon_picture import MoonPicture
    from planner.night.plan import Plan, PlannedTarget
    from planner.optics.turn import Turn

PICTURE_SIDE = 1000  # pixels
BLACK, WHITE, QUIET, MARK = "black", "white", "0.72", "0.95"
MARKED_LINES = 24
RING = 0.018  # radius of a mark, in radii of the Moon
ARROW = 0.1


def moon_figure(plan: Plan) -> Figure:
    """Title, the disc with its numbered features, their list, and how the picture is turned.

    Raises PlannerError on a night without the Moon.
    """
    from matplotlib.figure import Figure

    target = plan.targets[0]
    detail = target.detail
    if not isinstance(detail, BodyDetail) or detail.moon is None or target.altitude_deg is None:
        raise PlannerError(
            "the Moon is not shown that night, so there is nothing to draw; try another --date"
        )
    turn = telescope_turn(plan.telescope, target.altitude_deg)
    sights = chosen_sights(relief_sights(detail.moon.sights), MARKED_LINES)
    names = [sight.name for sight in sights]
    picture = moon_picture(plan.site, detail.moon.time, turn, names, PICTURE_SIDE)
    figure = Figure(figsize=(12.0, 9.2), facecolor=BLACK)
    axes = figure.add_axes((0.01, 0.1, 0.6, 0.6 * 12.0 / 9.2))
    axes.imshow(picture.shades, cmap="gray", vmin=0.0, vmax=1.0, extent=(-ROOM, ROOM, -ROOM, ROOM))
    axes.set_axis_off()
    _marks(axes, picture)
    _arrows(axes, picture)
    lines = {sight.name: sight for sight in sights}
    listed = [
        f"{mark.number:2d}  {mark.name}: {look_words(lines[mark.name])}"
        f" ({STEP[lines[mark.name].feature.sureness]})"
        for mark in picture.marks
    ]
    figure.text(0.645, 0.84, "\n".join(listed), color=WHITE, fontsize=8.5, va="top",
                linespacing=1.55, parse_math=False)  # fmt: skip
    _words(figure, plan, target, turn)
    return figure


def turn_words(turn: Turn) -> str:
    """How the picture is turned, and how far that is known."""
    how = "mirrored, as a star diagonal does" if turn.mirrored else "not mirrored"
    if not turn.known:
        return (
            f"Turned by 180° as most Newtonians do, {how}; the focuser's place decides (kit: "
            "focuser_angle)."
        )
    return f"Turned as this telescope turns it at that height, head upright; {how}."


def _marks(axes: Axes, picture: MoonPicture) -> None:
    from matplotlib.patches import Circle

    for mark in picture.marks:
        axes.add_patch(Circle((mark.right, mark.up), RING, fill=False, color=MARK, linewidth=0.7))
        axes.plot((mark.right, mark.label[0]), (mark.up, mark.label[1]), color=QUIET,
                  linewidth=0.4)  # fmt: skip
        axes.text(*mark.label, str(mark.number), color=WHITE, fontsize=8, ha="center", va="center",
                  bbox={"boxstyle": "round,pad=0.15", "facecolor": BLACK, "alpha": 0.55,
                        "edgecolor": "none"})  # fmt: skip


def _arrows(axes: Axes, picture: MoonPicture) -> None:
    """Sky north and east in a corner, and the Moon's own north at her rim."""
    x, y = -0.86, 0.86
    for name, step in (("N", picture.sky_north), ("E", picture.sky_east)):
        axes.annotate("", xy=(x + ARROW * step[0], y + ARROW * step[1]), xytext=(x, y),
                      arrowprops={"arrowstyle": "-|>", "color": QUIET, "linewidth": 1.0,
                                  "shrinkA": 0.0, "shrinkB": 0.0})  # fmt: skip
        axes.text(x + 1.5 * ARROW * step[0], y + 1.5 * ARROW * step[1], name, color=QUIET,
                  fontsize=9, ha="center", va="center")  # fmt: skip
    axes.text(1.06 * picture.axis[0], 1.06 * picture.axis[1], "Moon's north", color=QUIET,
              fontsize=8, ha="center", va="center", clip_on=False)  # fmt: skip


def _words(figure: Figure, plan: Plan, target: PlannedTarget, turn: Turn) -> None:
    detail = target.detail
    assert isinstance(detail, BodyDetail) and detail.moon is not None
    when = day_and_clock(detail.moon.time)
    towards = compass_point(target.azimuth_deg or 0.0)
    where = f"{target.altitude_deg or 0.0:.0f}° high in the {towards}"
    figure.text(0.02, 0.955, f"The Moon from {plan.site.name}", color=WHITE, fontsize=15,
                fontweight="bold", parse_math=False)  # fmt: skip
    figure.text(0.98, 0.955, f"{when}, {where}", color=WHITE, fontsize=11, ha="right")
    view = detail.moon.view
    power = "" if view is None else (
        f"; {view.name}, {view.magnification:.0f}x, for {detail.moon.hardest}"
    )  # fmt: skip
    figure.text(
        0.02, 0.92, f"{detail.illuminated_fraction:.0%} lit, {detail.moon.age_days:.1f} days old"
        f"{power}", color=WHITE, fontsize=10.5, parse_math=False,
    )  # fmt: skip
    notes = [
        f"{turn_words(turn)} With the tube at rest the Moon drifts west, away from E.",
        "Relief lit as the Sun stands there, from maps of about 10 km: rilles and small craters "
        "are marked, not drawn. East and west in the list are the Moon's own, east towards Mare "
        "Crisium. Seeing and the telescope's blur are left out.",
    ]
    lines = [line for note in notes for line in wrapped(note, 0, width=185).splitlines()]
    figure.text(0.02, 0.065, "\n".join(lines), color=QUIET, fontsize=8.5, va="top",
                linespacing=1.35)  # fmt: skip
