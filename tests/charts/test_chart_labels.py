"""What holds of every chart of a year at three latitudes."""

from __future__ import annotations

import datetime as dt
from functools import cache
from math import hypot

import numpy as np
from sample_nights import request

from planner.angles import unit_vectors
from planner.charts.chart import build_chart
from planner.charts.letters import CAP_HEIGHT_EM, width_pt
from planner.charts.panels import Looks, eye_window, finder_window, view_window
from planner.charts.scene import Anchor, Scene, Words
from planner.charts.sky import Sky, skies_at
from planner.charts.subject import Subject
from planner.optics.eyepiece import Finder
from planner.targets.figures import load_figures
from planner.targets.kind import Kind

FINDER = Finder("8x50", 8.0, 6.0, "inverted", 50.0)
LATITUDES = ("Nordkapp", "Lindenhof", "Beagle")
FIRST = dt.datetime(2026, 1, 8, 3, 0, tzinfo=dt.UTC)
NIGHTS = [FIRST + dt.timedelta(days=15 * k) for k in range(24)]
HEIGHTS = ((25.0, 40.0), (55.0, 200.0), (12.0, 300.0), (89.5, 0.0))  # altitude, azimuth
RADIUS = 76.0
Box = tuple[float, float, float, float]


@cache
def charts() -> tuple[tuple[Scene, Subject, Sky], ...]:
    """Three circles at each height of each night of each site."""
    found = []
    for name in LATITUDES:
        order = request(name)
        looks = Looks(order.setup, FINDER, order.views[0])
        for number, sky in enumerate(skies_at(order.site, NIGHTS)):
            height, where = HEIGHTS[number % len(HEIGHTS)]
            (place,) = sky.direction(np.array([height]), np.array([where]))
            ra, dec = np.degrees(np.arctan2(place[1], place[0])), np.degrees(np.arcsin(place[2]))
            subject = Subject("NGC 1234", float(ra % 360.0), float(dec), Kind.GALAXY,
                              axes_arcmin=(8.0, 3.0), position_angle_deg=40.0)  # fmt: skip
            windows = (eye_window(RADIUS, looks), finder_window(RADIUS, FINDER, None),
                       view_window(RADIUS, order.setup, order.views[0], height))  # fmt: skip
            found += [(build_chart(subject, window, sky), subject, sky) for window in windows]
    return tuple(found)


def box(words: Words) -> Box:
    """Left, bottom, right, top of capitals."""
    width = width_pt(words.text, words.size_pt, words.face)
    left = words.x - {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}[words.anchor] * width
    return left, words.y, left + width, words.y + CAP_HEIGHT_EM * words.size_pt


def test_no_label_touches_another_and_all_stand_in_the_rim() -> None:
    """Labels are the words that clear what lies below; marks at the rim stand outside."""
    for scene, _, _ in charts():
        boxes = [box(words) for words in scene.words if words.clears]
        for one in range(len(boxes)):
            left, low, right, high = boxes[one]
            corners = [hypot(x, y) for x in (left, right) for y in (low, high)]
            assert max(corners) <= scene.radius_pt
            for other in boxes[one + 1 :]:
                apart = left >= other[2] or other[0] >= right or low >= other[3] or other[1] >= high
                assert apart, (scene.title, boxes[one], other)


def test_the_target_is_named_on_every_chart() -> None:
    """And the letters of the compass and the scale are there."""
    for scene, subject, _ in charts():
        texts = [words.text for words in scene.words]
        assert texts.count(subject.name) == 1
        assert {"N", "E"} <= set(texts)
        assert any(text.endswith(("°", "′", "″")) for text in texts)


def test_marks_at_the_rim_do_not_touch_the_scale() -> None:
    """North, east and the bar's length are told apart."""
    for scene, _, _ in charts():
        outside = [box(words) for words in scene.words if not words.clears]
        for one in range(len(outside)):
            for other in outside[one + 1 :]:
                a = outside[one]
                assert a[0] >= other[2] or other[0] >= a[2] or a[1] >= other[3] or other[1] >= a[3]


def test_nothing_is_drawn_below_the_ground() -> None:
    """Of the dots of the wide view none lies inside the ground's surface."""
    seen = 0
    for scene, _, _ in charts():
        grounds = [area for area in scene.areas if area.tone.name == "GROUND"]
        for area in grounds:
            seen += 1
            assert not [d for d in scene.dots if _inside(area.points, d.x, d.y, d.diameter_pt)]
    assert seen >= 3


def _inside(points: tuple[tuple[float, float], ...], x: float, y: float, slack: float) -> bool:
    """Whether a place lies in a polygon and farther than ``slack`` from its edge: even-odd rule."""
    p = np.array(points)
    a, b = p, np.roll(p, -1, axis=0)
    crosses = (a[:, 1] > y) != (b[:, 1] > y)
    with np.errstate(divide="ignore", invalid="ignore"):
        at = a[:, 0] + (y - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0])
    inside = bool(np.count_nonzero(crosses & (x < at)) % 2)
    return inside and float(np.hypot(p[:, 0] - x, p[:, 1] - y).min()) > slack


def test_every_end_of_a_figure_is_a_star_the_eye_sees() -> None:
    """To about V 5, and no line is longer than a hand and a half (26 degrees)."""
    figures = load_figures()
    ends = unit_vectors(figures.ra_deg, figures.dec_deg)
    assert len(set(figures.constellation)) >= 60
    lengths = np.degrees(np.arccos(np.einsum("nk,nk->n", ends[:, 0], ends[:, 1])))
    assert np.all(figures.hip > 0) and lengths.max() < 26.0 and lengths.min() > 0.0
