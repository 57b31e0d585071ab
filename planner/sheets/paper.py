"""The night's paper: the night at a glance, then two targets a page with their charts."""

from __future__ import annotations

from dataclasses import replace
from enum import StrEnum
from typing import TYPE_CHECKING

from planner.charts.paint import page_bytes
from planner.charts.scene import Anchor, Words
from planner.files import write_whole
from planner.sheets.glance_page import list_pages
from planner.sheets.listing import Order
from planner.sheets.sheet_page import MARGIN_PT, PAGES, Page
from planner.sheets.target_pages import target_pages

if TYPE_CHECKING:
    from pathlib import Path

    from planner.charts.paint import Canvas
    from planner.night.evening.outing import Call, Outing


class Part(StrEnum):
    """Which pages of the sheet are written."""

    LIST = "list"
    CHARTS = "charts"
    ALL = "all"


def write_paper(
    outing: Outing, path: Path, page_name: str, part: Part, order: Order = Order.TIME
) -> int:
    """Write the sheet as a PDF file and return its number of pages.

    ``page_name`` is ``a4`` or ``letter``. The file appears whole or not at all, and is the same
    for the same night, kit and catalogs.
    """
    canvases = draw_pages(outing, PAGES[page_name], part, order)
    write_whole(path, page_bytes(canvases, f"Observing list {outing.plan.night.date}"))
    return len(canvases)


def draw_pages(
    outing: Outing, page: Page, part: Part = Part.ALL, order: Order = Order.TIME
) -> list[Canvas]:
    """Every page; the targets in an order, an order of the evening always in its own."""
    outing = listed_in(outing, order)
    canvases = [] if part is Part.CHARTS else list_pages(outing, page, order is Order.TIME)
    if part is not Part.LIST:
        canvases += target_pages(outing, page)
    if not canvases:
        canvases = list_pages(outing, page, order is Order.TIME)
    words = f"{outing.plan.night.date} {outing.plan.site.name}"
    for number, canvas in enumerate(canvases, start=1):
        canvas.words(
            Words(page.width_pt - MARGIN_PT, MARGIN_PT - 14.0,
                  f"{words}   page {number} of {len(canvases)}", 7.0, Anchor.END)
        )  # fmt: skip
    return canvases


def listed_in(outing: Outing, order: Order) -> Outing:
    """The outing with its targets as they are listed; an order of the evening keeps its own."""
    return in_order_of_time(outing) if order is Order.TIME and not outing.from_order else outing


def in_order_of_time(outing: Outing) -> Outing:
    """The same with its targets in the order of their starts, the one lost first before others."""
    calls, curves = outing.calls, outing.curves
    rows = sorted(range(len(calls)), key=lambda row: _time_key(calls[row]))
    return replace(
        outing,
        calls=tuple(calls[row] for row in rows),
        curves=replace(curves, target_deg=curves.target_deg[rows]),
    )


def _time_key(call: Call) -> tuple[float, float, int]:
    end = call.target.window_end
    return call.start.timestamp(), end.timestamp() if end else 0.0, call.number
