"""The circles of one target on the phone: by eye, in the finder, at low power, as planned."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from planner.charts.chart import build_chart
from planner.charts.subject import subject_of
from planner.charts.svg import svg_element
from planner.sheets.expectation import chart_name
from planner.sheets.target_pages import planned_scene, windows_of

if TYPE_CHECKING:
    from planner.charts.scene import Scene
    from planner.charts.sky import Sky
    from planner.night.evening.outing import Call, Outing

RADIUS_PT = 80.0  # of a circle; the page makes it as wide as the phone
ROOM_PT = 16.0  # around it, for north, east and the drift
FULL_RED = 255


@dataclass(frozen=True, slots=True)
class PhoneView:
    """One circle: its short name for the button, its lines, and the drawing as SVG markup."""

    button: str
    title: str
    notes: tuple[str, ...]
    svg: str


def views_of(outing: Outing, call: Call, sky: Sky) -> tuple[PhoneView, ...]:
    """The three windows of the paper and the planned view, where it is another."""
    subject = subject_of(call.target, chart_name(call.target))
    views = []
    for window in windows_of(outing, call, RADIUS_PT):
        hop = call.hop if window.look != "telescope" else None
        button = {"eye": "By eye", "finder": "Finder"}.get(window.look, "Low power")
        scene = build_chart(subject, window, sky, hop)
        if window.look != "eye":  # only around the eye's circle stand words
            scene = replace(scene, room_pt=ROOM_PT)
        views.append(_view(button, scene, subject.name))
    planned = planned_scene(outing, call, (subject, sky), RADIUS_PT)
    if planned is not None and call.target.view is not None:
        button = f"{call.target.view.magnification:.0f}x"
        views.append(_view(button, planned, subject.name))
    return tuple(views)


def _view(button: str, scene: Scene, name: str) -> PhoneView:
    """A scene with what a reader of the screen says of it."""
    words = [word.text for word in scene.words if len(word.text) > 1]
    described = "; ".join([name, *scene.notes, *([f"named: {', '.join(words)}"] if words else [])])
    svg = svg_element(scene, described, red=FULL_RED)
    _, _, title = scene.title.rpartition("  ")  # without the number that the paper gives it
    return PhoneView(button, title, scene.notes, svg)
