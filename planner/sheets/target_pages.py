"""The target pages of the sheet: two targets a page, each with its circles and its way."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from planner.charts.chart import build_chart
from planner.charts.paint import Canvas, caption
from planner.charts.panels import (
    Looks,
    eye_window,
    finder_window,
    main_finder,
    pair_scene,
    view_window,
    with_rim_marks,
)
from planner.charts.projection import project
from planner.charts.scene import Anchor, Face, Pen, Scene, Words
from planner.charts.sky import skies_at
from planner.charts.subject import Subject, subject_of
from planner.sheets.clock_words import clock
from planner.sheets.expectation import (
    broken,
    chart_name,
    expectation,
    fitted,
    place_words,
    power_line,
)
from planner.sheets.sheet_page import CAUTION, MARGIN_PT, NOTE_PT, READ_PT, Page
from planner.sheets.way_words import way_sentences
from planner.targets.kind import Kind

if TYPE_CHECKING:
    from planner.charts.sky import Sky
    from planner.charts.window import Window
    from planner.night.evening.outing import Call, Outing

FOOT_PT = 26.0
PANEL_SHARE = 0.19  # of a block's height: the radius of its three circles; own judgement
HEAD_PT, CAPTION_PT, TITLE_PT = 62.0, 54.0, 38.0  # above the circles, under them, under the strip
NOTE_GAP_PT = 15.0
DRIFT_NOTE = (
    "Arrow: the way stars drift with the tube at rest. If the view does not match, turn the sheet "
    "until the drift runs along the arrow; a mirrored view stays mirrored."
)


@dataclass(frozen=True, slots=True, eq=False)
class _Block:
    """One target's place on a page: the top, the height, and the radii of its circles."""

    top: float
    height: float
    panel: float
    strip: float
    page: Page


def target_pages(outing: Outing, page: Page) -> list[Canvas]:
    """Two targets a page, in the order of the sheet."""
    skies = skies_at(outing.plan.site, [call.start for call in outing.calls])
    height = (page.height_pt - 2.0 * MARGIN_PT - FOOT_PT) / 2.0
    panel = PANEL_SHARE * height
    strip = (height - HEAD_PT - 2.0 * panel - CAPTION_PT - TITLE_PT) / 2.0
    pages = []
    for first in range(0, len(outing.calls), 2):
        canvas = Canvas(page.width_pt, page.height_pt)
        for number in (first, first + 1):
            if number < len(outing.calls):
                top = page.height_pt - MARGIN_PT - (number - first) * height
                block = _Block(top, height, panel, strip, page)
                _draw(canvas, outing, (outing.calls[number], skies[number]), block)
        _foot(canvas, page)
        pages.append(canvas)
    return pages


def _draw(canvas: Canvas, outing: Outing, what: tuple[Call, Sky], block: _Block) -> None:
    call, sky = what
    _heading(canvas, call, block)
    subject = subject_of(call.target, chart_name(call.target))
    windows = windows_of(outing, call, block.panel)
    radius, left = block.panel, MARGIN_PT + block.panel + 8.0
    step = (block.page.width_pt - 2.0 * left) / 2.0
    y = block.top - HEAD_PT - radius
    for number, window in enumerate(windows):
        hop = call.hop if window.look != "telescope" else None
        scene = build_chart(subject, window, sky, hop)
        x = left + number * step
        canvas.scene(scene, x, y)
        canvas.words(*caption(scene, x, y - radius - 28.0))
    _strip(canvas, outing, (call, subject, sky), block)


def _heading(canvas: Canvas, call: Call, block: _Block) -> None:
    left, right = MARGIN_PT, block.page.width_pt - MARGIN_PT
    target, top = call.target, block.top
    canvas.line([(left, top), (right, top)], Pen.RIM)
    y = top - 15.0
    canvas.line([(left, y - 1.0), (left + 10.0, y - 1.0), (left + 10.0, y + 9.0), (left, y + 9.0),
                 (left, y - 1.0)], Pen.RIM)  # fmt: skip
    place = f"{clock(call.start)}   {place_words(target)}"
    room = right - left - 190.0
    canvas.words(
        Words(left + 17.0, y, fitted(f"{call.number}. {target.name}", room, 13.0, Face.BOLD), 13.0,
              face=Face.BOLD),
        Words(right, y, place, 10.5, Anchor.END, Face.BOLD),
        Words(left, y - 14.0, fitted(expectation(target), room + 40.0, READ_PT), READ_PT),
        Words(right, y - 14.0, power_line(target), READ_PT, Anchor.END, Face.BOLD),
    )  # fmt: skip


