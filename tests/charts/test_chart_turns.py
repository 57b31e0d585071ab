"""How a view is turned: the hand table against the drawn rim, and rays traced through a flat."""

from __future__ import annotations

from dataclasses import replace
from math import atan2, cos, degrees, radians, sin
from typing import TYPE_CHECKING

import numpy as np
import pytest
from sample_nights import KIT

from planner.angles import unit_vectors
from planner.charts.chart import turn_words
from planner.charts.projection import Projection, project
from planner.charts.rim import compass_marks, drift_arrow
from planner.charts.window import Window
from planner.optics.telescope import Design
from planner.optics.turn import IMAGE_TURNS, Turn, telescope_turn

if TYPE_CHECKING:
    from planner.optics.telescope import Telescope

LATITUDE = 48.0
ZENITH = unit_vectors(0.0, LATITUDE)  # the meridian at right ascension 0
SIDES = {"U": (0.0, 1.0), "D": (0.0, -1.0), "L": (-1.0, 0.0), "R": (1.0, 0.0)}
# The position angle of the zenith at each place.
PLACES = {"south": 0.0, "below pole": 0.0, "above pole": 180.0, "east": -90.0, "west": 90.0}
# North, east and drift in the image, worked out by hand for 48 degrees north.
HAND_TABLE = {
    "south": ("ULR", "DRL", "URL"),
    "below pole": ("ULR", "DRL", "URL"),
    "above pole": ("DRL", "ULR", "DLR"),
    "east": ("LDU", "RUD", "RDU"),
    "west": ("RUD", "LDU", "LUD"),
}
IMAGES = ("upright", "inverted", "mirrored")
CASES = [
    (place, image, words)
    for place, row in HAND_TABLE.items()
    for image, words in zip(IMAGES, row, strict=True)
]


def flat_at(place: str, turn: Turn) -> Projection:
    """A small field at a place of the table as a view turns it."""
    if place == "south":
        centre = (0.0, 0.0)
    elif place == "above pole":
        centre = (0.0, 70.0)
    elif place == "below pole":
        centre = (180.0, 60.0)
    else:  # where a star's way stands upright: cos H = tan lat / tan dec (textbook, from memory)
        declination = 70.0
        hours = degrees(np.arccos(np.tan(radians(LATITUDE)) / np.tan(radians(declination))))
        centre = ((hours if place == "east" else -hours) % 360.0, declination)
    return project(centre, ZENITH, turn, 2.0, 50.0)


def seen_sides(flat: Projection) -> str:
    """Where the drawn N, E and the head of the drift arrow stand, as letters."""
    _, letters = compass_marks(flat)
    shaft, head = drift_arrow(flat)
    middle = 0.73 * letters[0].size_pt / 2.0
    places = [(word.x, word.y + middle) for word in letters] + [head.points[0]]
    assert np.hypot(*head.points[0]) > np.hypot(*shaft.points[0])  # it points outward
    found = ""
    for x, y in places:
        length = np.hypot(x, y)
        (side,) = [
            name for name, (a, b) in SIDES.items() if (x * a + y * b) / length > cos(radians(5.0))
        ]
        found += side
    return found


@pytest.mark.parametrize(("place", "image", "words"), CASES)
def test_the_drawn_rim_agrees_with_the_hand_table(place: str, image: str, words: str) -> None:
    """North, east and drift: textbook geometry of the sphere, worked out by hand."""
    flat = flat_at(place, IMAGE_TURNS[image])
    off = abs((flat.zenith_pa_deg - PLACES[place] + 180.0) % 360.0 - 180.0)
    assert off < 1e-6
    assert seen_sides(flat) == words


def newtonian(focuser_deg: float | None) -> Telescope:
    """A Newtonian whose focuser stands at an angle."""
    telescope = KIT.telescope()
    assert telescope.design is Design.NEWTONIAN
    return replace(telescope, focuser_angle_deg=focuser_deg)


def traced(focuser_deg: float, altitude_deg: float, off: tuple[float, float]) -> float:
    """Where a star ``off`` (right, up; radians) stands for an upright head, degrees from right.

    A ray down the tube, one reflection at the flat, and an eye that looks into the focuser and
    keeps its head as upright as it can: vectors only.
    """
    f, h = radians(focuser_deg), radians(altitude_deg)
    tube = np.array([0.0, cos(h), sin(h)])  # x right, y away, z up
    right, up = np.array([1.0, 0.0, 0.0]), np.array([0.0, -sin(h), cos(h)])
    out = cos(f) * right + sin(f) * up  # towards the eye
    # The ray of a star at tube + off that meets the middle of the primary and comes back.
    ray = tube - off[0] * right - off[1] * up
    normal = (out - tube) / np.linalg.norm(out - tube)  # of the flat: turns the tube's way to out
    ray = ray - 2.0 * (ray @ normal) * normal
    assert np.allclose(tube - 2.0 * (tube @ normal) * normal, out)
    # It ends on the star's image; through the middle of the eyepiece light leaves from there.
    seen = 2.0 * out * (ray @ out) - ray
    looking = -out
    top = np.array([0.0, 0.0, 1.0]) - looking * looking[2]
    top = top / np.linalg.norm(top)
    side = np.cross(looking, top)
    towards = -seen  # the eye sees the star whence its light comes
    return degrees(atan2(towards @ top, towards @ side))


def test_newtonian_turn_agrees_with_rays_traced_through_the_flat() -> None:
    """200 random focusers, heights and stars, to a thousandth of a degree."""
    random = np.random.default_rng(11)
    for _ in range(200):
        focuser, height = random.uniform(-180.0, 180.0), random.uniform(5.0, 85.0)
        angle = random.uniform(0.0, 2.0 * np.pi)
        off = (1e-4 * cos(angle), 1e-4 * sin(angle))
        x, y = telescope_turn(newtonian(focuser), height).seen(*off)
        apart = degrees(atan2(y, x)) - traced(focuser, height, off)
        assert abs((apart + 180.0) % 360.0 - 180.0) < 1e-3


@pytest.mark.parametrize(
    ("turn", "words"),
    [
        (telescope_turn(newtonian(None), 40.0), "not known"),
        (telescope_turn(newtonian(90.0), 40.0), "turned by 180°, not mirrored"),
        (telescope_turn(newtonian(0.0), 40.0), "turned 140° clockwise, not mirrored"),
        (IMAGE_TURNS["mirrored"], "left and right swapped"),
        (IMAGE_TURNS["upright"], "upright"),
    ],
)
def test_the_words_under_a_circle_say_its_sense(turn: Turn, words: str) -> None:
    """Or that the turn is not known."""
    assert words in turn_words(Window("telescope", 1.0, 50.0, 10.0, turn))
