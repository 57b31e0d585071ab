"""Shapes cut to the circle, and written as SVG."""

from __future__ import annotations

import io
from math import hypot, pi
from xml.etree import ElementTree as Tree

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.image import imread

from planner.charts.clip import clipped_area, clipped_ellipse, clipped_line
from planner.charts.grey_png import ink_png, light_png
from planner.charts.scene import Area, Dot, Ellipse, Pen, Polyline, Raster, Scene, Tone, Words
from planner.charts.svg import svg_element, svg_file

SVG = "{http://www.w3.org/2000/svg}"
PLACE = st.floats(-30.0, 30.0)
POINT = st.tuples(PLACE, PLACE)


def surface(points: tuple[tuple[float, float], ...]) -> float:
    """Area of a polygon by the surveyor's formula (textbook, from memory)."""
    x, y = np.array(points).T
    return abs(float(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1)))) / 2.0


@given(st.lists(POINT, min_size=2, max_size=6))
def test_clipped_line_stays_in_the_circle(points: list[tuple[float, float]]) -> None:
    """However it runs."""
    for part in clipped_line(points, 10.0, Pen.FIGURE):
        assert len(part.points) >= 2
        assert all(hypot(x, y) <= 10.0 + 1e-6 for x, y in part.points)


def test_clipped_line_keeps_the_chord() -> None:
    """A line at 6 from the centre of a circle of 10 leaves 16 of its length: 6-8-10."""
    (part,) = clipped_line([(-50.0, 6.0), (50.0, 6.0)], 10.0, Pen.LEG)
    (x1, y1), (x2, y2) = part.points
    assert (x1, y1, x2, y2) == pytest.approx((-8.0, 6.0, 8.0, 6.0))


def test_clipped_area_has_the_size_of_the_segment() -> None:
    """The half circle and the segment beyond half the radius, r^2 (pi/3 - sqrt(3)/4)."""
    below = [(-99.0, 0.0), (-99.0, -99.0), (99.0, -99.0), (99.0, 0.0)]
    assert surface(clipped_area(below, 10.0)) == pytest.approx(50.0 * pi, rel=0.002)
    lower = [(x, y - 5.0) for x, y in below]
    wanted = 100.0 * (pi / 3.0 - 3.0**0.5 / 4.0)
    assert surface(clipped_area(lower, 10.0)) == pytest.approx(wanted, rel=0.005)
    assert surface(clipped_area(lower[::-1], 10.0)) == pytest.approx(wanted, rel=0.005)


def test_clipped_area_is_all_or_nothing_where_no_edge_crosses() -> None:
    """A surface around the circle covers it, one beside it leaves nothing."""
    around = [(-50.0, -50.0), (50.0, -50.0), (50.0, 50.0), (-50.0, 50.0)]
    assert surface(clipped_area(around, 10.0)) == pytest.approx(100.0 * pi, rel=0.002)
    assert clipped_area([(x + 99.0, y) for x, y in around], 10.0) == ()


def test_an_ellipse_that_leaves_the_circle_becomes_lines() -> None:
    """One inside stays an ellipse."""
    inside = Ellipse(0.0, 0.0, (9.0, 4.0), 30.0, Pen.SOLID)
    assert clipped_ellipse(inside, 10.0) == ([inside], [])
    whole, parts = clipped_ellipse(Ellipse(8.0, 0.0, (9.0, 4.0), 0.0, Pen.SOLID), 10.0)
    assert not whole and parts
    assert all(hypot(*p) < 10.0 + 1e-6 for part in parts for p in part.points)


def test_svg_writes_every_shape_and_turns_y_down() -> None:
    """Read back by an XML parser; SVG counts y downwards (W3C SVG 1.1, 7.3)."""
    scene = Scene(
        50.0,
        areas=(Area(((0.0, 0.0), (1.0, 0.0), (0.0, 2.0)), Tone.GROUND),),
        rasters=(Raster(0.0, 0.0, 5.0, 2, bytes((0, 255, 10, 20))),),
        lines=(Polyline(((1.0, 2.0), (3.0, 4.0)), Pen.FIELD),),
        ellipses=(Ellipse(1.0, 2.0, (4.0, 3.0), 25.0, Pen.DOTTED),),
        dots=(Dot(10.0, 20.0, 3.0), Dot(-10.0, 20.0, 3.0)),
        words=(Words(5.0, 7.0, "<β¹ Cyg> & co", 8.0, clears=True),),
        title="a & b",
    )
    root = Tree.fromstring(svg_element(scene, "x < y"))
    assert root.findtext(f"{SVG}title") == "a & b" and root.findtext(f"{SVG}desc") == "x < y"
    (text,) = root.iter(f"{SVG}text")
    assert text.text == "<β¹ Cyg> & co" and float(text.get("y", "")) == -7.0
    (ellipse,) = root.iter(f"{SVG}ellipse")
    assert ellipse.get("transform") == "rotate(-25 1 -2)"
    paths = [path.get("d") for path in root.iter(f"{SVG}path")]
    assert "M-10 -20h0M10 -20h0" in paths and "M1 -2L3 -4" in paths
    assert not [name for node in root.iter() for name in node.attrib if name in ("style", "id")]
    Tree.fromstring(svg_file(scene).encode())


def test_a_raster_png_is_read_back_by_matplotlib() -> None:
    """Ink and light are opacity: pillow decodes palette and transparency."""
    shades = bytes((0, 255, 51, 102))
    raster = Raster(0.0, 0.0, 5.0, 2, shades, light=shades[::-1])
    for made, colour, opacity in (
        (ink_png(raster), 0.0, [0.0, 1.0, 0.2, 0.4]),
        (light_png(raster, 255), 1.0, [0.4, 0.2, 1.0, 0.0]),
    ):
        found = imread(io.BytesIO(made), format="png")
        np.testing.assert_allclose(found[..., 3].ravel(), opacity, atol=1e-6)
        np.testing.assert_allclose(found[..., 0], colour)
        assert not found[..., 1:3].any()


def test_raster_rejects_bytes_that_do_not_fill_it() -> None:
    """Rather than a picture askew."""
    with pytest.raises(ValueError, match="do not fill"):
        Raster(0.0, 0.0, 5.0, 3, b"12345678")
