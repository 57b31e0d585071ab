"""The list pages of the sheet: the night at a glance, a row for each target."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.charts.letters import width_pt
from planner.charts.paint import Canvas
from planner.charts.scene import Anchor, Face, Pen, Words
from planner.sheets.altitude_figure import draw_altitudes
from planner.sheets.clock_words import clock, span
from planner.sheets.expectation import (
    broken,
    expectation,
    fitted,
    power_line,
    print_name,
    short_place,
)
from planner.sheets.night_words import LEGEND, SPAN_NOTE, TIME_NOTE, night_lines, nothing_words
from planner.sheets.seen_words import seen_words
from planner.sheets.sheet_page import CAUTION, MARGIN_PT, NAME_PT, NOTE_PT, READ_PT, Page

if TYPE_CHECKING:
    from planner.night.evening.outing import Call, Outing

MOST_ROW_PT = 34.0
ROWS_A_PAGE = 25
FIGURE_PT = 112.0
LINE_PT = 9.2
FOOT_PT = 44.0
NAME_X, CONSTELLATION_X, PLACE_X, POWER_X = 74.0, 278.0, 305.0, 358.0
NOTE_X, NOTE_ROOM_PT = 358.0, 70.0  # where notes begin, and the least room for one


def list_pages(outing: Outing, page: Page, by_time: bool) -> list[Canvas]:
    """Page 1 with the night's header and figure, and more where there are over 25 targets."""
    calls = outing.calls
    groups = [calls[:ROWS_A_PAGE]]
    groups += [
        calls[start : start + 2 * ROWS_A_PAGE]
        for start in range(ROWS_A_PAGE, len(calls), 2 * ROWS_A_PAGE)
    ]
    pages = []
    for index, group in enumerate(groups):
        canvas = Canvas(page.width_pt, page.height_pt)
        top = page.height_pt - MARGIN_PT
        if index == 0:
            top = _header(canvas, outing, page)
            if calls:
                top = _figure(canvas, outing, page, top)
        if not calls:
            for line in broken(nothing_words(outing.plan), page.width_pt - 2 * MARGIN_PT, READ_PT):
                top -= 14.0
                canvas.words(Words(MARGIN_PT, top, line, READ_PT))
        _rows(canvas, group, page, top)
        _foot(canvas, page, by_time and not outing.from_order)
        pages.append(canvas)
    return pages


def _header(canvas: Canvas, outing: Outing, page: Page) -> float:
    """Date and site, Sun and Moon, instrument, what is assumed; returns the height below."""
    title, *lines = night_lines(outing.plan)
    room = page.width_pt - 2 * MARGIN_PT
    y = page.height_pt - MARGIN_PT - 10.0
    canvas.words(Words(MARGIN_PT, y, fitted(title, room, 13.0, Face.BOLD), 13.0, face=Face.BOLD))
    y -= 3.0
    for text in _joined(lines):
        for line in broken(text, room, NOTE_PT):
            y -= LINE_PT
            canvas.words(Words(MARGIN_PT, y, line, NOTE_PT))
    return y - 6.0


def _joined(lines: list[str]) -> list[str]:
    """The Sun's lines as one, so that the header stays short."""
    sun, dawn, *rest = lines
    return [f"{sun}; {dawn}", *rest] if dawn.startswith("dawn") else lines


def _figure(canvas: Canvas, outing: Outing, page: Page, top: float) -> float:
    low = top - FIGURE_PT + 14.0
    width = page.width_pt - 2 * MARGIN_PT - 22.0
    draw_altitudes(canvas, outing, (MARGIN_PT + 20.0, low, width, FIGURE_PT - 20.0))
    return low - 16.0


def _rows(canvas: Canvas, calls: tuple[Call, ...], page: Page, top: float) -> None:
    if not calls:
        return
    right = page.width_pt - MARGIN_PT
    height = min(MOST_ROW_PT, (top - MARGIN_PT - FOOT_PT) / len(calls))
    canvas.line([(MARGIN_PT, top), (right, top)], Pen.RIM)
    for call in calls:
        _row(canvas, call, (top, height, right))
        top -= height
        canvas.line([(MARGIN_PT, top), (right, top)], Pen.SOFT_RIM)


def _row(canvas: Canvas, call: Call, place: tuple[float, float, float]) -> None:
    """Box, number, start, name, constellation, place, eyepiece; what to expect, and a note."""
    top, height, right = place
    target, left = call.target, MARGIN_PT
    first = top - 2.0 - 0.31 * height - 1.5
    second = first - 0.4 * height
    box = [(left, first - 1.5), (left + 9.5, first - 1.5), (left + 9.5, first + 8.0),
           (left, first + 8.0), (left, first - 1.5)]  # fmt: skip
    canvas.line(box, Pen.TICK)
    usable = span(target.window_start, target.window_end)
    number = f"{call.number}. {print_name(target)}"
    words = "; ".join(filter(None, (seen_words(target.seen), expectation(target))))
    told = fitted(f"({usable}) {words}", right - left - NOTE_ROOM_PT - 14.0, NOTE_PT)
    note_x = max(NOTE_X, 14.0 + width_pt(told, NOTE_PT) + 8.0)
    canvas.words(
        Words(left + 14.0, first, clock(call.start), READ_PT, face=Face.BOLD),
        Words(left + NAME_X - 24.0, first,
              fitted(number, CONSTELLATION_X - NAME_X + 22.0, NAME_PT, Face.BOLD), NAME_PT,
              face=Face.BOLD),
        Words(left + CONSTELLATION_X, first, target.constellation, READ_PT),
        Words(left + PLACE_X, first, short_place(target), READ_PT),
        Words(left + POWER_X, first, fitted(power_line(target), right - left - POWER_X, READ_PT),
              READ_PT),
        Words(left + 14.0, second, told, NOTE_PT),
        Words(left + note_x, second, "note:", NOTE_PT),
    )  # fmt: skip


def _foot(canvas: Canvas, page: Page, by_time: bool) -> None:
    """Cautions and how to read the rows; the page number is the caller's."""
    room = page.width_pt - 2 * MARGIN_PT - 60.0
    notes = [CAUTION, f"Place: at the start. {SPAN_NOTE} {LEGEND[1]}"]
    notes += [TIME_NOTE] if by_time else []
    lines = [line for note in notes for line in broken(note, room, 7.0)]
    for number, line in enumerate(lines):
        canvas.words(Words(MARGIN_PT, MARGIN_PT + FOOT_PT - 14.0 - 8.2 * number, line, 7.0,
                           Anchor.START))  # fmt: skip
