"""The list on paper: nothing overlaps, nothing leaves the page, nothing is coloured."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.colors import to_rgb
from matplotlib.transforms import Affine2D
from sample_nights import plan

from planner.sheets.listing import Order, listing
from planner.sheets.paper import MARGIN_PT, PAGES, draw_pages, write_paper
from planner.targets.kind import Kind

if TYPE_CHECKING:
    from pathlib import Path

    from matplotlib.figure import Figure

FINE = 6
HAIR_PT = 1.0  # boxes of text may touch by the width of a hair
INK_SHARE = (0.005, 0.10)  # a page of text is neither empty nor black; own judgement


def text_boxes(figure: Figure) -> list[tuple[str, Any]]:
    """Every text with its box in points; drawn finely, so that no letter is moved to a pixel."""
    figure.set_dpi(72 * FINE)
    renderer = FigureCanvasAgg(figure).get_renderer()
    to_points = Affine2D().scale(1.0 / FINE)
    return [
        (text.get_text(), text.get_window_extent(renderer).transformed(to_points))
        for text in figure.axes[0].texts
    ]


def crowded() -> Any:
    """Many targets of all kinds, with long names among them."""
    return plan(limit=50)


def long_title() -> Any:
    """A site whose name, date and zone fill the line."""
    return plan("Beagle", "2026-09-23", kinds=frozenset({Kind.PLANET}))


@pytest.mark.parametrize("name", PAGES)
def test_every_text_stays_within_the_margins(name: str) -> None:
    """Half an inch and a bit all around."""
    page = PAGES[name]
    for figure in draw_pages(crowded(), page) + draw_pages(long_title(), page):
        for words, box in text_boxes(figure):
            assert box.x0 >= MARGIN_PT - HAIR_PT, words
            assert box.x1 <= page.width_pt - MARGIN_PT + HAIR_PT, words
            assert box.y0 >= 0.0 and box.y1 <= page.height_pt, words


def test_no_text_is_printed_over_another() -> None:
    """Long names are cut to their column."""
    for figure in draw_pages(crowded(), PAGES["letter"])[:3]:
        boxes = text_boxes(figure)
        for number, (words, box) in enumerate(boxes):
            for other, others_box in boxes[number + 1 :]:
                across = min(box.x1, others_box.x1) - max(box.x0, others_box.x0)
                along = min(box.y1, others_box.y1) - max(box.y0, others_box.y0)
                assert across < HAIR_PT or along < 2 * HAIR_PT, (words, other)


def test_the_page_is_drawn_in_black() -> None:
    """Text and lines; the paper stays white."""
    (figure, *_) = draw_pages(plan(), PAGES["a4"])
    axes = figure.axes[0]
    colours = {to_rgb(text.get_color()) for text in axes.texts}
    colours |= {to_rgb(line.get_color()) for line in axes.lines}
    assert colours == {(0.0, 0.0, 0.0)}
    assert not axes.patches and not axes.images and not axes.collections


def test_a_page_comes_out_of_the_printer_with_ink_on_it() -> None:
    """One page drawn for real: grey values only, some of it dark."""
    (figure, *_) = draw_pages(plan(), PAGES["a4"])
    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    pixels = np.asarray(canvas.buffer_rgba())[:, :, :3].astype(int)
    assert np.ptp(pixels, axis=2).max() == 0
    assert INK_SHARE[0] < (pixels[:, :, 0] < 128).mean() < INK_SHARE[1]


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("order", Order)
def test_targets_fill_pages_in_order(name: str, order: Order) -> None:
    """Numbered by worth, in either order; no page empty, every page with a foot."""
    pages = draw_pages(crowded(), PAGES[name], order)
    texts = [[text.get_text() for text in figure.axes[0].texts] for figure in pages]
    numbers = [
        int(words.split(".")[0])
        for page in texts
        for words in page
        if words.split(".")[0].isdigit() and ". " in words[:5]
    ]
    assert numbers == [rank for rank, _ in listing(crowded(), order)]
    assert sorted(numbers) == list(range(1, 51))
    assert any("numbers rank by worth" in words for words in texts[0]) == (order is Order.TIME)
    for number, page in enumerate(texts, start=1):
        assert f"page {number} of {len(pages)}" in page[-1]


def test_the_number_of_pages_is_told(tmp_path: Path) -> None:
    """As the file has them."""
    from pypdf import PdfReader

    place = tmp_path / "x.pdf"
    count = write_paper(plan(), place)
    assert len(PdfReader(io.BytesIO(place.read_bytes())).pages) == count
