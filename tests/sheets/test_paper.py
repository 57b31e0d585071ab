"""The sheet on paper: in grey, in order, the same for the same night, all of it on the page."""

from __future__ import annotations

import io
from functools import cache
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from matplotlib.image import imread
from pypdf import PdfReader
from sample_nights import request

from planner.charts.paint import png_bytes
from planner.night.evening.outing import listed_outing
from planner.optics.eyepiece import Finder
from planner.sheets.expectation import print_name
from planner.sheets.listing import Order
from planner.sheets.paper import PAGES, Part, draw_pages, write_paper

if TYPE_CHECKING:
    from pathlib import Path

    from planner.night.evening.outing import Outing

FINDERS = (Finder("8x50 finder", 8.0, 6.0, "inverted", 50.0),)
INK_SHARE = (0.005, 0.15)  # a page is neither empty nor black; own judgement


@cache
def outing(limit: int = 9, **more: Any) -> Outing:
    """A night of few targets."""
    return listed_outing(request(limit=limit, finders=FINDERS, **more))


@pytest.mark.parametrize("number", [0, 1])
def test_a_page_comes_out_of_the_printer_in_grey_with_ink_on_it(number: int) -> None:
    """The list and the first target page, drawn for real; nothing touches the paper's edge."""
    page = draw_pages(outing(), PAGES["a4"])[number]
    pixels = imread(io.BytesIO(png_bytes(page, 60)))[:, :, :3]
    assert np.ptp(pixels, axis=2).max() == 0.0
    dark = pixels[:, :, 0] < 0.5
    assert INK_SHARE[0] < dark.mean() < INK_SHARE[1]
    edge = np.ones(dark.shape, dtype=bool)
    edge[12:-8, 12:-12] = False
    assert not (dark & edge).any()


@pytest.mark.parametrize("name", PAGES)
@pytest.mark.parametrize("order", Order)
def test_targets_stand_in_order_and_every_page_has_its_foot(
    name: str, order: Order, tmp_path: Path
) -> None:
    """Numbered by worth, in either order."""
    place = tmp_path / "x.pdf"
    count = write_paper(outing(), place, name, Part.ALL, order)
    pages = [page.extract_text() for page in PdfReader(place).pages]
    assert count == len(pages) == 1 + 5
    places = {
        c.number: pages[0].index(f"{c.number}. {print_name(c.target)}") for c in outing().calls
    }
    numbers = sorted(places, key=places.__getitem__)
    if order is Order.WORTH:
        assert numbers == sorted(numbers)
    else:
        starts = {c.number: c.start for c in outing().calls}
        assert [starts[n] for n in numbers] == sorted(starts.values())
    for number, text in enumerate(pages, start=1):
        assert f"page {number} of {count}" in text


def test_the_same_night_gives_the_same_file(tmp_path: Path) -> None:
    """Byte for byte: no date of writing, no order of chance."""
    one, other = tmp_path / "one.pdf", tmp_path / "other.pdf"
    for place in (one, other):
        write_paper(outing(4), place, "a4", Part.ALL)
    assert one.read_bytes() == other.read_bytes()
