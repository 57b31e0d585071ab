"""One chart as a file: the circle, what it is, when, and the way there in words."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from planner.angles import compass_point
from planner.charts.paint import chart_canvas, page_bytes, png_bytes
from planner.charts.svg import svg_file
from planner.files import write_whole
from planner.sheets.clock_words import clock
from planner.sheets.expectation import broken
from planner.sheets.sheet_page import NOTE_PT
from planner.sheets.way_words import way_sentences

if TYPE_CHECKING:
    from pathlib import Path

    from planner.charts.scene import Scene
    from planner.charts.sought import Found

RADIUS_PT = 190.0
SUFFIXES = (".pdf", ".png", ".svg")


def named_scene(scene: Scene, found: Found, place: str, with_way: bool) -> Scene:
    """The chart with its title, and below it when it holds and the way in words."""
    where = f"{found.altitude_deg:.0f}° up in the {compass_point(found.azimuth_deg)}"
    when = f"{found.when:%A} {found.when.day} {found.when:%B %Y} {clock(found.when)}, {place}"
    notes = [f"{when}: {where}", *scene.notes]
    if with_way:
        room = 2.0 * (RADIUS_PT + scene.room_pt) - 20.0
        notes += broken(" ".join(way_sentences(found.hop)), room, NOTE_PT)
    name = found.subject.name
    title = name if scene.title in ("", name) else f"{name}: {scene.title}"
    return replace(scene, title=title, notes=tuple(notes))


def write_chart(scene: Scene, path: Path) -> None:
    """Write a chart as its file's suffix says; whole or not at all, the same for the same chart."""
    suffix = path.suffix.lower()
    if suffix == ".svg":
        content = svg_file(scene, ". ".join(scene.notes)).encode("utf-8")
    elif suffix == ".png":
        content = png_bytes(chart_canvas(scene))
    else:
        content = page_bytes([chart_canvas(scene)], scene.title)
    write_whole(path, content)