def windows_of(outing: Outing, call: Call, radius: float) -> list[Window]:
    """The bare eye, the finder where there is one, and the lowest power."""
    looks = _looks(outing)
    altitude = call.target.altitude_deg or 0.0
    windows = [eye_window(radius, looks, "1  By eye")]
    if looks.finder is not None:
        windows.append(finder_window(radius, looks.finder, call.hop, f"2  {looks.finder.name}"))
    number = len(windows) + 1
    title = f"{number}  {looks.low.name}, {looks.low.magnification:.0f}x"
    windows.append(view_window(radius, looks.setup, looks.low, altitude, title))
    return windows


def _looks(outing: Outing) -> Looks:
    views = [view for view in outing.plan.views if view.barlow is None] or list(outing.plan.views)
    low = max(views, key=lambda view: view.true_field_deg)
    return Looks(outing.request.setup, main_finder(outing.request.finders), low)


def _strip(canvas: Canvas, outing: Outing, what: tuple[Call, Subject, Sky], block: _Block) -> None:
    """The way in words and lines for notes on the left, the planned view and a free circle."""
    call, subject, sky = what
    right = block.page.width_pt - MARGIN_PT
    scenes = [
        s
        for s in (
            planned_scene(outing, call, (subject, sky), block.strip),
            _drawing_circle(outing, call, (subject, sky), block.strip),
        )
        if s
    ]
    radius = block.strip
    y = block.top - block.height + radius + TITLE_PT
    x = right - radius - 12.0
    for scene in reversed(scenes):
        canvas.scene(scene, x, y)
        canvas.words(Words(x, y - radius - 24.0, scene.title, NOTE_PT, Anchor.MIDDLE, Face.BOLD))
        x -= 2.0 * radius + 34.0
    room = x + radius + 6.0 - MARGIN_PT
    line_y = block.top - HEAD_PT - 2.0 * block.panel - CAPTION_PT - 8.0
    for text in way_sentences(call.hop):
        for line in broken(text, room, READ_PT):
            canvas.words(Words(MARGIN_PT, line_y, line, READ_PT))
            line_y -= 11.5
    line_y -= 6.0
    while line_y > block.top - block.height + 8.0:
        canvas.line([(MARGIN_PT, line_y), (MARGIN_PT + room, line_y)], Pen.FAINT)
        line_y -= NOTE_GAP_PT


def planned_scene(
    outing: Outing, call: Call, what: tuple[Subject, Sky], radius: float
) -> Scene | None:
    """The view at the planned power: a pair close up; none where it is the lowest power."""
    subject, sky = what
    view, setup = call.target.view, outing.request.setup
    if view is None:
        return None
    window = view_window(radius, setup, view, call.target.altitude_deg or 0.0,
                         f"at {view.magnification:.0f}x")  # fmt: skip
    if subject.kind is Kind.DOUBLE and subject.position_angle_deg is not None:
        flat = project((subject.ra_deg, subject.dec_deg), sky.zenith, window.turn,
                       window.field_deg, radius)  # fmt: skip
        scene = pair_scene(subject, flat, setup.telescope.clear_aperture_mm,
                           f"the pair close up, {view.magnification:.0f}x")  # fmt: skip
        return with_rim_marks(scene, flat)
    if view.name == _looks(outing).low.name:
        return None
    return build_chart(subject, window, sky)


def _drawing_circle(outing: Outing, call: Call, what: tuple[Subject, Sky], radius: float) -> Scene:
    """An empty circle for the observer: the field, or the disc of a planet or the Moon."""
    subject, sky = what
    view = call.target.view or _looks(outing).low
    window = view_window(radius, outing.request.setup, view, call.target.altitude_deg or 0.0)
    flat = project((subject.ra_deg, subject.dec_deg), sky.zenith, window.turn, window.field_deg,
                   radius)  # fmt: skip
    disc = subject.kind in (Kind.MOON, Kind.PLANET)
    title = "your drawing: its disc" if disc else f"your drawing, {window.field_deg * 60:.0f}′"
    return with_rim_marks(Scene(radius, Pen.RIM, title=title), flat)


def _foot(canvas: Canvas, page: Page) -> None:
    lines = [DRIFT_NOTE, *broken(CAUTION, page.width_pt - 2 * MARGIN_PT - 60.0, 7.0)]
    y = MARGIN_PT + 12.0
    for line in lines:
        canvas.words(Words(MARGIN_PT, y, fitted(line, page.width_pt - 2 * MARGIN_PT, 7.0), 7.0))
        y -= 8.4
